// The drawings of the test pages, each in a field 180 mm wide and kDrawingHeight high.
#pragma once

#include <string>

#include "viz/charts/svg_page.hpp"

namespace totebench::viz {

inline constexpr double kDrawingHeight = 98;  // mm

// Draws the test `name` (as in worksheet_names) with its upper left corner at `at`. The slope of
// the overhang test is true to scale, to be traced on card.
void draw_test(SvgPage& page, const std::string& name, Mm at);

}  // namespace totebench::viz
