#include "totebench/viz/cutlist_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace totebench::viz {
namespace {

constexpr double kPieceMargin = 15, kPieceGap = 14, kLabel = 5, kLine = 7;  // mm
constexpr Rgb kCutInk = 0x222225, kSewInk = 0x9c3d1e, kGrainInk = 0x4c4c52, kClothFill = 0xfaf7f0;

// Pieces cut to one outline on one grain are drawn once, with the words of each below.
struct Placed {
  std::vector<const scenes::CutPiece*> pieces;
  double x = 0, y = 0, width = 0, height = 0;  // mm, of the cut outline
  [[nodiscard]] double words_height() const {
    return kLine * static_cast<double>(2 * pieces.size() + 1);
  }
};

bool cut_alike(const scenes::CutPiece& a, const scenes::CutPiece& b) {
  return a.cut_m == b.cut_m && a.sewn_m == b.sewn_m && a.has_grain == b.has_grain &&
         a.grain_rad == b.grain_rad;
}

std::vector<Mm> on_sheet(const std::vector<Eigen::Vector2d>& outline, const Eigen::Vector2d& low_m,
                         const Placed& at) {
  std::vector<Mm> run;
  run.reserve(outline.size());
  for (const Eigen::Vector2d& p : outline) {
    run.push_back({at.x + 1e3 * (p.x() - low_m.x()), at.y + at.height - 1e3 * (p.y() - low_m.y())});
  }
  return run;
}

std::string piece_words(const scenes::CutPiece& piece) {
  return fmt::format("{} x {}", piece.count, piece.name);
}

double label_width(const Placed& at) {
  double width = 40;
  for (const scenes::CutPiece* piece : at.pieces) {
    const MmBox box = box_of(FlatWords{{0, 0}, piece_words(*piece), kLabel});
    width = std::max(width, box.high.x);
  }
  return width;
}

std::vector<Placed> outlines(const std::vector<scenes::CutPiece>& pieces) {
  std::vector<Placed> drawn;
  for (const scenes::CutPiece& piece : pieces) {
    const auto alike = std::find_if(drawn.begin(), drawn.end(), [&](const Placed& other) {
      return cut_alike(*other.pieces.front(), piece);
    });
    if (alike != drawn.end()) {
      alike->pieces.push_back(&piece);
    } else {
      drawn.push_back({{&piece}, 0, 0, 1e3 * piece.width_m(), 1e3 * piece.height_m()});
    }
  }
  std::stable_sort(drawn.begin(), drawn.end(),
                   [](const Placed& a, const Placed& b) { return a.height > b.height; });
  return drawn;
}

// Returns the y below the last row.
double place_in_rows(double strip_mm, double top_mm, std::vector<Placed>& drawn) {
  double x = kPieceMargin, y = top_mm, tallest = 0;
  for (Placed& at : drawn) {
    const double room = std::max(at.width, label_width(at));
    if (x > kPieceMargin && x + room > strip_mm - kPieceMargin) {
      y += tallest + kPieceGap;
      x = kPieceMargin;
      tallest = 0;
    }
    at.x = x;
    at.y = y;
    x += room + kPieceGap;
    tallest = std::max(tallest, at.height + at.words_height());
  }
  return y + tallest + kPieceGap;
}

// An arrow along the warp through the middle, where there is room for one.
void add_grain(const Placed& at, FlatDrawing& drawing) {
  const double reach = 0.3 * std::min(at.width, at.height);
  if (reach <= 4) return;
  const double ux = std::cos(at.pieces.front()->grain_rad),
               uy = -std::sin(at.pieces.front()->grain_rad);
  const double x = at.x + 0.5 * at.width, y = at.y + 0.5 * at.height;
  const Mm tail{x - reach * ux, y - reach * uy}, tip{x + reach * ux, y + reach * uy};
  const Mm left{tip.x - 5 * ux + 2.5 * uy, tip.y - 5 * uy - 2.5 * ux};
  const Mm right{tip.x - 5 * ux - 2.5 * uy, tip.y - 5 * uy + 2.5 * ux};
  drawing.paths.push_back(
      {"grain", {{tail, tip}, {left, tip, right}}, false, 0.6, {}, kGrainInk, {}});
}

// A tick at each notch and the name of its mark within.
void add_notches(const Placed& at, const Eigen::Vector2d& low_m, FlatDrawing& drawing) {
  constexpr double kInside_mm = 3, kLetters = 3;
  for (const scenes::Notch& notch : at.pieces.front()->notches) {
    const std::vector<Mm> line = on_sheet(notch.line_m, low_m, at);
    drawing.paths.push_back({"notch", {line}, false, 0.5, {}, kCutInk, {}});
    const double dx = line[1].x - line[0].x, dy = line[1].y - line[0].y;
    const double length = std::hypot(dx, dy);
    FlatWords words;
    words.text = notch.mark;
    words.size_mm = kLetters;
    words.at = {line[1].x + kInside_mm * dx / length,
                line[1].y + kInside_mm * dy / length + 0.4 * kLetters};
    words.anchor = std::abs(dx) < std::abs(dy) ? 0 : (dx > 0 ? -1 : 1);
    drawing.words.push_back(words);
  }
}

// The length of every straight edge, written along the inside of it; arcs are runs of short edges.
void add_edge_lengths(const Placed& at, const std::vector<Mm>& outline, const std::string& units,
                      FlatDrawing& drawing) {
  constexpr double kShortest_mm = 15, kInside_mm = 1.6, kLetters = 3.5;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    const Mm &a = outline[i], &b = outline[(i + 1) % outline.size()];
    const double dx = b.x - a.x, dy = b.y - a.y, length = std::hypot(dx, dy);
    if (length < kShortest_mm) continue;
    // Outlines run counter-clockwise on paper with y up: the inside is on the left, here with y
    // down at (dy, -dx).
    const double nx = dy / length, ny = -dx / length;
    const bool upright = std::abs(dy) > std::abs(dx);
    FlatWords words;
    words.text = ruler_text(1e-3 * length, units);
    words.size_mm = kLetters;
    words.at = {a.x + 0.5 * dx + kInside_mm * nx, a.y + 0.5 * dy + kInside_mm * ny};
    if (upright) {
      words.anchor = nx > 0 ? -1 : 1;
      words.at.y += 0.4 * kLetters;
    } else {
      words.anchor = 0;
      if (ny > 0) words.at.y += 0.8 * kLetters;
    }
    const MmBox box = box_of(words);  // too narrow a piece says its size below
    const bool fits = box.low.x >= at.x && box.high.x <= at.x + at.width && box.low.y >= at.y - 1 &&
                      box.high.y <= at.y + at.height + 1;
    if (fits) drawing.words.push_back(words);
  }
}

}  // namespace

