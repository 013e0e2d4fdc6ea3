// Charts as SVG text that stands inside a page or in a file of its own: no script, no font file,
// legible in print and without colour (values are written beside the marks).
#pragma once

#include <string>
#include <vector>

namespace totebench::viz {

struct BarGroup {
  std::string label;
  std::vector<double> values;  // one a series; NaN = no value
};

struct BarChart {
  std::string title;
  std::string unit;  // of "in" lengths are told as a ruler has them
  std::vector<std::string> series;
  std::vector<BarGroup> groups;
};
// Horizontal bars, one group a label.
[[nodiscard]] std::string bar_chart_svg(const BarChart& chart);

struct Line {
  std::string label;
  std::vector<double> x, y;
};

struct LineChart {
  std::string title;
  std::string x_title;
  std::string y_title;
  std::vector<Line> lines;
  bool x_inches = false;  // told as a ruler has them
  bool y_inches = false;
};
[[nodiscard]] std::string line_chart_svg(const LineChart& chart);

// For text and attribute values in XML and HTML.
[[nodiscard]] std::string escaped(const std::string& text);

}  // namespace totebench::viz
