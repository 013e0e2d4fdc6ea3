#include "scenes/format/told_length.hpp"

#include <cmath>
#include <string_view>

#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

constexpr double kCentimetre_m = 0.01;

std::string_view unit_for(double metres, const std::string& units) {
  if (units == "in") return "in";
  if (metres < kCentimetre_m) return "mm";
  return units == "si" ? "m" : "cm";
}

// A number that has three digits, but for the rounding of whatever computed it, stays.
std::string rounded(double metres, const std::string& units, bool up) {
  const double one = to_si(1, unit_for(metres, units), Dimension::kLength).value();
  const double value = metres / one;
  if (!(value > 0)) return told_length(metres, units);
  const double step = std::pow(10.0, std::floor(std::log10(value)) - 2);
  const double steps = up ? std::ceil(value / step - 1e-6) : std::floor(value / step + 1e-6);
  return told_length(steps * step * one, units);
}

}  // namespace

std::string told_length(double metres, const std::string& units) {
  return quantity_in(metres, unit_for(metres, units), Dimension::kLength);
}

std::string told_at_most(double metres, const std::string& units) {
  return rounded(metres, units, false);
}

std::string told_at_least(double metres, const std::string& units) {
  return rounded(metres, units, true);
}

}  // namespace totebench::scenes