std::string ruler_text(double length_m, const std::string& units) {
  if (units != "in") return fmt::format("{:.2f} cm", 100 * length_m);
  const double inches = length_m / 0.0254;
  const long sixteenths = std::lround(16 * inches);
  if (std::abs(length_m - 0.0254 * static_cast<double>(sixteenths) / 16) > 0.05e-3) {
    return fmt::format("{:.3f} in", inches);
  }
  const long whole = sixteenths / 16;
  long above = sixteenths % 16, below = 16;
  while (above > 0 && above % 2 == 0) {
    above /= 2;
    below /= 2;
  }
  if (above == 0) return fmt::format("{} in", whole);
  return whole == 0 ? fmt::format("{}/{} in", above, below)
                    : fmt::format("{} {}/{} in", whole, above, below);
}

FlatDrawing cutlist_drawing(const std::vector<scenes::CutPiece>& pieces,
                            const materials::MaterialLibrary& library, const std::string& units,
                            double width_m) {
  const bool inch = units == "in";
  const double square = inch ? 101.6 : 100;
  FlatDrawing drawing;
  drawing.title = "Pieces to cut, true to scale";
  drawing.width_mm = 1e3 * width_m;
  std::vector<Placed> drawn = outlines(pieces);
  for (const Placed& at : drawn) {
    drawing.width_mm =
        std::max(drawing.width_mm, 2 * kPieceMargin + std::max(at.width, label_width(at)));
  }
  drawing.height_mm = place_in_rows(drawing.width_mm, kPieceMargin + square + kPieceGap, drawn);
  const auto words = [&](double x, double y, const std::string& text, double size,
                         bool bold = false) {
    drawing.words.push_back({{x, y}, text, size, bold});
  };
  drawing.paths.push_back(
      flat_rectangle("test-square", {kPieceMargin, kPieceMargin}, square, square));
  words(kPieceMargin + 5, kPieceMargin + 12, inch ? "4 in by 4 in" : "10 cm by 10 cm", kLabel,
        true);
  words(kPieceMargin + 5, kPieceMargin + 20, "Measure this square before cutting:", 4);
  words(kPieceMargin + 5, kPieceMargin + 26, "print at 100 %, not fitted to a page.", 4);
  words(kPieceMargin + 5, kPieceMargin + 38, "full line: cut      dashed: sew", 4);
  words(kPieceMargin + 5, kPieceMargin + 44, "arrow: along the warp", 4);
  const bool notched = std::any_of(pieces.begin(), pieces.end(), [](const scenes::CutPiece& piece) {
    return !piece.notches.empty();
  });
  if (notched) words(kPieceMargin + 5, kPieceMargin + 50, "short line: notch", 4);
  for (const Placed& at : drawn) {
    const scenes::CutPiece& piece = *at.pieces.front();
    Eigen::Vector2d low = piece.cut_m.front();
    for (const Eigen::Vector2d& p : piece.cut_m) low = low.cwiseMin(p);
    drawing.paths.push_back(
        {"cut", {on_sheet(piece.cut_m, low, at)}, true, 0.5, {}, kCutInk, kClothFill});
    if (!piece.sewn_m.empty()) {
      drawing.paths.push_back(
          {"sew", {on_sheet(piece.sewn_m, low, at)}, true, 0.4, {4, 2.5}, kSewInk, {}});
    }
    add_notches(at, low, drawing);
    if (piece.has_grain) add_grain(at, drawing);
    add_edge_lengths(at, on_sheet(piece.cut_m, low, at), units, drawing);
    double y = at.y + at.height + kLine;
    for (const scenes::CutPiece* each : at.pieces) {
      const materials::Material* material = library.find(each->material);
      words(at.x, y, piece_words(*each), kLabel, true);
      words(at.x, y + kLine - 1.5, material == nullptr ? each->material : material->name, 4);
      y += 2 * kLine;
    }
    words(at.x, y - 1.5,
          fmt::format("{} by {}{}", ruler_text(piece.width_m(), units),
                      ruler_text(piece.height_m(), units),
                      piece.round_corners ? ", " + piece.note : ""),
          4);
  }
  return drawing;
}

}  // namespace totebench::viz
