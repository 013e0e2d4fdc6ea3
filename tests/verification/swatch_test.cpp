// A maker's tests of their own cloth, read back to a stiffness on the solver.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>
#include <utility>
#include <vector>

#include "elastica.hpp"
#include "scenes/swatch/coupon.hpp"
#include "sheet_case.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::verification {
namespace {

constexpr double kDegree = kPi / 180;

// Canvas of 339 g/m2 and 0.1 mN m, hardly to be stretched, in strips of 25 mm.
constexpr double kRigidity = 1e-4;
constexpr double kWeight = 0.339 * kGravity;

scenes::Coupon canvas(scenes::StripTestKind kind, double gamma, double poisson_ratio = 0) {
  scenes::Coupon coupon;
  coupon.kind = kind;
  coupon.length_m = std::cbrt(gamma * kRigidity / kWeight);
  coupon.width_m = 0.025;
  coupon.angle_rad = 41.5 * kDegree;
  coupon.areal_mass_kg_per_m2 = kWeight / kGravity;
  coupon.membrane_N_per_m = 24500;
  coupon.poisson_ratio = poisson_ratio;
  return coupon;
}

// The rigidity back from a reading, starting at what the formula of the books says.
double rigidity_of(const scenes::Coupon& coupon, double reading_m) {
  const scenes::StiffnessFit fit =
      scenes::fit_stiffness(coupon, reading_m, scenes::formula_stiffness(coupon, reading_m));
  EXPECT_TRUE(fit.found) << fit.stiffness;
  return fit.stiffness;
}

// One row: what a reading gives back over what it was worked out for, on the coupon's own mesh or
// on meshes of so many triangles along it.
void expect_back(const Source& source, const std::string& what, scenes::Coupon coupon,
                 double reading_m, double expected, double tolerance,
                 const std::vector<int>& divisions = {0}) {
  Refinement row(source, what, 1);
  for (const int n : divisions) {
    coupon.divisions = n;
    row.add(n > 0 ? coupon.length_m / n : 0, 0, rigidity_of(coupon, reading_m) / expected);
  }
  row.expect_within(tolerance);
}

const Source kHanging = {"swatch", "heavy elastica of a strip, by shooting",
                         "mesh error, a tenth of a ruler's millimetre"};

ElasticaTip hanging(double gamma) {
  return elastica_cantilever([gamma](double s) { return gamma * (1 - s); });
}

// VERIFICATION  Overhang_GivesBackTheRigidity
// Reference   heavy elastica, by shooting: the chord hangs at 30, 41.5 and 50 deg where
//             w L^3 / B = 4.920940, 8.004197, 11.437235
// Inputs      canvas as above, nu = 0
// Expected    B = 0.1 mN m
// Ours        6, 8, 12 triangles along the strip at 41.5 deg: 0.99990, 1.00007, 1.00000 of it
// Tolerance   0.2 %; a ruler's millimetre on these 62 mm makes 5 %
TEST(Swatch, Overhang_GivesBackTheRigidity) {
  viz::Line exact{"elastica", {}, {}}, ours{"ours", {}, {}};
  for (double gamma = 1; gamma <= 12; gamma += 0.5) {
    const ElasticaTip tip = hanging(gamma);
    exact.x.push_back(gamma);
    exact.y.push_back(std::atan2(tip.drop, tip.along) / kDegree);
    const auto angle =
        scenes::coupon_reading(canvas(scenes::StripTestKind::kOverhang, gamma), kRigidity);
    ASSERT_TRUE(angle);
    ours.x.push_back(gamma);
    ours.y.push_back(*angle / kDegree);
  }
  leave_picture(
      "swatch",
      viz::line_chart_svg(
          {"a strip over an edge", "w L^3 / B", "chord below the horizontal, deg", {exact, ours}}));
  for (const auto& [degrees, gamma] :
       {std::pair{30.0, 4.920940}, std::pair{41.5, 8.004197}, std::pair{50.0, 11.437235}}) {
    const ElasticaTip tip = hanging(gamma);
    ASSERT_NEAR(std::atan2(tip.drop, tip.along) / kDegree, degrees, 1e-4);
    scenes::Coupon coupon = canvas(scenes::StripTestKind::kOverhang, gamma);
    coupon.angle_rad = degrees * kDegree;
    expect_back(kHanging, fmt::format("overhang to {} deg, rigidity back over put in", degrees),
                coupon, coupon.length_m, kRigidity, 0.002, {6, 8, 12});
  }
}

// VERIFICATION  Droop_GivesBackTheRigidity
// Reference   heavy elastica, by shooting, held against its tabulated drop / L
// Expected    w L^3 / B = 1, 5, 20, 50: drop / L = 0.12347, 0.49591, 0.82988, 0.90792
// Tolerance   0.5 %, on 16 triangles along the strip; steeper than that the mesh shows
TEST(Swatch, Droop_GivesBackTheRigidity) {
  for (const auto& [gamma, drop] : {std::pair{1.0, 0.12347}, std::pair{5.0, 0.49591},
                                    std::pair{20.0, 0.82988}, std::pair{50.0, 0.90792}}) {
    const double exact = hanging(gamma).drop;
    ASSERT_NEAR(exact, drop, 1e-5);
    const scenes::Coupon coupon = canvas(scenes::StripTestKind::kDroop, gamma);
    expect_back(kHanging, fmt::format("droop at w L^3 / B = {}, rigidity back", gamma), coupon,
                exact * coupon.length_m, kRigidity, 0.005, {8, 16});
  }
}

// VERIFICATION  Loop_GivesBackTheRigidity
// Reference   heart loop of the heavy elastica, both ends pointing up, computed from its equation
//             to five digits: w L^3 / B = 20, 100, 300 hang l / L = 0.14506, 0.18404, 0.25210
// Ours        at 100 with 10, 14, 20 triangles along half the loop: 1.0250, 1.0033, 1.0015
// Tolerance   0.8 %; a millimetre on these heights makes 10 to 20 %
TEST(Swatch, Loop_GivesBackTheRigidity) {
  for (const auto& [gamma, height] :
       {std::pair{20.0, 0.14506}, std::pair{100.0, 0.18404}, std::pair{300.0, 0.25210}}) {
    const scenes::Coupon coupon = canvas(scenes::StripTestKind::kLoop, gamma);
    expect_back({"swatch", "heart loop of the heavy elastica, from its equation to five digits",
                 kHanging.why},
                fmt::format("loop at w L^3 / B = {}, rigidity back", gamma), coupon,
                height * coupon.length_m, kRigidity, 0.008, {10, 14, 20});
  }
}

// VERIFICATION  Gap_GivesBackTheModulus
// Reference   beam on two supports, 5 w L^4 / 384 B + P L^3 / 48 B (textbook), for a small sag; a
//             plate much wider than its gap bends as B / (1 - nu^2) (cylindrical bending)
// Inputs      E = 900 MPa, 2 mm, 955 kg/m3; 20 cm gap; own weight alone, and 20 g across
// Tolerance   0.5 % narrow (sag 1/400 of the gap and nu = 0), 2 % wide: its long edges curl
TEST(Swatch, Gap_GivesBackTheModulus) {
  scenes::Coupon coupon;
  coupon.kind = scenes::StripTestKind::kGap;
  coupon.length_m = 0.2;
  coupon.width_m = 0.05;
  coupon.areal_mass_kg_per_m2 = 955 * 0.002;
  coupon.membrane_N_per_m = 900e6 * 0.002;
  const double rigidity = 900e6 * std::pow(0.002, 3) / 12;
  for (const double weight_kg : {0.0, 0.02}) {
    coupon.weight_kg = weight_kg;
    const double sag = scenes::formula_stiffness(coupon, 1) / rigidity;
    expect_back({"swatch", "beam on two supports, 5 w L^4 / 384 B + P L^3 / 48 B",
                 "a sag of 1/400 of the gap is not quite small"},
                fmt::format("sag over a gap, {} g across, rigidity back", 1000 * weight_kg), coupon,
                sag, rigidity, 0.005);
  }
  coupon.weight_kg = 0;
  coupon.width_m = 1;
  coupon.poisson_ratio = 0.42;
  const double plate = rigidity * (1 - 0.42 * 0.42);
  expect_back(
      {"swatch", "cylindrical bending of a wide plate, B / (1 - nu^2)", "its long edges curl"},
      "sag of a wide sheet over a gap, rigidity back", coupon,
      scenes::formula_stiffness(coupon, 1) / rigidity, plate, 0.02);
}

// VERIFICATION  Stretch_GivesBackTheStiffness
// Reference   Hooke's law for a small strain; at a strain e Green's strain e + e^2/2 and the force
//             on the rest width give T = K (e + e^2/2) (1 + e)
// Tolerance   0.01 %
TEST(Swatch, Stretch_GivesBackTheStiffness) {
  scenes::Coupon coupon;
  coupon.kind = scenes::StripTestKind::kStretch;
  coupon.length_m = 0.3;
  coupon.width_m = 0.05;
  coupon.poisson_ratio = 0.24;
  coupon.weight_kg = 2;
  const double pull = 2 * kGravity / 0.05;
  for (const double e : {1e-4, 0.02, 0.1}) {
    const double expected = pull / ((e + e * e / 2) * (1 + e));
    expect_back({"swatch", "Green's strain: T = K (e + e^2/2) (1 + e)", "rounding"},
                fmt::format("pulled to a strain of {}, stiffness back", e), coupon, 0.3 * e,
                expected, 1e-4);
    EXPECT_NEAR(scenes::formula_stiffness(coupon, 0.3 * e), pull / e, 1e-9 * pull / e);
  }
}

// VERIFICATION  Formulas_AreThePublishedOnes
// Reference   Peirce, J. Text. Inst. 21 (1930) T377, from memory: w L^3 / B by his cantilever
//             formula is 4.78174 at 30 deg, 7.56875 at 41.5 (the elastica has 8.004197), 12.88055
//             at 55; by his heart formula 20.42, 93.94 and 444.8 for l / L = 0.14506, 0.18404 and
//             0.29407
// Tolerance   printed digits; of the heart 0.2 %, as l / L has five
TEST(Swatch, Formulas_AreThePublishedOnes) {
  const Source peirce = {"swatch", "Peirce, J. Text. Inst. 21 (1930) T377 (from memory)",
                         "printed digits; of the heart l / L has five"};
  for (const auto& [degrees, gamma] :
       {std::pair{30.0, 4.78174}, std::pair{41.5, 7.56875}, std::pair{55.0, 12.88055}}) {
    scenes::Coupon coupon = canvas(scenes::StripTestKind::kOverhang, 8);
    coupon.angle_rad = degrees * kDegree;
    const double weight_L3 = 8 * kRigidity;
    expect_value(peirce, fmt::format("cantilever formula at {} deg, w L^3 / B", degrees),
                 weight_L3 / scenes::formula_stiffness(coupon, coupon.length_m), gamma, 2e-6);
  }
  for (const auto& [height, gamma] :
       {std::pair{0.14506, 20.42}, std::pair{0.18404, 93.94}, std::pair{0.29407, 444.8}}) {
    const scenes::Coupon coupon = canvas(scenes::StripTestKind::kLoop, 100);
    expect_value(peirce, fmt::format("heart formula at l / L = {}, w L^3 / B", height),
                 100 * kRigidity / scenes::formula_stiffness(coupon, height * coupon.length_m),
                 gamma, 0.002);
  }
}

// VERIFICATION  PoissonsRatio_StaysBetweenBeamAndPlate
// Reference   a strip free to curl across bends as a beam (B), one held flat across as a plate,
//             B / (1 - nu^2): the fit must lie between
// Expected    for nu = 0.24 between 0.9424 and 1 of the elastica's B, near the plate, since canvas
//             62 mm long and 25 mm wide stretches too little to curl
TEST(Swatch, PoissonsRatio_StaysBetweenBeamAndPlate) {
  const scenes::Coupon coupon = canvas(scenes::StripTestKind::kOverhang, 8.004197, 0.24);
  const double ratio = rigidity_of(coupon, coupon.length_m) / kRigidity;
  EXPECT_GT(ratio, 1 - 0.24 * 0.24);
  EXPECT_LT(ratio, 0.96);
}

// No stiffness makes a tip hang lower than the strip is long: that is said, not made up.
TEST(Swatch, WhatCannotBe_IsNotFound) {
  scenes::Coupon coupon = canvas(scenes::StripTestKind::kDroop, 20);
  coupon.divisions = 6;
  const double beyond = 1.2 * coupon.length_m;
  EXPECT_FALSE(fit_stiffness(coupon, beyond, scenes::formula_stiffness(coupon, beyond)).found);
}

}  // namespace
}  // namespace totebench::verification
