// VERIFICATION  SteelRuler: sheets whose stiffness in the plane is vast beside their load
// Reference   beams under their own weight and with a moved end: Timoshenko, Strength of Materials,
//             part 1: w L^4 / (8 E I), 5 w L^4 / (384 E I), 3 E I d / L^3; w L^4 (1 - nu^2) / (8 E
//             I) for a plate bent to a cylinder (Timoshenko and Woinowsky-Krieger, section 1)
// Inputs      300 x 30 x 1 mm, E = 210 GPa, 7850 kg/m3; mesh and load steps as they come by default
// Expected    w L^4 / (8 E I) = 4.4540 mm, 5 w L^4 / (384 E I) = 0.46396 mm;
//             3 E I d / L^3 = 0.58333 N for d = 10 mm
// Ours        4.4532 mm, 0.46289 mm (nu = 0.3), 0.58400 N (the end is 1/30 of the length out of
// line) Tolerance   0.2 %; 0.5 % where nu is not 0, for the ends hold the ruler level across its
// width Not covered sheets that yield
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cstdio>
#include <stdexcept>
#include <string>

#include "totebench/scenes/reader.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench {
namespace {

constexpr double kWidth_m = 0.03, kLength_m = 0.3, kThickness_m = 1e-3, kYoung_Pa = 210e9;
constexpr double kEI = kYoung_Pa * kWidth_m * kThickness_m * kThickness_m * kThickness_m / 12;
constexpr double kWeight_N_per_m = 7850 * kThickness_m * kWidth_m * 9.80665;
constexpr double kL4 = kLength_m * kLength_m * kLength_m * kLength_m;

struct Hung {
  scenes::Scene scene;
  studies::SheetHangResult result;
  [[nodiscard]] double moved_z_m() const {
    const int node = result.sheet.probe_nodes.front();
    return result.steps.back().state.x(2, node) - result.sheet.model.mesh.position(2, node);
  }
};

// `pulled`: the rest of the scene after the sheet.
Hung ruler(double poisson_ratio, double areal_mass_kg_per_m2, const std::string& pulled) {
  const std::string text = fmt::format(
      R"({{ "schema_version": 1, "kind": "sheet", "name": "ruler",
  "sheet": {{ "shape": "strip", "length": "300 mm", "width": "30 mm",
    "plain": {{ "youngs_modulus": "210 GPa", "poisson_ratio": {}, "thickness": "1 mm",
      "areal_mass": "{} kg/m2" }} }},
  {} }})",
      poisson_ratio, areal_mass_kg_per_m2, pulled);
  const scenes::ReadResult read =
      scenes::read_scene_text(text, "ruler.json", materials::MaterialLibrary());
  for (const scenes::Diagnostic& d : read.diagnostics) std::printf("%s\n", d.message.c_str());
  if (!read.scene) throw std::logic_error("the ruler has faults");
  return {*read.scene, studies::hang_sheet(*read.scene, materials::MaterialLibrary(), {})};
}

std::string clamped_and(const std::string& rest) {
  return R"("supports": [ { "where": "x0", "fix": "xyz", "clamp": true })" + rest;
}

const std::string kOwnWeight = R"( ], "loads": [ { "kind": "gravity" } ],
  "probes": [ { "name": "tip", "point": ["300 mm", "15 mm", "0 mm"] } ])";

TEST(SteelRuler, SagsUnderItsOwnWeightAsABeam) {
  const double beam = kWeight_N_per_m * kL4 / (8 * kEI);
  EXPECT_NEAR(beam, 4.4540e-3, 1e-7);
  const Hung straight = ruler(0, 7.85, clamped_and(kOwnWeight));
  ASSERT_EQ(straight.result.report.status, solver::SolveStatus::kConverged);
  EXPECT_NEAR(-straight.moved_z_m(), beam, 0.002 * beam);
  EXPECT_TRUE(straight.result.jumps.empty());

  const Hung steel = ruler(0.3, 7.85, clamped_and(kOwnWeight));
  ASSERT_EQ(steel.result.report.status, solver::SolveStatus::kConverged);
  EXPECT_LT(-steel.moved_z_m(), beam);
  EXPECT_GT(-steel.moved_z_m(), (1 - 0.3 * 0.3) * beam);
  // The share that may stand in round-off is told, whether it did or not.
  const solver::SolveReport& report = steel.result.report;
  EXPECT_GT(report.round_off_relative, 1e-8);
  EXPECT_LT(report.round_off_relative, 1e-4);
  EXPECT_LT(report.residual_relative, std::max(1e-6, report.round_off_relative));
  EXPECT_EQ(report.at_round_off, report.residual_relative > 1e-6);
}

