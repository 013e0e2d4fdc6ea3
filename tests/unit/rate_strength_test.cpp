// Capacities of a tote's parts and how shear and peel combine.
#include <gtest/gtest.h>

#include <cmath>

#include "builder_samples.hpp"
#include "scenes/builder/tote/tote_sections.hpp"
#include "totebench/materials/strength.hpp"
#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/tote_strength.hpp"
#include "totebench/scenes/utilisation.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;
using samples::library;

TEST(CombinedUse, PureShearPurePeelAndBoth) {
  const Vector3d up = Vector3d::UnitZ();
  EXPECT_NEAR(scenes::combined_use({3, 4, 0}, up, 10, 5), 0.5, 1e-12);
  EXPECT_NEAR(scenes::combined_use({0, 0, 4}, up, 10, 5), 0.8, 1e-12);
  EXPECT_NEAR(scenes::combined_use({6, 0, 4}, up, 10, 5), 1.0, 1e-12);  // 0.6^2 + 0.8^2
  EXPECT_EQ(scenes::combined_use({0, 0, -4}, up, 10, 5), 0)
      << "pressing the strap on opens nothing";
  EXPECT_NEAR(scenes::combined_use({0, 0, -4}, up, 10, 5, true), 0.8, 1e-12);
  EXPECT_EQ(scenes::combined_use({3, 4, 4}, up, 0, 0), 0) << "nothing known, nothing said";
}

// Trade chart: F per stitch = 1.5 T for 301; spun polyester Tex 60 breaks at 21.9 N.
TEST(ToteStrength, StitchSeamAndStrapFollowTheirRules) {
  const scenes::Scene scene = samples::boxed();
  const scenes::ToteStrength s = scenes::tote_strength(scene, library());
  EXPECT_NEAR(s.fastening_shear_N.value, 1.5 * 21.9, 1e-9);
  EXPECT_NEAR(s.fastening_peel_N.value, 1.5 * 21.9, 1e-9);
  // 10 oz duck, weft: 19400 N/m, less 5 % needle damage, over stitches of 3 mm.
  EXPECT_NEAR(s.held.tear_out_N.value, 19400 * 0.95 * 0.003, 1e-6);
  // Tex 40 (13.8 N) at 2.5 mm: 8280 N/m, less than the cloth's 0.95 x 19400.
  EXPECT_NEAR(s.seam_N_per_m.value, 1.5 * 13.8 / 0.0025, 1e-6);
  EXPECT_EQ(s.seam_governed_by, "thread");
  const materials::Quantity web =
      materials::strap_strength(library(), *library().find("web_cotton_38"), 0.036);
  EXPECT_NEAR(s.strap_N.value, 0.8 * web.value, 1e-9);
  EXPECT_NE(s.held.tear_out_N.source.find("estimate"), std::string::npos);
}

TEST(ToteStrength, HemPatchAndDoubleJoint) {
  scenes::Scene scene = samples::boxed();
  const double plain = scenes::tote_strength(scene, library()).held.tear_out_N.value;
  scene.straps[0].attachment.patch = true;
  EXPECT_NEAR(scenes::tote_strength(scene, library()).held.tear_out_N.value, 2 * plain, 1e-6);
  scenes::Scene hem = samples::boxed();
  hem.straps[0].attachment.pattern = scenes::AttachmentPattern::kInHem;
  hem.straps[0].attachment.top_offset_m = 0.003;
  hem.straps[0].attachment.length_m = 0.024;
  const scenes::ToteStrength in_hem = scenes::tote_strength(hem, library());
  EXPECT_NEAR(in_hem.fastening_shear_N.value, 2 * 1.5 * 21.9, 1e-9);
  EXPECT_NEAR(in_hem.held_in_hem.tear_out_N.value, 2 * plain, 1e-6)
      << "these stitches hold the turned hem too";
  EXPECT_NEAR(in_hem.held.tear_out_N.value, plain, 1e-6) << "those below it do not";
}

TEST(ToteStrength, RivetsBearOnTheirCap) {
  scenes::Scene scene = samples::boxed();
  scene.straps[0].attachment.pattern = scenes::AttachmentPattern::kRivets;
  const scenes::ToteStrength s = scenes::tote_strength(scene, library());
  EXPECT_TRUE(s.riveted);
  EXPECT_NEAR(s.held.tear_out_N.value, 19400 * 0.009, 1e-6);
  EXPECT_NEAR(s.held.pull_through_N.value, 19400 * 0.25 * M_PI * 0.009, 1e-6);
  EXPECT_EQ(s.fastening_shear_N.value, library().rule("rivet_shear").value);
}

// A plastic plate yields through its depth at 1.5 times the face stress at first yield; a board
// breaks and does not fold.
TEST(ToteStrength, SheetYieldsThenFolds_BoardBreaks) {
  scenes::Scene scene = samples::boxed();
  scene.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 0.002, 0.004, 0};
  const scenes::ToteStrength plastic = scenes::tote_strength(scene, library());
  EXPECT_NEAR(plastic.sheet_yield_Pa.value, 22e6, 1);
  EXPECT_NEAR(plastic.sheet_fold_Pa.value, 33e6, 1);
  scene.base.material = "chipboard_2mm";
  const scenes::ToteStrength board = scenes::tote_strength(scene, library());
  EXPECT_TRUE(board.sheet_breaks);
  EXPECT_FALSE(board.sheet_fold_Pa.known());
}

TEST(ToteStrength, FootHoldsByTheRimOfItsWasher) {
  scenes::Scene scene = samples::boxed();
  scene.feet = {4, 0.03, 0.03, 0.004};
  const scenes::ToteStrength s = scenes::tote_strength(scene, library());
  EXPECT_NEAR(s.foot_N.value, 19400 * 0.25 * M_PI * 0.012, 1e-6);
  EXPECT_NEAR(s.foot_force_N, 0.004 * 9.80665, 1e-9);
}

