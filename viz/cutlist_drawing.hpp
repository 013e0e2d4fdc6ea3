// The pieces to cut, drawn true to scale: printed at 100 % the drawing is a pattern.
#pragma once

#include <string>
#include <vector>

#include "scenes/cutlist.hpp"

namespace totebench {

// One SVG in millimetres: cut lines full, sewing lines dashed, arrows along the warp, a square to
// check the scale with. Pieces stand in rows on a strip `width_m` wide, or as wide as the widest.
[[nodiscard]] std::string cutlist_svg(const std::vector<CutPiece>& pieces,
                                      const MaterialLibrary& library, const std::string& units,
                                      double width_m = 1.1);

// A length as it is read off a ruler: inches in sixteenths where that is exact to 0.05 mm, else
// with decimals; otherwise centimetres to a tenth of a millimetre.
[[nodiscard]] std::string ruler_text(double length_m, const std::string& units);

}  // namespace totebench
