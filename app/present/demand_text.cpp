#include "app/present/demand_text.hpp"

#include <cmath>

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

std::string move_text(double move_SI, scenes::Dimension dimension, const std::string& units) {
  const std::string text = scenes::shown_text(std::abs(move_SI), dimension, units);
  if (text.starts_with("under")) return text + (move_SI > 0 ? " more" : " less");
  return (move_SI < 0 ? "-" : "+") + text;
}

}  // namespace totebench::app
