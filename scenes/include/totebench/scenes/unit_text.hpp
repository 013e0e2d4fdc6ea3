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

// The unit in which a single value reads best: 8.5 mm and not 0.85 cm, 10 oz and not 0.62 lb.
[[nodiscard]] ShownUnit fitting_unit(double size_SI, Dimension dimension, const std::string& units);

// A number with about three significant digits, never in exponent form below a million.
[[nodiscard]] std::string number_text(double value);
// To two digits, or whole above ten: as exact as forces in a bag are known.
[[nodiscard]] std::string rough_text(double value);
// As on a ruler: "15 3/8", to 1/16 from one inch on, to 1/32 below; "under 1/32" next to nothing.
[[nodiscard]] std::string inches_text(double inches);

// Numbers as they are measured: lengths to what a ruler shows, masses as on a scale (in inches in
// pounds and ounces, below 20 lb), forces and stresses to two digits, anything else to three.
//
// Without the unit, for columns whose heading names it (that of shown_unit()).
[[nodiscard]] std::string shown_number(double value_SI, Dimension dimension,
                                       const std::string& units);
// With fitting_unit().
[[nodiscard]] std::string shown_text(double value_SI, Dimension dimension,
                                     const std::string& units);
[[nodiscard]] std::string length_text(double length_m, const std::string& units);
// Of cloth and plastic, which no ruler measures: "0.079 in", "2 mm".
[[nodiscard]] std::string thickness_text(double thickness_m, const std::string& units);
[[nodiscard]] std::string force_text(double force_N, const std::string& units);
[[nodiscard]] std::string line_force_text(double force_N_per_m, const std::string& units);
[[nodiscard]] std::string pressure_text(double pressure_Pa, const std::string& units);
[[nodiscard]] std::string stress_text(double stress_Pa, const std::string& units);
// "45 s", "30 min", "2.5 h": the largest of these units that is not above it.
[[nodiscard]] std::string time_text(double time_s);
// "12 mJ", "1.3 J"; in inches "0.11 in lb".
[[nodiscard]] std::string energy_text(double energy_J, const std::string& units);
[[nodiscard]] std::string mass_text(double mass_kg, const std::string& units);

// "6 to 11 mm", "1/4 to 7/16 in": with no more digits than tell the ends apart; "about 3/8 in"
// where a ruler shows no difference.
[[nodiscard]] std::string range_text(double low_SI, double high_SI, Dimension dimension,
                                     const std::string& units);

}  // namespace totebench::scenes
