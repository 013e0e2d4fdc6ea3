// A page to print, as SVG text in millimetres: lines, words, dimensions, tables with blanks.
#pragma once

#include <string>
#include <vector>

#include "totebench/viz/flat_drawing.hpp"

namespace totebench::viz {

enum class Pen { kThin, kDashed, kThick };

class SvgPage {
 public:
  SvgPage(double width_mm, double height_mm, const std::string& title);

  void line(Mm from, Mm to, Pen pen = Pen::kThin);
  // `path` is SVG path data; `fill` a colour, "none" for an open curve.
  void path(const std::string& path, Pen pen, const std::string& fill = "none");
  // Anchor: -1 begins at the place, 0 is centred on it, 1 ends there.
  void words(Mm at, const std::string& text, double size_mm = 4, int anchor = -1, bool bold = false,
             bool typed = false);
  // Lines broken at blanks to the width; returns the y below the last one.
  double paragraph(Mm at, double width_mm, const std::string& text, double size_mm = 4);
  // Two arrow heads and words beside the middle of the line (above a level one).
  void dimension(Mm from, Mm to, const std::string& text);
  // A ruled table: the first row and column are filled in, the rest is left to write in. Returns
  // the y below it.
  double blanks(Mm at, const std::vector<std::string>& heads, const std::vector<std::string>& rows,
                double first_mm, double column_mm);

  [[nodiscard]] std::string svg() const { return body_ + "</svg>\n"; }

 private:
  std::string body_;
};

}  // namespace totebench::viz
