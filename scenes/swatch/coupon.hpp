// Test strips on the solver: what a ruler would read on a strip of given stiffness, and back from a
// reading to the stiffness. Also what the classical formula of each test says.
//
// Symbols  L  m      overhang; loop between grips; gauge length; gap (StripTest::span_m)
//          b  m      width              w  N/m2  own weight per area        P  N  weight hung on
//          B  N m    bending rigidity per width of a strip, free to curve across: E t^3 / 12
//          K  N/m    membrane stiffness per width of a strip
#pragma once

#include <optional>

#include "totebench/scenes/swatch.hpp"

namespace totebench::scenes {

struct Coupon {
  StripTestKind kind = StripTestKind::kOverhang;
  double length_m = 0;
  double width_m = 0;
  double angle_rad = 0;  // overhang
  double areal_mass_kg_per_m2 = 0;
  double weight_kg = 0;
  double membrane_N_per_m = 0;  // of all but the stretch test
  double poisson_ratio = 0;
  int divisions = 0;  // triangles along the strip, or its symmetric half; 0 = enough for the kind
};

// By the formula of the books, for a reading as in StripTest:
//   overhang  B = w (L f)^3,  f^3 = cos(a/2) / (8 tan a)              [Peirce1930]
//   droop     B = w L^4 / (8 drop)                                    beam, small droop
//   loop      B = w c^3,  c = l0 (cos h / tan h)^(1/3),  l0 = 0.1337 L, h = 32.85 deg (l - l0) / l0
//                                                                     [Peirce1930]
//   gap       B = 5 w L^4 / (384 sag) + (P/b) L^3 / (48 sag)          beam on two supports
//   stretch   K = (P/b) L / extension                                 Hooke
[[nodiscard]] double formula_stiffness(const Coupon& coupon, double reading_m);

struct StiffnessFit {
  double stiffness = 0;  // B or K
  double reading = 0;    // of the strip with that stiffness on the solver; an angle for overhang
  int solves = 0;
  int triangles = 0;
  bool found = false;  // false: no equilibrium, or no stiffness gives this reading
};

// The stiffness with which the strip reads `reading_m` on the solver. For kOverhang length_m is the
// reading and the chord from edge to tip is to have the slope angle_rad.
[[nodiscard]] StiffnessFit fit_stiffness(const Coupon& coupon, double reading_m, double guess);

// The reading of a strip of the given stiffness; for kOverhang the angle of the chord below the
// horizontal, rad. Nothing when no equilibrium was found.
[[nodiscard]] std::optional<double> coupon_reading(const Coupon& coupon, double stiffness);

}  // namespace totebench::scenes
