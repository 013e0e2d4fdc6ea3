// A demand on a part, or its capacity and the grade of that, as a person reads it.
#pragma once

#include <string>

namespace totebench::app {

// `unit` is that of Utilisation: "N" and "N/m" are shown in `units`, "Pa" as MPa.
[[nodiscard]] std::string demand_text(double value, const std::string& unit,
                                      const std::string& units);
// "published", or the grade as it is called in the library.
[[nodiscard]] std::string short_grade(const std::string& grade);

}  // namespace totebench::app
