#include "totebench/viz/print_tiles.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <set>
#include <stdexcept>
#include <utility>

namespace totebench::viz {
namespace {

constexpr double kDiamond_mm = 4;  // half its width
constexpr double kLabel_mm = 3;
constexpr double kBlockLine_mm = 14;   // lines further apart do not belong together
constexpr double kWordsMargin_mm = 1;  // from words that were moved to the line
constexpr double kHair_mm = 0.2;
constexpr Rgb kFaintInk = 0x6b6b73, kGuideInk = 0x1f5a96, kLeftOutFill = 0xe4e4e8;

// The cells of the drawing, each as large as the frame of a page, as far as it has any ink.
struct TileGrid {
  double width_mm, height_mm;  // of a tile
  int rows, columns;
  std::vector<bool> printed;
  [[nodiscard]] bool is_printed(int row, int column) const {
    return row >= 1 && row <= rows && column >= 1 && column <= columns &&
           printed[(row - 1) * columns + column - 1];
  }
  [[nodiscard]] Mm corner(int row, int column) const {
    return {(column - 1) * width_mm, (row - 1) * height_mm};
  }
};

// What a page shows inside its frame.
Mm tile_size(const Paper& paper) {
  return {paper.width_mm - 2 * kPaperMargin_mm - kOverlap_mm,
          paper.height_mm - kPaperMargin_mm - kFootMargin_mm - kOverlap_mm};
}

TileGrid tile_grid(const FlatDrawing& drawing, const Paper& paper) {
  TileGrid grid{};
  grid.width_mm = tile_size(paper).x;
  grid.height_mm = tile_size(paper).y;
  if (grid.width_mm <= kOverlap_mm || grid.height_mm <= kOverlap_mm) {
    throw std::invalid_argument("the paper is too small to print on");
  }
  const int rows = static_cast<int>(std::ceil(drawing.height_mm / grid.height_mm));
  const int columns = static_cast<int>(std::ceil(drawing.width_mm / grid.width_mm));
  std::set<std::pair<int, int>> inked;  // row and column
  for (int row = 1; row <= rows; ++row) {
    for (int column = 1; column <= columns; ++column) {
      const Mm low = grid.corner(row, column);
      if (!has_ink(drawing, {low, {low.x + grid.width_mm, low.y + grid.height_mm}})) continue;
      inked.emplace(row, column);
      grid.rows = std::max(grid.rows, row);
      grid.columns = std::max(grid.columns, column);
    }
  }
  for (int row = 1; row <= grid.rows; ++row) {
    for (int column = 1; column <= grid.columns; ++column) {
      grid.printed.push_back(inked.contains({row, column}));
    }
  }
  return grid;
}

std::string label(int row, int column) { return fmt::format("{}/{}", row, column); }

// A diamond on the border of two tiles, with the name of each on its own side.
void add_mark(const Mm& at, bool upright, const std::string& before, const std::string& after,
              FlatDrawing& own) {
  const double d = kDiamond_mm;
  FlatPath diamond;
  diamond.role = "mark";
  diamond.runs = {{{at.x - d, at.y}, {at.x, at.y - d}, {at.x + d, at.y}, {at.x, at.y + d}}};
  diamond.closed = true;
  diamond.width_mm = 0.3;
  diamond.ink = kGuideInk;
  own.paths.push_back(diamond);
  const double away = upright ? d + 0.8 : 1.2;
  const auto words = [&](Mm place, const std::string& text, int anchor) {
    own.words.push_back({place, text, kLabel_mm, false, anchor, kGuideInk});
  };
  if (upright) {
    words({at.x - 1.2, at.y - away}, before, 1);
    words({at.x + 1.2, at.y - away}, after, -1);
  } else {
    words({at.x + d + 0.8, at.y - away}, before, -1);
    words({at.x + d + 0.8, at.y + away + 0.75 * kLabel_mm}, after, -1);
  }
}

PrintPage tile_page(const TileGrid& grid, int row, int column, const Paper& paper,
                    const std::string& name) {
  PrintPage page{paper.width_mm,
                 paper.height_mm,
                 grid.corner(row, column),
                 {kPaperMargin_mm, kPaperMargin_mm}};
  page.shown_width_mm = grid.width_mm + kOverlap_mm;
  page.shown_height_mm = grid.height_mm + kOverlap_mm;
  page.row = row;
  page.column = column;
  FlatPath frame = flat_rectangle("frame", page.at, grid.width_mm, grid.height_mm);
  frame.width_mm = kHair_mm;
  frame.ink = kGuideInk;
  page.own.paths.push_back(frame);
  const double left = page.at.x, right = left + grid.width_mm;
  const double top = page.at.y, low = top + grid.height_mm;
  const double mid_x = 0.5 * (left + right), mid_y = 0.5 * (top + low);
  const std::string here = label(row, column);
  const auto mark = [&](int other_row, int other_column, const Mm& at, bool upright, bool first) {
    if (!grid.is_printed(other_row, other_column)) return;
    const std::string other = label(other_row, other_column);
    add_mark(at, upright, first ? here : other, first ? other : here, page.own);
  };
  mark(row, column + 1, {right, mid_y}, true, true);
  mark(row, column - 1, {left, mid_y}, true, false);
  mark(row + 1, column, {mid_x, low}, false, true);
  mark(row - 1, column, {mid_x, top}, false, false);
  const double foot = paper.height_mm - 6;
  page.own.words.push_back(
      {{left, foot},
       fmt::format("row {} of {}, column {} of {}", row, grid.rows, column, grid.columns),
       4,
       true,
       -1});
  page.own.words.push_back({{left + page.shown_width_mm, foot}, name, 3.2, false, 1, kFaintInk});
  return page;
}

PrintPage overview_page(const TileGrid& grid, const Paper& paper, const std::string& name) {
  PrintPage page{paper.width_mm, paper.height_mm, {0, 0}, {kPaperMargin_mm, 0}};
  const double room = paper.width_mm - 2 * kPaperMargin_mm;
  double y = kPaperMargin_mm + 6;
  page.own.words.push_back({{kPaperMargin_mm, y}, name, 5.5, true});
  const auto n = std::count(grid.printed.begin(), grid.printed.end(), true);
  y += 3;
  for (const std::string& line :
       {fmt::format(
            "{} pages to print at 100 % (actual size, not fitted to the page), on {} paper.", n,
            paper.name),
        std::string("First print the page of row 1, column 1 and measure its test square."),
        std::string("Cut each page along the left and the upper line of its frame, lay it on the"),
        fmt::format("{:g} mm beyond the frame of the page before, diamond on diamond, and glue.",
                    kOverlap_mm),
        std::string("Numbers are row / column.") +
            (n < grid.rows * grid.columns ? " Grey tiles are empty and not printed." : "")}) {
    page.own.words.push_back({{kPaperMargin_mm, y += 5.2}, line, 3.6});
  }
  page.at.y = y + 6;
  const double high = paper.height_mm - kFootMargin_mm - page.at.y;
  const double width = grid.columns * grid.width_mm, height = grid.rows * grid.height_mm;
  page.scale = std::min({1.0, room / width, high / height});
  page.shown_width_mm = page.scale * width;
  page.shown_height_mm = page.scale * height;
  const double cell_w = page.scale * grid.width_mm, cell_h = page.scale * grid.height_mm;
  const double size = std::min({5.0, 0.3 * cell_h, 0.3 * cell_w});
  for (int row = 1; row <= grid.rows; ++row) {
    for (int column = 1; column <= grid.columns; ++column) {
      const Mm corner = page.on_page(grid.corner(row, column));
      const bool printed = grid.is_printed(row, column);
      FlatPath cell = flat_rectangle("tile", corner, cell_w, cell_h);
      cell.width_mm = kHair_mm;
      cell.ink = kGuideInk;
      if (!printed) cell.fill = kLeftOutFill;
      page.own.paths.push_back(cell);
      if (!printed) continue;
      page.own.words.push_back({{corner.x + 0.5 * cell_w, corner.y + 0.5 * cell_h + 0.36 * size},
                                label(row, column),
                                size,
                                true,
                                0,
                                kGuideInk});
    }
  }
  page.own.words.push_back(
      {{kPaperMargin_mm, paper.height_mm - 6}, "overview, not to scale", 4, true});
  return page;
}

bool overlap(const MmBox& a, const MmBox& b) {
  return a.low.x < b.high.x && a.high.x > b.low.x && a.low.y < b.high.y && a.high.y > b.low.y;
}

MmBox moved(const MmBox& box, const Mm& by) {
  return {{box.low.x + by.x, box.low.y + by.y}, {box.high.x + by.x, box.high.y + by.y}};
}

// One past the last of the lines that stand below one another from `first` on.
std::size_t end_of_block(const std::vector<FlatWords>& words, std::size_t first) {
  std::size_t end = first + 1;
  for (; end < words.size(); ++end) {
    const double down = words[end].at.y - words[end - 1].at.y;
    if (words[end].anchor != words[first].anchor || words[end].at.x != words[first].at.x ||
        down <= 0 || down > kBlockLine_mm) {
      break;
    }
  }
  return end;
}

// Back and forth by how much a stretch leaves the tile it begins in; nothing where it lies in one
// or fits into none.
std::vector<double> ways_off_a_line(double low, double high, double tile) {
  const double line = (std::floor(low / tile) + 1) * tile;
  if (high <= line || high - low > tile - 2 * kWordsMargin_mm) return {0};
  return {line - kWordsMargin_mm - high, line + kWordsMargin_mm - low};
}

// Whether the segment from `a` to `b` meets the box [LiangBarsky1984].
bool meets(const Mm& a, const Mm& b, const MmBox& box) {
  double from = 0, to = 1;
  const auto clip = [&](double start, double way, double low, double high) {
    if (way == 0) return start >= low && start <= high;
    const double t0 = (low - start) / way, t1 = (high - start) / way;
    from = std::max(from, std::min(t0, t1));
    to = std::min(to, std::max(t0, t1));
    return from <= to;
  };
  return clip(a.x, b.x - a.x, box.low.x, box.high.x) && clip(a.y, b.y - a.y, box.low.y, box.high.y);
}

bool inside(const std::vector<Mm>& outline, const Mm& p) {
  bool in = false;
  for (std::size_t i = 0, j = outline.size() - 1; i < outline.size(); j = i++) {
    const Mm &a = outline[i], &b = outline[j];
    if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y)) in = !in;
  }
  return in;
}

}  // namespace

