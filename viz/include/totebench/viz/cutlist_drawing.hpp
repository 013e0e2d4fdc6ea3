// The pieces to cut, drawn true to scale: printed at 100 % the drawing is a pattern.
#pragma once

#include <string>
#include <vector>

#include "totebench/scenes/cutlist.hpp"
#include "totebench/viz/flat_drawing.hpp"

namespace totebench::viz {

// Cut lines full, sewing lines dashed, notches across them, arrows along the warp, a square of 4 in
// or 10 cm to check the scale with: paths of the roles "cut", "sew", "notch", "grain" and
// "test-square". Pieces of one outline on one grain are drawn once. They stand in rows on a strip
// `width_m` wide, or as wide as the widest.
[[nodiscard]] FlatDrawing cutlist_drawing(const std::vector<scenes::CutPiece>& pieces,
                                          const materials::MaterialLibrary& library,
                                          const std::string& units, double width_m = 1.1);

// A length as it is read off a ruler: inches in sixteenths where that is exact to 0.05 mm, else
// with decimals; otherwise centimetres to a tenth of a millimetre.
[[nodiscard]] std::string ruler_text(double length_m, const std::string& units);

}  // namespace totebench::viz
