// A demand on a part, its capacity and the grade of that, or a move of a figure, as a person reads
// it.
#pragma once

#include <string>

#include "totebench/scenes/units.hpp"

namespace totebench::app {

// `unit` is that of Utilisation: "N" and "N/m" are shown in `units`, "Pa" as MPa.
[[nodiscard]] std::string demand_text(double value, const std::string& unit,
                                      const std::string& units);
// "published", or the grade as it is called in the library.
[[nodiscard]] std::string short_grade(const std::string& grade);

// "+3/8 in", "-4.0 mm", or "under 1/32 in more" where that is all a ruler shows.
[[nodiscard]] std::string move_text(double move_SI, scenes::Dimension dimension,
                                    const std::string& units);

}  // namespace totebench::app
