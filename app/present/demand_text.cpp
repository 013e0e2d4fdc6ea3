#include "app/present/demand_text.hpp"

#include "totebench/materials/library.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {

std::string demand_text(double value, const std::string& unit, const std::string& units) {
  if (unit == "N") return scenes::force_text(value, units);
  if (unit == "N/m") return scenes::line_force_text(value, units);
  return scenes::stress_text(value, units);
}

std::string short_grade(const std::string& grade) {
  return grade == materials::kGradeSeen ? "published" : grade;
}

}  // namespace totebench::app
