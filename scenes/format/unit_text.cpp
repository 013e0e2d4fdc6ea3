#include "totebench/scenes/unit_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace totebench::scenes {
namespace {

// Exact by definition of the international yard and pound (1959) and of standard gravity.
constexpr double kInch_m = 0.0254;
constexpr double kPound_kg = 0.45359237;
constexpr double kPoundForce_N = kPound_kg * 9.80665;

constexpr int kOunces = 16;                     // a pound
constexpr double kWholePounds_lb = 20;          // from here on nobody asks for ounces
constexpr double kLeastInCentimetres_m = 0.01;  // below it lengths are told in millimetres

// "8", "8.5" and "8.25", not "8.00".
std::string without_zeros(std::string number) {
  if (number.find('.') == std::string::npos) return number;
  number.erase(number.find_last_not_of('0') + 1);
  if (number.back() == '.') number.pop_back();
  return number;
}

std::string number_in(double value_SI, const ShownUnit& unit, Dimension dimension) {
  const double value = value_SI * unit.per_SI, size = std::abs(value);
  if (!std::isfinite(value)) return number_text(value);
  switch (dimension) {
    case Dimension::kLength:
      if (unit.name == "in") return inches_text(value);
      if (unit.name == "m") return number_text(value);
      if (unit.name == "cm" && size < 1) return fmt::format("{:.2f}", value);
      return size < 100 ? fmt::format("{:.1f}", value) : fmt::format("{:.0f}", value);
    case Dimension::kMass:
      if (unit.name == "oz" && size >= 4) return fmt::format("{:.0f}", value);
      if (unit.name == "lb") return without_zeros(rough_text(value));
      return without_zeros(number_text(value));
    case Dimension::kForce:
    case Dimension::kForcePerLength:
    case Dimension::kPressure:
      return rough_text(value);
    default:
      return number_text(value);
  }
}

std::string with_unit(double value_SI, const ShownUnit& unit, Dimension dimension) {
  return number_in(value_SI, unit, dimension) + " " + unit.name;
}

std::string pounds_and_ounces(double pounds) {
  const auto ounces = static_cast<long>(std::lround(pounds * kOunces));
  std::string text = fmt::format("{} lb", ounces / kOunces);
  if (ounces % kOunces != 0) text += fmt::format(" {} oz", ounces % kOunces);
  return text;
}

}  // namespace

ShownUnit length_unit(const std::string& units) {
  if (units == "in") return {1 / kInch_m, "in"};
  if (units == "si") return {1, "m"};
  return {100, "cm"};
}

ShownUnit fine_length_unit(const std::string& units) {
  return units == "in" ? ShownUnit{1 / kInch_m, "in"} : ShownUnit{1e3, "mm"};
}

ShownUnit force_unit(const std::string& units) {
  return units == "in" ? ShownUnit{1 / kPoundForce_N, "lb"} : ShownUnit{1, "N"};
}

ShownUnit line_force_unit(const std::string& units) {
  if (units == "in") return {kInch_m / kPoundForce_N, "lb/in"};
  if (units == "si") return {1, "N/m"};
  return {1e-3, "N/mm"};
}

ShownUnit pressure_unit(const std::string& units) {
  if (units == "in") return {kInch_m * kInch_m / kPoundForce_N, "psi"};
  if (units == "si") return {1, "Pa"};
  return {1e-3, "kPa"};
}

ShownUnit stress_unit(const std::string& units) {
  return units == "in" ? pressure_unit(units) : ShownUnit{1e-6, "MPa"};
}

ShownUnit areal_mass_unit(const std::string& units) {
  constexpr double kYard_m = 36 * kInch_m;
  return units == "in" ? ShownUnit{16 / kPound_kg * kYard_m * kYard_m, "oz/yd2"}
                       : ShownUnit{1e3, "g/m2"};
}

ShownUnit mass_unit(const std::string& units) {
  return units == "in" ? ShownUnit{1 / kPound_kg, "lb"} : ShownUnit{1, "kg"};
}

ShownUnit shown_unit(Dimension dimension, const std::string& units) {
  switch (dimension) {
    case Dimension::kLength:
      return length_unit(units);
    case Dimension::kMass:
      return mass_unit(units);
    case Dimension::kForce:
      return force_unit(units);
    case Dimension::kForcePerLength:
      return line_force_unit(units);
    case Dimension::kPressure:
      return stress_unit(units);
    default:
      return {1, std::string(si_unit(dimension))};
  }
}

ShownUnit fitting_unit(double size_SI, Dimension dimension, const std::string& units) {
  const ShownUnit usual = shown_unit(dimension, units);
  if (dimension == Dimension::kLength && units != "in" && units != "si" &&
      size_SI < kLeastInCentimetres_m)
    return {1e3, "mm"};
  if (dimension == Dimension::kForce && units == "in" && size_SI * usual.per_SI < 1)
    return {kOunces * usual.per_SI, "oz"};
  if (dimension == Dimension::kMass && size_SI * usual.per_SI < 1)
    return units == "in" ? ShownUnit{kOunces * usual.per_SI, "oz"} : ShownUnit{1e3, "g"};
  return usual;
}