Paper paper_named(const std::string& name) {
  if (name == "a4") return {"A4", 210, 297};
  if (name == "letter") return {"US letter", 215.9, 279.4};
  throw std::invalid_argument("paper is a4 or letter, not " + name);
}

bool has_ink(const FlatDrawing& drawing, const MmBox& box) {
  for (const FlatPath& path : drawing.paths) {
    const double half = 0.5 * path.width_mm;
    const MmBox wide{{box.low.x - half, box.low.y - half}, {box.high.x + half, box.high.y + half}};
    for (const std::vector<Mm>& run : path.runs) {
      const std::size_t n = run.size();
      for (std::size_t i = 0; i + (path.closed ? 0 : 1) < n; ++i) {
        if (meets(run[i], run[(i + 1) % n], wide)) return true;
      }
      if (path.fill && inside(run, box.low)) return true;
    }
  }
  return std::any_of(drawing.words.begin(), drawing.words.end(),
                     [&](const FlatWords& words) { return overlap(box_of(words), box); });
}

FlatDrawing with_whole_words(FlatDrawing drawing, const Paper& paper) {
  const Mm tile = tile_size(paper);
  std::vector<FlatWords>& words = drawing.words;
  for (std::size_t first = 0, end = 0; first < words.size(); first = end) {
    end = end_of_block(words, first);
    MmBox block = box_of(words[first]);
    for (std::size_t i = first; i < end; ++i) {
      const MmBox line = box_of(words[i]);
      block.low = {std::min(block.low.x, line.low.x), std::min(block.low.y, line.low.y)};
      block.high = {std::max(block.high.x, line.high.x), std::max(block.high.y, line.high.y)};
    }
    std::vector<double> across = ways_off_a_line(block.low.x, block.high.x, tile.x);
    std::sort(across.begin(), across.end(),
              [](double a, double b) { return std::abs(a) < std::abs(b); });
    std::optional<Mm> by;
    for (const double y : ways_off_a_line(block.low.y, block.high.y, tile.y)) {
      for (const double x : across) {
        const MmBox there = moved(block, {x, y});
        bool free = there.low.x >= 0 && there.low.y >= 0 && there.high.x <= drawing.width_mm &&
                    there.high.y <= drawing.height_mm;
        for (std::size_t i = 0; i < words.size(); ++i) {
          free = free && ((i >= first && i < end) || !overlap(box_of(words[i]), there));
        }
        if (free && !by) by = Mm{x, y};
      }
    }
    for (std::size_t i = first; by && i < end; ++i) {
      words[i].at = {words[i].at.x + by->x, words[i].at.y + by->y};
    }
  }
  return drawing;
}