// Cloth and a stitched-in sheet stretched by the same strain E: the cloth's own force is A_cloth E,
// whatever the sheet carries.
TEST(ClothForce, LeavesOutTheStitchedInSheet) {
  scenes::Scene scene = samples::boxed();
  scene.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 0.002, 0.004, 0};
  const scenes::Tote tote = scenes::build_tote(scene, library(), 0);
  const Vector3d strain(2e-4, 3e-4, 1e-4);
  solver::ShellFields fields;
  for (const solver::Triangle& t : tote.model.mesh.triangles) {
    fields.membrane_strain.push_back(strain * Eigen::RowVector3d::Ones());
    fields.membrane_force.push_back(tote.model.sections[t.section].A *
                                    fields.membrane_strain.back());
  }
  const Vector3d expected =
      materials::stack_section(
          library(), scenes::plies_of(scenes::layers_of(scene, scenes::kRegionBase), library()))
          .A *
      strain;
  const Eigen::Matrix3Xd cloth = scenes::cloth_force(tote, fields);
  int wholly = 0;
  for (std::size_t i = 0; i < tote.sheet_share.size(); ++i) {
    const solver::Triangle& t = tote.model.mesh.triangles[i];
    if (t.region != scenes::kRegionBase) {
      EXPECT_EQ(tote.sheet_share[i], 0);
      continue;
    }
    if (tote.sheet_share[i] == 1) ++wholly;
    EXPECT_NEAR((cloth.col(static_cast<Eigen::Index>(i)) - expected).norm(), 0,
                1e-9 * expected.norm());
  }
  EXPECT_GT(wholly, 0);
  EXPECT_GT(tote.sheet_A(0, 0) * strain[0], 10 * expected[0]) << "the sheet carries most of it";
}

// A stitched-in plate bent to k and stretched by E along the warp, by hand: the face stress is
// E_m / (1 - nu^2) (E + k t / 2), its two parts added on one face.
TEST(BaseSheetStress, AddsStretchingToBending) {
  scenes::Scene scene = samples::boxed();
  scene.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 0.002, 0.004, 0};
  const scenes::Tote tote = scenes::build_tote(scene, library(), 0);
  const Vector3d strain(4e-3, 0, 0);
  const Vector3d bent(-6, 0, 0);
  solver::ShellFields fields;
  for (int i = 0; i < tote.model.mesh.n_triangles(); ++i) {
    fields.membrane_strain.push_back(strain * Eigen::RowVector3d::Ones());
    fields.curvature.push_back(bent * Eigen::RowVector3d::Ones());
    fields.membrane_force.push_back(Eigen::Matrix3d::Zero());
    fields.bending_moment.push_back(Eigen::Matrix3d::Zero());
  }
  const double nu = tote.base_sheet_poisson_ratio;
  const double plate = tote.base_sheet_modulus_Pa / (1 - nu * nu);
  const double bending =
      scenes::base_sheet_stress(scene, tote, fields, scenes::SheetStress::kBending);
  EXPECT_NEAR(bending, plate * 6 * 0.001, 1e-6 * bending);
  const double both =
      scenes::base_sheet_stress(scene, tote, fields, scenes::SheetStress::kBendingAndStretching);
  EXPECT_NEAR(both, plate * (4e-3 + 6 * 0.001), 1e-3 * both);
}

materials::Material sheet(const char* id, double stiffness_N_per_m, double peel_N_per_m) {
  materials::Material m;
  m.id = id;
  m.category = peel_N_per_m > 0 ? "interfacing" : "fabric";
  const auto set = [&m](const char* name, double value, const char* unit) {
    m.properties[name] = materials::Quantity::own(value, unit);
  };
  set("areal_mass", 0.1, "kg/m2");
  set("thickness", 0.0003, "m");
  set("tensile_stiffness_initial", stiffness_N_per_m, "N/m");
  set("shear_stiffness", 100, "N/m");
  set("poisson_ratio", 0, "1");
  set("bending_rigidity", 1e-5, "N m");
  if (peel_N_per_m > 0) {
    set("peel_strength", peel_N_per_m, "N/m");
    set("fused_bending_ratio", 2, "1");
  }
  return m;
}

// G = N^2/2 (1/10000 - 1/15000) = 160 N/m gives N = sqrt(320 / 3.3333e-5) = 3098.4 N/m; a second
// cloth of the same stiffness sewn in at the edges takes 10000 of 25000 of the panel's force.
TEST(BondStrength, FollowsTheEnergyReleased) {
  const materials::Material cloth = sheet("cloth", 10000, 0);
  const materials::Material fusible = sheet("fusible", 5000, 160);
  std::vector<materials::Ply> plies(2);
  plies[0].material = &cloth;
  plies[1].material = &fusible;
  plies[1].join = materials::Join::kFused;
  const scenes::DirectedCapacity bare = scenes::bond_strength(library(), plies);
  EXPECT_NEAR(bare.warp.value, 3098.387, 0.01);
  EXPECT_NEAR(bare.weft.value, 3098.387, 0.01);
  plies.emplace_back();
  plies.back().material = &cloth;
  plies.back().join = materials::Join::kSewnAtEdges;
  EXPECT_NEAR(scenes::bond_strength(library(), plies).warp.value, 3098.387 * 25.0 / 15.0, 0.01);
  plies.erase(plies.begin() + 1);
  EXPECT_FALSE(scenes::bond_strength(library(), plies).warp.known())
      << "nothing fused, nothing to open";
}

}  // namespace
}  // namespace totebench
