// How a number is shown to a person, in the units they chose: "in", "cm" or "si".
#pragma once

#include <string>

#include "totebench/scenes/units.hpp"

namespace totebench::scenes {

// A unit a person reads: value_shown = value_SI * per_SI.
struct ShownUnit {
  double per_SI = 1;
  std::string name;
};

// Any other `units` counts as "cm".
[[nodiscard]] ShownUnit length_unit(const std::string& units);       // in, cm, m
[[nodiscard]] ShownUnit fine_length_unit(const std::string& units);  // in, mm, mm: a ruler's
[[nodiscard]] ShownUnit force_unit(const std::string& units);        // lb, N, N
[[nodiscard]] ShownUnit line_force_unit(const std::string& units);   // lb/in, N/mm, N/m
[[nodiscard]] ShownUnit pressure_unit(const std::string& units);     // psi, kPa, Pa
[[nodiscard]] ShownUnit stress_unit(const std::string& units);       // psi, MPa, MPa
[[nodiscard]] ShownUnit mass_unit(const std::string& units);         // lb, kg, kg
[[nodiscard]] ShownUnit areal_mass_unit(const std::string& units);   // oz/yd2, g/m2, g/m2

// That of a dimension: kLength, kMass, kForce, kForcePerLength, kPressure (as a stress); any other
// is shown in SI.
[[nodiscard]] ShownUnit shown_unit(Dimension dimension, const std::string& units);

// A number with about three significant digits, never in exponent form below a million.
[[nodiscard]] std::string number_text(double value);

[[nodiscard]] std::string shown_text(double value_SI, Dimension dimension,
                                     const std::string& units);
[[nodiscard]] std::string length_text(double length_m, const std::string& units);
[[nodiscard]] std::string force_text(double force_N, const std::string& units);
[[nodiscard]] std::string line_force_text(double force_N_per_m, const std::string& units);
[[nodiscard]] std::string pressure_text(double pressure_Pa, const std::string& units);
[[nodiscard]] std::string stress_text(double stress_Pa, const std::string& units);
// "45 s", "30 min", "2.5 h": the largest of these units that is not above it.
[[nodiscard]] std::string time_text(double time_s);
[[nodiscard]] std::string mass_text(double mass_kg, const std::string& units);

}  // namespace totebench::scenes
