// Patterns on pages: what is printed is true to scale, complete, and fits together.
//
// Paper: A4 is 210 by 297 mm (ISO 216), US letter 8 1/2 by 11 in; a point of PDF is 1/72 in (ISO
// 32000-1, 8.3.2.3).
#include "totebench/viz/print_tiles.hpp"

#include <gtest/gtest.h>
#include <zlib.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>

#include "reader_fixture.hpp"
#include "totebench/viz/cutlist_drawing.hpp"
#include "totebench/viz/pdf_module.hpp"

namespace totebench {
namespace {

const viz::FlatPath& path_of(const viz::FlatDrawing& drawing, const std::string& role) {
  for (const viz::FlatPath& path : drawing.paths) {
    if (path.role == role) return path;
  }
  throw std::runtime_error("no " + role);
}

viz::FlatDrawing pattern(const std::string& units) {
  return viz::cutlist_drawing(scenes::cut_pieces(*test::read(test::kTote).scene, test::library()),
                              test::library(), units);
}

std::string bytes_of(const std::filesystem::path& file) {
  std::ostringstream text;
  text << std::ifstream(file, std::ios::binary).rdbuf();
  return text.str();
}

// What the compressed streams of a PDF hold, one after the other; other streams are left out.
std::string inflated(const std::string& pdf) {
  std::string all;
  for (std::size_t at = pdf.find("stream\n"); at != std::string::npos;
       at = pdf.find("stream\n", at + 1)) {
    std::string begin = pdf.substr(at + 7);
    std::string out(1 << 20, ' ');
    z_stream z{};
    z.next_in = reinterpret_cast<Bytef*>(begin.data());
    z.avail_in = static_cast<uInt>(begin.size());
    z.next_out = reinterpret_cast<Bytef*>(out.data());
    z.avail_out = static_cast<uInt>(out.size());
    if (inflateInit(&z) == Z_OK && inflate(&z, Z_FINISH) == Z_STREAM_END) {
      all.append(out, 0, z.total_out);
    }
    inflateEnd(&z);
  }
  return all;
}

// Tiles of A4 are 180 by 263 mm: 210 and 297 less margins of 10 (14 below) and 10 to glue on.
TEST(PrintTiles, ATitleAndWhatFollowsIt_LieOnOnePage) {
  const viz::Paper a4 = viz::paper_named("a4");
  viz::FlatDrawing drawing;
  drawing.width_mm = 500;
  drawing.height_mm = 500;
  drawing.words = {{{170, 100}, "1 x outer panel", 5, true},
                   {{170, 107}, "cotton duck", 4},
                   {{20, 262}, "2 x strap", 5, true},
                   {{20, 269}, "webbing", 4},
                   {{20, 20}, "left alone", 4}};
  const viz::FlatDrawing whole = viz::with_whole_words(drawing, a4);
  for (const viz::FlatWords& words : whole.words) {
    const viz::MmBox box = viz::box_of(words);
    EXPECT_EQ(std::floor(box.low.x / 180), std::floor(box.high.x / 180)) << words.text;
    EXPECT_EQ(std::floor(box.low.y / 263), std::floor(box.high.y / 263)) << words.text;
  }
  // To the right, which is nearer, and both lines together; upwards, both together.
  EXPECT_NEAR(whole.words[0].at.x, 181, 1e-9);
  EXPECT_NEAR(whole.words[1].at.x, 181, 1e-9);
  EXPECT_NEAR(whole.words[3].at.y, 263 - 1 - 0.3 * 4, 1e-9);
  EXPECT_NEAR(whole.words[3].at.y - whole.words[2].at.y, 7, 1e-9);
  EXPECT_EQ(whole.words[4].at.x, 20);
  EXPECT_EQ(whole.words[4].at.y, 20);
  // Not onto other words: to the left then, and downwards.
  drawing.words.push_back({{200, 100}, "in the way", 4});
  drawing.words.push_back({{20, 250}, "in the way", 4});
  drawing.words.push_back({{25, 256}, "in the way", 4});
  const viz::FlatDrawing round = viz::with_whole_words(drawing, a4);
  EXPECT_NEAR(viz::box_of(round.words[0]).high.x, 179, 1e-9);
  EXPECT_NEAR(viz::box_of(round.words[2]).low.y, 264, 1e-9);
}

TEST(PrintTiles, TheTestSquareIsWholeAndTrueOnTheFirstPage) {
  for (const auto& [units, paper, side] :
       {std::tuple{"in", "letter", 101.6}, {"cm", "a4", 100.0}, {"in", "a4", 101.6}}) {
    const viz::FlatDrawing drawing = pattern(units);
    const viz::PrintPage page = viz::print_pages(drawing, viz::paper_named(paper), "tote").at(1);
    EXPECT_EQ(page.row, 1);
    EXPECT_EQ(page.column, 1);
    const std::vector<viz::Mm>& square = path_of(drawing, "test-square").runs.front();
    const viz::Mm low = page.on_page(square[0]), high = page.on_page(square[2]);
    EXPECT_NEAR(high.x - low.x, side, 1e-9);
    EXPECT_NEAR(high.y - low.y, side, 1e-9);
    EXPECT_GT(low.x, page.at.x);
    EXPECT_GT(low.y, page.at.y);
    EXPECT_LT(high.x, page.at.x + page.shown_width_mm - viz::kOverlap_mm);
    EXPECT_LT(high.y, page.at.y + page.shown_height_mm - viz::kOverlap_mm);
  }
}

TEST(PrintTiles, EveryPlaceOfThePiecesIsInTheFrameOfExactlyOnePage) {
  for (const std::string paper : {"a4", "letter"}) {
    const viz::FlatDrawing drawing = pattern("cm");
    const std::vector<viz::PrintPage> pages =
        viz::print_pages(drawing, viz::paper_named(paper), "tote");
    const auto frames_over = [&](const viz::Mm& p) {
      int n = 0;
      for (const viz::PrintPage& page : pages) {
        if (page.row == 0) continue;
        const double u = p.x - page.from.x, v = p.y - page.from.y;
        if (u >= 0 && v >= 0 && u < page.shown_width_mm - viz::kOverlap_mm &&
            v < page.shown_height_mm - viz::kOverlap_mm) {
          ++n;
        }
      }
      return n;
    };
    int looked = 0;
    for (double x = 0.5; x < drawing.width_mm; x += 7) {
      for (double y = 0.5; y < drawing.height_mm; y += 7) {
        if (!viz::has_ink(drawing, {{x, y}, {x, y}})) continue;
        EXPECT_EQ(frames_over({x, y}), 1) << x << ", " << y;
        ++looked;
      }
    }
    EXPECT_GT(looked, 1000) << "places with ink";
    for (const viz::FlatPath& path : drawing.paths) {
      for (const viz::Mm& p : path.runs.front()) EXPECT_EQ(frames_over(p), 1) << path.role;
    }
  }
}

TEST(PrintTiles, PagesKeepTheirMarginsAndMeetWithTheirOverlap) {
  const viz::FlatDrawing drawing = pattern("in");
  const std::vector<viz::PrintPage> pages =
      viz::print_pages(drawing, viz::paper_named("letter"), "tote");
  for (std::size_t i = 1; i < pages.size(); ++i) {
    const viz::PrintPage& a = pages[i];
    EXPECT_EQ(a.scale, 1);
    EXPECT_GE(a.at.x, viz::kPaperMargin_mm);
    EXPECT_LE(a.at.x + a.shown_width_mm, 215.9 - viz::kPaperMargin_mm + 1e-9);
    EXPECT_LE(a.at.y + a.shown_height_mm, 279.4 - viz::kFootMargin_mm + 1e-9);
    const viz::PrintPage& b = pages[i + 1 < pages.size() ? i + 1 : i];
    if (b.row != a.row || b.column != a.column + 1) continue;
    EXPECT_NEAR(a.from.x + a.shown_width_mm - b.from.x, viz::kOverlap_mm, 1e-9);
    // The diamond between them lies on one place of the drawing on both.
    const auto marks = [](const viz::PrintPage& page) {
      std::vector<viz::Mm> places;
      for (const viz::FlatPath& path : page.own.paths) {
        if (path.role != "mark") continue;
        const std::vector<viz::Mm>& d = path.runs.front();
        places.push_back({0.5 * (d[0].x + d[2].x) - page.at.x + page.from.x,
                          0.5 * (d[1].y + d[3].y) - page.at.y + page.from.y});
      }
      return places;
    };
    int shared = 0;
    for (const viz::Mm& p : marks(a)) {
      for (const viz::Mm& q : marks(b)) shared += std::hypot(p.x - q.x, p.y - q.y) < 1e-9 ? 1 : 0;
    }
    EXPECT_EQ(shared, 1);
  }
}

TEST(PrintTiles, EmptyTilesAreLeftOut) {
  viz::FlatDrawing drawing;
  drawing.width_mm = 900;
  drawing.height_mm = 100;
  drawing.paths.push_back(viz::flat_rectangle("cut", {10, 10}, 20, 20));
  drawing.paths.push_back(viz::flat_rectangle("cut", {700, 10}, 190, 20));
  const std::vector<viz::PrintPage> pages =
      viz::print_pages(drawing, viz::paper_named("a4"), "two");
  std::vector<int> columns;
  columns.reserve(pages.size());
  for (const viz::PrintPage& page : pages) columns.push_back(page.column);
  EXPECT_EQ(columns, (std::vector{0, 1, 4, 5})) << "tiles are 180 mm wide";
  // The overview ends with the last tile that has ink.
  drawing.width_mm += 400;
  const viz::PrintPage overview = viz::print_pages(drawing, viz::paper_named("a4"), "two").front();
  EXPECT_NEAR(overview.shown_width_mm / overview.scale, 5 * 180, 1e-9);
  EXPECT_THROW((void)viz::paper_named("a5"), std::invalid_argument);
}

TEST(PrintTiles, ThePdfHasEveryPageAtItsSizeAndTheSquareInPoints) {
  std::string error;
  const viz::WritePdf write = viz::pdf_module(error);
  ASSERT_NE(write, nullptr) << error;
  const auto file = std::filesystem::temp_directory_path() / "totebench_print_tiles_test.pdf";
  for (const auto& [units, paper, media, square] :
       {std::tuple{"in", "letter", "0 0 612 792", " 288 288 re"},
        {"cm", "a4", "0 0 595.2755\\d* 841.8897\\d*", " 283.46\\d 283.46\\d re"}}) {
    const viz::FlatDrawing drawing = pattern(units);
    const std::vector<viz::PrintPage> pages =
        viz::print_pages(drawing, viz::paper_named(paper), "tote");
    ASSERT_EQ(write(drawing, pages, file.string()), "");
    const std::string pdf = bytes_of(file);
    const auto count = [](const std::string& text, const std::string& what) {
      const std::regex wanted(what);
      return std::distance(std::sregex_iterator(text.begin(), text.end(), wanted), {});
    };
    EXPECT_EQ(count(pdf, "/Type /Page[^s]"), static_cast<long>(pages.size()));
    EXPECT_EQ(count(pdf, "/MediaBox \\[ " + std::string(media) + " \\]"),
              static_cast<long>(pages.size()));
    EXPECT_EQ(count(inflated(pdf), square), 1) << "the square: 4 in is 288 points, 10 cm 283.46";
  }
  std::filesystem::remove(file);
  const viz::FlatDrawing drawing = pattern("in");
  EXPECT_NE(write(drawing, print_pages(drawing, viz::paper_named("a4"), ""), "/nowhere/x.pdf"), "");
}

}  // namespace
}  // namespace totebench
