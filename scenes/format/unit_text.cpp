#include "totebench/scenes/unit_text.hpp"

#include <fmt/format.h>

#include <cmath>

namespace totebench::scenes {
namespace {

// Exact by definition of the international yard and pound (1959) and of standard gravity.
constexpr double kInch_m = 0.0254;
constexpr double kPound_kg = 0.45359237;
constexpr double kPoundForce_N = kPound_kg * 9.80665;

std::string with_unit(double value_SI, const ShownUnit& unit) {
  return number_text(value_SI * unit.per_SI) + " " + unit.name;
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

std::string shown_text(double value_SI, Dimension dimension, const std::string& units) {
  return with_unit(value_SI, shown_unit(dimension, units));
}

std::string length_text(double length_m, const std::string& units) {
  return with_unit(length_m, length_unit(units));
}
std::string force_text(double force_N, const std::string& units) {
  return with_unit(force_N, force_unit(units));
}
std::string line_force_text(double force_N_per_m, const std::string& units) {
  return with_unit(force_N_per_m, line_force_unit(units));
}
std::string pressure_text(double pressure_Pa, const std::string& units) {
  return with_unit(pressure_Pa, pressure_unit(units));
}
std::string stress_text(double stress_Pa, const std::string& units) {
  return with_unit(stress_Pa, stress_unit(units));
}
std::string time_text(double time_s) {
  if (time_s < 60) return fmt::format("{:.3g} s", time_s);
  if (time_s < 3600) return fmt::format("{:.3g} min", time_s / 60);
  return fmt::format("{:.3g} h", time_s / 3600);
}
std::string mass_text(double mass_kg, const std::string& units) {
  return with_unit(mass_kg, mass_unit(units));
}

}  // namespace totebench::scenes
