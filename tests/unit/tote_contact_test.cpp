// What of a tote may touch: everything but what is sewn on or lies in a pocket; and starts apart.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "builder_samples.hpp"

namespace totebench {
namespace {

bool together(const solver::Contact& contact, int a, int b) {
  const int p = contact.group[a];
  const int q = contact.group[b];
  return std::any_of(contact.together.begin(), contact.together.end(), [&](const auto& pair) {
    return (pair[0] == p && pair[1] == q) || (pair[0] == q && pair[1] == p);
  });
}

TEST(ToteContact, OnlyWhatIsSewnOnOrInAPocketLiesTogether) {
  scenes::Scene scene = samples::boxed();
  scene.solve.contact = true;
  scene.base.kind = scenes::BaseKind::kPocket;
  scene.base.material = "hdpe_sheet";
  scene.base.thickness_m = 0.002;
  scene.base.clearance_m = 0.005;
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 0);
  const solver::Contact& contact = tote.model.contact;
  const solver::ShellMesh& mesh = tote.model.mesh;
  EXPECT_EQ(contact.thickness_m, tote.thickness_m);
  ASSERT_EQ(contact.group.size(), mesh.triangles.size());

  // A strap's triangles that are stitched down, and those that border them.
  std::set<int> stitched;
  for (const solver::Stitch& stitch : tote.model.stitches) {
    for (const solver::StitchPoint& point : points_of(stitch)) {
      EXPECT_TRUE(together(contact, point.a.triangle, point.b.triangle));
      stitched.insert(point.a.triangle);
    }
  }
  int free_strap = 0;
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    const int region = mesh.triangles[i].region;
    for (int j = 0; j < mesh.n_triangles(); ++j) {
      const int other = mesh.triangles[j].region;
      if (scenes::is_panel(region) && scenes::is_panel(other)) {
        EXPECT_FALSE(together(contact, i, j));
      }
      if (scenes::is_strap(region) && scenes::is_strap(other)) {
        EXPECT_FALSE(together(contact, i, j));
      }
      if (region == scenes::kRegionBaseSheet && scenes::is_panel(other)) {
        EXPECT_EQ(together(contact, i, j), other == scenes::kRegionBase);
      }
    }
    if (!scenes::is_strap(region)) continue;
    const bool near_panel = mesh.position.col(mesh.triangles[i].node[0]).z() < 0.45;
    if (region == scenes::kRegionStrapHeld) {
      EXPECT_FALSE(together(contact, i, 0));
    }
    free_strap += near_panel && !together(contact, i, 0) ? 1 : 0;
  }
  EXPECT_GT(free_strap, 0);
}

TEST(ToteContact, BagsOfEveryShapeStartApart) {
  for (const auto shape : {scenes::BagShape::kBoxed, scenes::BagShape::kGusset,
                           scenes::BagShape::kRounded, scenes::BagShape::kSack}) {
    for (const auto style : {scenes::StrapStyle::kTwoHandles, scenes::StrapStyle::kShoulderStrap}) {
      for (const auto support : {scenes::SupportKind::kHand, scenes::SupportKind::kHook}) {
        scenes::Scene scene = samples::boxed();
        scene.solve.contact = true;
        scene.bag.shape = shape;
        scene.bag.corner_radius_m = 0.08;
        scene.straps[0].style = style;
        if (style == scenes::StrapStyle::kShoulderStrap) scene.straps[0].length_m = 0.9;
        scene.support.kind = support;
        for (int level = 0; level <= 1; ++level) {
          const scenes::Tote tote = scenes::build_tote(scene, samples::library(), level);
          EXPECT_TRUE(tote.model.contact.active());
          EXPECT_NO_THROW(solver::EquilibriumSearch(tote.model))
              << static_cast<int>(shape) << static_cast<int>(style) << static_cast<int>(support)
              << level;
        }
      }
    }
  }
}

// One that touched the walls could not move at all.
TEST(ToteContact, ASheetThatFillsItsPocketHasSomePlay) {
  scenes::Scene scene = samples::gusset_with_pocket();
  scene.base.clearance_m = 0;
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 0);
  ASSERT_TRUE(tote.model.contact.active());
  double reach = 0;
  for (const solver::Triangle& triangle : tote.model.mesh.triangles) {
    if (triangle.region != scenes::kRegionBaseSheet) continue;
    for (const int node : triangle.node) {
      reach = std::max(reach, std::abs(tote.model.mesh.position(0, node)));
    }
  }
  EXPECT_NEAR(reach, scene.bag.width_m / 2 - 1e-3, 1e-9);
}

}  // namespace
}  // namespace totebench
