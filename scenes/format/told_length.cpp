#include "scenes/format/told_length.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string_view>

#include "totebench/scenes/unit_text.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

constexpr double kCentimetre_m = 0.01;

std::string_view unit_for(double metres, const std::string& units) {
  if (units == "in") return "in";
  if (metres < kCentimetre_m) return "mm";
  return units == "si" ? "m" : "cm";
}

enum class Round { kNearest, kDown, kUp };
constexpr double kOnRuler = 1e-6;  // of a mark's width: what the rounding of a computation leaves

// As a ruler has it, in sixteenths of an inch or, below one inch, thirty-seconds; nothing below the
// first mark.
std::optional<std::string> on_ruler(double metres, Round round) {
  const double inches = metres / to_si(1, "in", Dimension::kLength).value();
  const double marks = (inches < 1 ? 32 : 16) * inches;
  const double mark = round == Round::kNearest ? std::round(marks)
                      : round == Round::kUp    ? std::ceil(marks - kOnRuler)
                                               : std::floor(marks + kOnRuler);
  if (!(std::min(mark, marks + kOnRuler) >= 1) || !(mark < 1e6)) return std::nullopt;
  return inches_text(mark / marks * inches) + " in";
}

// A number that has three digits, but for the rounding of whatever computed it, stays.
std::string rounded(double metres, const std::string& units, Round round) {
  if (units == "in") {
    if (auto text = on_ruler(metres, round)) return *text;
  }
  const double one = to_si(1, unit_for(metres, units), Dimension::kLength).value();
  const double value = metres / one;
  if (!(value > 0)) return told_length(metres, units);
  const double step = std::pow(10.0, std::floor(std::log10(value)) - 2);
  const double steps =
      round == Round::kUp ? std::ceil(value / step - 1e-6) : std::floor(value / step + 1e-6);
  return told_length(steps * step * one, units);
}

}  // namespace

std::string told_length(double metres, const std::string& units) {
  if (units == "in") {
    if (auto text = on_ruler(metres, Round::kNearest)) return *text;
  }
  return quantity_in(metres, unit_for(metres, units), Dimension::kLength);
}

std::string told_at_most(double metres, const std::string& units) {
  return rounded(metres, units, Round::kDown);
}

std::string told_at_least(double metres, const std::string& units) {
  return rounded(metres, units, Round::kUp);
}

}  // namespace totebench::scenes