// The share of the load that round-off may leave grows as the load falls.
TEST(SteelRuler, OfATenthOfItsWeight_StandsAtItsRoundOff) {
  const double beam = 0.1 * kWeight_N_per_m * kL4 / (8 * kEI);
  const Hung light = ruler(0, 0.785, clamped_and(kOwnWeight));
  const solver::SolveReport& report = light.result.report;
  ASSERT_EQ(report.status, solver::SolveStatus::kConverged);
  EXPECT_TRUE(report.at_round_off);
  EXPECT_GT(report.residual_relative, 1e-6);
  EXPECT_LT(report.residual_relative, report.round_off_relative);
  EXPECT_NEAR(-light.moved_z_m(), beam, 0.002 * beam);
}

// Weighing a hundred-thousandth, its load drowns: that is said, and soon.
TEST(SteelRuler, OfNearlyNoWeight_FailsForRoundOff) {
  const Hung none = ruler(0, 7.85e-5, clamped_and(kOwnWeight));
  EXPECT_EQ(none.result.report.status, solver::SolveStatus::kNotConverged);
  EXPECT_EQ(none.result.report.failure, solver::SolveFailure::kRoundOff);
  EXPECT_LT(none.result.effort.newton_iterations, 60);
}

TEST(SteelRuler, OnTwoEdges_SagsAsABeam) {
  const double beam = 5 * kWeight_N_per_m * kL4 / (384 * kEI);
  EXPECT_NEAR(beam, 0.46396e-3, 1e-8);
  const Hung hung = ruler(0.3, 7.85, R"("supports": [ { "where": "x0", "fix": "z" },
    { "where": "x1", "fix": "z" }, { "point": ["0 mm", "0 mm", "0 mm"], "fix": "xy" },
    { "point": ["300 mm", "0 mm", "0 mm"], "fix": "y" } ], "loads": [ { "kind": "gravity" } ],
  "probes": [ { "name": "middle", "point": ["150 mm", "15 mm", "0 mm"] } ])");
  ASSERT_EQ(hung.result.report.status, solver::SolveStatus::kConverged);
  EXPECT_NEAR(-hung.moved_z_m(), beam, 0.005 * beam);
  // Each edge bears half.
  const auto forces = studies::support_forces(hung.result, hung.result.steps.back());
  EXPECT_NEAR(forces[0].z(), 0.5 * kWeight_N_per_m * kLength_m, 1e-5);
  EXPECT_NEAR(forces[1].z(), 0.5 * kWeight_N_per_m * kLength_m, 1e-5);
}

// Nothing but the support drives it.
TEST(SteelRuler, EndMovedUp_PushesBackAsABeam) {
  constexpr double kMove_m = 0.01;
  const double beam = 3 * kEI * kMove_m / (kLength_m * kLength_m * kLength_m);
  EXPECT_NEAR(beam, 0.58333, 1e-5);
  const Hung hung = ruler(
      0, 7.85, clamped_and(R"(, { "where": "x1", "fix": "z", "move": ["0 mm", "0 mm", "10 mm"] } ],
  "probes": [ { "name": "tip", "point": ["300 mm", "15 mm", "0 mm"] } ])"));
  ASSERT_EQ(hung.result.report.status, solver::SolveStatus::kConverged);
  EXPECT_NEAR(hung.moved_z_m(), kMove_m, 1e-12);
  EXPECT_TRUE(hung.result.jumps.empty());
  ASSERT_EQ(hung.result.steps.size(), 5u);
  for (const solver::LoadStep& step : hung.result.steps) {
    const auto forces = studies::support_forces(hung.result, step);
    EXPECT_NEAR(forces[1].z(), step.load_factor * beam, 0.002 * beam);
    EXPECT_NEAR(forces[0].z(), -forces[1].z(), 1e-4 * beam);
  }
}

// Pulled by 0.1 mm: E A d / L = 2100 N; with Green strain 1.5 times the strain more.
TEST(SteelRuler, EndPulledOut_PullsBackAsABar) {
  const Hung hung = ruler(
      0, 7.85,
      clamped_and(R"(, { "where": "x1", "fix": "xz", "move": ["0.1 mm", "0 mm", "0 mm"] } ])"));
  ASSERT_EQ(hung.result.report.status, solver::SolveStatus::kConverged);
  const auto forces = studies::support_forces(hung.result, hung.result.steps.back());
  EXPECT_NEAR(forces[1].x(), 2100, 2100 * 1e-3);
  EXPECT_NEAR(forces[0].x(), -2100, 2100 * 1e-3);
}

}  // namespace
}  // namespace totebench
