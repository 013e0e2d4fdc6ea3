// VERIFICATION  Sze_HingedRoof: a shallow roof that snaps through
// Reference   Sze, Liu and Lo, FE Anal. Des. 40 (2004) 1551-1569, section 3.8 (read in a
//             transcription in the Kratos documentation): limit loads over the full force
// Inputs      R = 2540 mm, 508 mm long, 0.2 rad wide, straight edges hinged, curved edges free,
// 3000 N
//             in the middle; isotropic E = 3102.75 MPa, nu = 0.3; or three equal plies of
//             E1 = 3300, E2 = 1100, G12 = 660 MPa, nu12 = 0.25, fibres 0 along the axis
// Expected    12.7 mm thick: 0.742 (isotropic), 0.362 (0/90/0), 0.597 (90/0/90)
// Ours        0.734 to 0.742, 0.359 to 0.367, 0.594 to 0.602; some point moves 19 to 21 mm
// Tolerance   the limit load lies between the two loads that are told, or within 2 % of the
// expected
//             one outside them: the reference is itself a finite-element result and its table is of
//             points beside the limit
// Not covered the unstable branch itself, and the thinner roofs, whose displacement snaps back
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdio>
#include <stdexcept>
#include <string>

#include "totebench/scenes/reader.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/hang.hpp"
#include "totebench/studies/jumps.hpp"

namespace totebench {
namespace {

const std::string kPlain =
    R"("plain": { "youngs_modulus": "3102.75 MPa", "poisson_ratio": 0.3, "thickness": "12.7 mm" })";

std::string plies(int outer_deg, int inner_deg) {
  const auto ply = [](int deg, const std::string& join) {
    return fmt::format(
        R"({{ "material": "ply", "thickness": "4.233333333 mm", "warp_angle": "{} deg"{} }})", deg,
        join);
  };
  const std::string fused = R"(, "join": "fused")";
  return fmt::format(R"("layers": [ {}, {}, {} ])", ply(outer_deg, ""), ply(inner_deg, fused),
                     ply(outer_deg, fused));
}

// The middle of the roof is on top, at 0 deg about the x axis.
studies::SheetHangResult roof(const std::string& made_of, double share, int load_steps) {
  const std::string text = fmt::format(
      R"({{ "schema_version": 1, "kind": "sheet", "name": "roof",
  "sheet": {{ "shape": "cylinder", "length": "508 mm", "radius": "2540 mm",
    "from_angle": "-5.729577951 deg", "to_angle": "5.729577951 deg", {} }},
  "materials": {{ "ply": {{ "category": "base", "youngs_modulus_md": "3300 MPa",
    "youngs_modulus_cd": "1100 MPa", "shear_modulus": "660 MPa", "poisson_ratio": 0.1443375673,
    "thickness": "4.233333333 mm", "density": "1000 kg/m3" }} }},
  "supports": [ {{ "where": "from" }}, {{ "where": "to" }} ],
  "loads": [ {{ "kind": "point force", "point": ["254 mm", "0 mm", "2540 mm"],
    "force": ["0 N", "0 N", "-{} N"] }} ],
  "probes": [ {{ "name": "top", "point": ["254 mm", "0 mm", "2540 mm"] }} ],
  "mesh": {{ "size": "60 mm" }}, "solve": {{ "load_steps": {} }} }})",
      made_of, 3000 * share, load_steps);
  const scenes::ReadResult read =
      scenes::read_scene_text(text, "roof.json", materials::MaterialLibrary());
  for (const scenes::Diagnostic& d : read.diagnostics) std::printf("%s\n", d.message.c_str());
  if (!read.scene) throw std::logic_error("the roof has faults");
  const materials::MaterialLibrary library =
      scenes::library_of(*read.scene, materials::MaterialLibrary());
  studies::SheetHangResult result = studies::hang_sheet(*read.scene, library, {});
  EXPECT_EQ(result.report.status, solver::SolveStatus::kConverged);
  return result;
}

// Snaps once, at the limit load (a share of 3000 N).
void expect_snap(const std::string& made_of, double limit, double share = 1, int load_steps = 4) {
  const studies::SheetHangResult result = roof(made_of, share, load_steps);
  ASSERT_EQ(result.jumps.size(), 1u);
  const solver::Jump& jump = result.jumps.front();
  std::printf("  expected %.3f, found between %.4f and %.4f; moves %.2f mm, %.3g J\n", limit,
              share * jump.load_before, share * jump.load_after, 1e3 * jump.moved_m,
              jump.energy_drop_J);
  EXPECT_LT(jump.load_after - jump.load_before, 0.0101);
  EXPECT_LT(share * jump.load_before, 1.02 * limit);
  EXPECT_GT(share * jump.load_after, 0.98 * limit);
  // Both ends stand among the steps, which a load curve is drawn from.
  int found = 0;
  for (const solver::LoadStep& step : result.steps) {
    found += step.load_factor == jump.load_before || step.load_factor == jump.load_after ? 1 : 0;
  }
  EXPECT_EQ(found, 2);
  const std::vector<std::string> cautions = studies::jump_cautions(result.jumps);
  ASSERT_EQ(cautions.size(), 1u);
  EXPECT_NE(cautions[0].find(
                fmt::format("at {} % of the load", scenes::rough_text(100 * jump.load_before))),
            std::string::npos);
}

TEST(HingedRoof, SnapsThroughAtThePublishedLimitLoad) { expect_snap(kPlain, 0.742); }

TEST(HingedRoof, SnapsThroughInALaminate) {
  expect_snap(plies(0, 90), 0.362);
  expect_snap(plies(90, 0), 0.597);
}

// All of it within the first step, at a fifth of four times the force.
TEST(HingedRoof, SnapsThroughWithinTheFirstStep) { expect_snap(kPlain, 0.742, 4, 1); }

// At half the force it stays on its first branch: W between the published points
// (0.4686, 4.477 mm) and (0.5647, 5.802 mm), linearly 4.910 mm.
TEST(HingedRoof, BelowTheLimitNothingJumps) {
  const studies::SheetHangResult result = roof(kPlain, 0.5, 4);
  EXPECT_TRUE(result.jumps.empty());
  EXPECT_TRUE(studies::jump_cautions(result.jumps).empty());
  const int top = result.sheet.probe_nodes.front();
  const double w = result.sheet.model.mesh.position(2, top) - result.steps.back().state.x(2, top);
  EXPECT_NEAR(w, 4.910e-3, 0.02 * 4.910e-3);
}

}  // namespace
}  // namespace totebench