std::vector<PrintPage> print_pages(const FlatDrawing& drawing, const Paper& paper,
                                   const std::string& name) {
  const TileGrid grid = tile_grid(drawing, paper);
  std::vector<PrintPage> pages{overview_page(grid, paper, name)};
  for (int row = 1; row <= grid.rows; ++row) {
    for (int column = 1; column <= grid.columns; ++column) {
      if (grid.is_printed(row, column)) pages.push_back(tile_page(grid, row, column, paper, name));
    }
  }
  return pages;
}

std::string svg_text(const FlatDrawing& drawing, const PrintPage& page) {
  return fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0}mm\" height=\"{1}mm\" "
      "viewBox=\"0 0 {0} {1}\" font-family=\"'DejaVu Sans', Verdana, sans-serif\">\n"
      "<svg x=\"{2:.3f}\" y=\"{3:.3f}\" width=\"{4:.3f}\" height=\"{5:.3f}\" "
      "viewBox=\"{6:.3f} {7:.3f} {8:.3f} {9:.3f}\" overflow=\"hidden\">\n{10}</svg>\n{11}</svg>\n",
      page.width_mm, page.height_mm, page.at.x, page.at.y, page.shown_width_mm,
      page.shown_height_mm, page.from.x, page.from.y, page.shown_width_mm / page.scale,
      page.shown_height_mm / page.scale, svg_elements(drawing), svg_elements(page.own));
}

}  // namespace totebench::viz
