// A drawing larger than a sheet of paper, cut into pages that are printed true to scale and glued.
//
// Tiles of the drawing lie in rows and columns, counted from 1. A page shows its tile inside a
// frame and, beyond the frame's right and lower line, the first kOverlap_mm of the tiles there, to
// glue on. Where two printed tiles meet, both pages carry the same diamond. Tiles with nothing on
// them are left out. The first page is an overview: the whole drawing, small, with the tiles on it.
#pragma once

#include <string>
#include <vector>

#include "totebench/viz/flat_drawing.hpp"

namespace totebench::viz {

struct Paper {
  std::string name;
  double width_mm, height_mm;
};
// "a4" (ISO 216) or "letter" (8 1/2 by 11 in). Throws std::invalid_argument for others.
[[nodiscard]] Paper paper_named(const std::string& name);

inline constexpr double kPaperMargin_mm = 10;  // most printers leave 4 to 6 mm blank
inline constexpr double kFootMargin_mm = 14;   // below, with a line of words in it
inline constexpr double kOverlap_mm = 10;

// One page: a part of the drawing, and what only the page has.
struct PrintPage {
  double width_mm = 0, height_mm = 0;  // of the paper
  // The drawing's point `from` lies at `at` on the page, everything `scale` times as large; seen
  // through a window of shown_width_mm by shown_height_mm of the page.
  Mm from, at;
  double shown_width_mm = 0, shown_height_mm = 0;
  double scale = 1;
  int row = 0, column = 0;  // of the tile; 0 on the overview
  FlatDrawing own{};        // in millimetres of the page
  [[nodiscard]] Mm on_page(const Mm& p) const {
    return {at.x + scale * (p.x - from.x), at.y + scale * (p.y - from.y)};
  }
};

// The drawing with its words moved off the lines between tiles, so that a page shows them whole.
// Lines written below one another from one left edge, a title and what follows it, stay together.
// They go left or right by the least, and upwards before downwards (what they name stands above
// them); where either way would lie on other words, or a tile is too small, they stay.
[[nodiscard]] FlatDrawing with_whole_words(FlatDrawing drawing, const Paper& paper);

// Throws std::invalid_argument when the paper has no room between its margins.
[[nodiscard]] std::vector<PrintPage> print_pages(const FlatDrawing& drawing, const Paper& paper,
                                                 const std::string& name);

// A page as SVG whose unit is the millimetre: what a browser prints true to scale.
[[nodiscard]] std::string svg_text(const FlatDrawing& drawing, const PrintPage& page);

// Whether any ink of the drawing lies within the box: words, a line, or the inside of a filled
// path.
[[nodiscard]] bool has_ink(const FlatDrawing& drawing, const MmBox& box);

}  // namespace totebench::viz
