// Pages to print that say how to test a swatch, each with a drawing and blanks to fill in.
#pragma once

#include <string>
#include <vector>

namespace totebench::viz {

// "mass" (with thickness), "overhang", "droop", "loop", "stretch", "gap".
[[nodiscard]] const std::vector<std::string>& worksheet_names();

// One page as SVG, A4, or Letter where `units` is "in". Throws std::invalid_argument for a name
// that is none of worksheet_names().
[[nodiscard]] std::string worksheet_svg(const std::string& name, const std::string& units);

}  // namespace totebench::viz
