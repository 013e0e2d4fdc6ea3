#include "app/demand_text.hpp"

#include "viz/unit_text.hpp"

namespace totebench {

std::string demand_text(double value, const std::string& unit, const std::string& units) {
  if (unit == "N") return force_text(value, units);
  if (unit == "N/m") return line_force_text(value, units);
  return stress_text(value, units);
}

}  // namespace totebench