std::string number_text(double value) {
  if (!std::isfinite(value)) return "not known";
  const double size = std::abs(value);
  if (size < 1e-9) return "0";  // below anything a person would measure
  if (size >= 1e6 || size < 1e-5) return fmt::format("{:.2e}", value);
  // 0.9996 is shown as 1.00, with the decimals of a number above 1.
  const int digits_before = static_cast<int>(std::floor(std::log10(size / 0.9995))) + 1;
  const int decimals = digits_before >= 3 ? 0 : 3 - digits_before;
  return fmt::format("{:.{}f}", value, decimals);
}

std::string rough_text(double value) {
  const double size = std::abs(value);
  if (!std::isfinite(value) || size < 1e-9 || size >= 1e6 || size < 1e-5) return number_text(value);
  // 0.996 is shown as 1.0, with the decimals of a number above 1.
  const int digits_before = static_cast<int>(std::floor(std::log10(size / 0.995))) + 1;
  return fmt::format("{:.{}f}", value, std::max(0, 2 - digits_before));
}

std::string inches_text(double inches) {
  if (!std::isfinite(inches)) return number_text(inches);
  const double size = std::abs(inches);
  if (size < 1e-9) return "0";
  if (size >= 1e6) return number_text(inches);
  long parts = size < 1 ? 32 : 16;
  long n = std::lround(size * static_cast<double>(parts));
  if (n == 0) return fmt::format("under 1/{}", parts);
  const std::string sign = inches < 0 ? "-" : "";
  const long whole = n / parts;
  n %= parts;
  if (n == 0) return fmt::format("{}{}", sign, whole);
  for (; n % 2 == 0; n /= 2) parts /= 2;
  return whole == 0 ? fmt::format("{}{}/{}", sign, n, parts)
                    : fmt::format("{}{} {}/{}", sign, whole, n, parts);
}

std::string shown_number(double value_SI, Dimension dimension, const std::string& units) {
  return number_in(value_SI, shown_unit(dimension, units), dimension);
}

std::string shown_text(double value_SI, Dimension dimension, const std::string& units) {
  const double pounds = std::abs(value_SI) / kPound_kg;
  if (dimension == Dimension::kMass && units == "in" && pounds >= 1 && pounds < kWholePounds_lb) {
    return (value_SI < 0 ? "-" : "") + pounds_and_ounces(pounds);
  }
  return with_unit(value_SI, fitting_unit(std::abs(value_SI), dimension, units), dimension);
}

std::string length_text(double length_m, const std::string& units) {
  return shown_text(length_m, Dimension::kLength, units);
}
std::string thickness_text(double thickness_m, const std::string& units) {
  const ShownUnit unit = fine_length_unit(units);
  return without_zeros(
             fmt::format("{:.{}f}", thickness_m * unit.per_SI, unit.name == "in" ? 3 : 2)) +
         " " + unit.name;
}
std::string force_text(double force_N, const std::string& units) {
  return shown_text(force_N, Dimension::kForce, units);
}
std::string line_force_text(double force_N_per_m, const std::string& units) {
  return shown_text(force_N_per_m, Dimension::kForcePerLength, units);
}
std::string pressure_text(double pressure_Pa, const std::string& units) {
  return with_unit(pressure_Pa, pressure_unit(units), Dimension::kPressure);
}
std::string stress_text(double stress_Pa, const std::string& units) {
  return shown_text(stress_Pa, Dimension::kPressure, units);
}
std::string time_text(double time_s) {
  if (time_s < 60) return fmt::format("{:.3g} s", time_s);
  if (time_s < 3600) return fmt::format("{:.3g} min", time_s / 60);
  return fmt::format("{:.3g} h", time_s / 3600);
}
std::string energy_text(double energy_J, const std::string& units) {
  if (units == "in") return rough_text(energy_J / (kPoundForce_N * kInch_m)) + " in lb";
  return std::abs(energy_J) < 1 ? rough_text(1e3 * energy_J) + " mJ" : rough_text(energy_J) + " J";
}
std::string mass_text(double mass_kg, const std::string& units) {
  return shown_text(mass_kg, Dimension::kMass, units);
}

std::string range_text(double low_SI, double high_SI, Dimension dimension,
                       const std::string& units) {
  const ShownUnit unit =
      fitting_unit(std::max(std::abs(low_SI), std::abs(high_SI)), dimension, units);
  const double low = low_SI * unit.per_SI, high = high_SI * unit.per_SI;
  if (unit.name == "in") {
    const std::string from = inches_text(low), to = inches_text(high);
    return from == to ? (from.starts_with("under") ? from : "about " + from) + " in"
                      : fmt::format("{} to {} in", from, to);
  }
  const double width = std::max(high - low, 1e-6);
  const int decimals = std::clamp(static_cast<int>(std::ceil(-std::log10(width / 3))), 0, 6);
  return fmt::format("{:.{}f} to {:.{}f} {}", low, decimals, high, decimals, unit.name);
}

}  // namespace totebench::scenes
