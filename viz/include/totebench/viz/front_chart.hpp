// A trade-off as SVG text: what things cost against what they do, one mark a thing, those that no
// other beats in both joined by a stair. Legible in print and without colour, like the other charts
// (totebench/viz/svg_chart.hpp).
#pragma once

#include <string>
#include <vector>

namespace totebench::viz {

enum class FrontMark {
  kMisses,  // beyond another limit
  kBeaten,  // within the other limits, and something is better in both
  kFront,
  kChosen  // on the front as well
};

struct FrontPoint {
  double x = 0;
  double y = 0;
  FrontMark mark = FrontMark::kBeaten;
  std::string label;  // short
};

struct FrontChart {
  std::string title;
  std::string x_title;
  std::string y_title;
  double y_limit = 0;       // the most allowed; NaN = no limit
  std::string limit_label;  // "limit 7 mm"
  std::string misses_text;  // what the marks beyond another limit are, for the legend
  std::vector<FrontPoint> points;
  bool y_inches = false;                                 // told as a ruler has them
  std::string front_text = "no build beats it in both";  // for the legend, as the next
  std::string beaten_text = "beaten in both";
};
[[nodiscard]] std::string front_chart_svg(const FrontChart& chart);

}  // namespace totebench::viz
