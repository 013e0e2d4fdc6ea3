// A bag on a table: weight and reaction, a stiff box by hand, laws of scale, limp walls that come
// down, feet, what is refused.
#include "totebench/studies/stand.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "app/present/stand_report.hpp"
#include "builder_samples.hpp"

namespace totebench {
namespace {

// A separate base, walls and base of one sheet of plastic, 2 mm thick, next to no seam allowance.
scenes::Scene stiff_box() {
  scenes::Scene scene = samples::small_bag();
  scene.bag.shape = scenes::BagShape::kGusset;
  scene.bag.hem_m = 0;
  scene.bag.seam_allowance_m = 1e-4;
  scene.layers["upper"] = {{"hdpe_sheet", scenes::LayerJoin::kFused, 0.002}};
  scene.base = {};
  scene.contents.mass_kg = 3;
  scene.mesh.size_m = 0.06;
  return scene;
}

// The residual is 1e-6 of the load as the root of the sum of squares over all unknowns; its sum
// over them can be larger.
constexpr double kBalance = 1e-5;

studies::Standing stood(const scenes::Scene& scene, const materials::MaterialLibrary& library) {
  return studies::stand_tote(scene, library, nullptr, 0);
}

double weight_N(const studies::Standing& r) {
  return r.empty_tote.bag_mass_kg * r.empty_tote.model.gravity_m_per_s2;
}

// What presses on the table is the weight of bag and contents, straight down.
TEST(Stand, TheTableBearsTheWeight) {
  const scenes::Scene scene = stiff_box();
  const studies::Standing r = stood(scene, samples::library());
  ASSERT_TRUE(r.empty.up);
  ASSERT_TRUE(r.loaded.up);
  const double loaded = weight_N(r) + 3 * r.tote.model.gravity_m_per_s2;
  for (const auto& [report, weight] :
       {std::pair(r.empty.report, weight_N(r)), std::pair(r.loaded.report, loaded)}) {
    EXPECT_NEAR(report.reaction_N.z(), weight, kBalance * weight);
    EXPECT_LT(report.reaction_N.head<2>().norm(), kBalance * weight);
  }
}

// An open box of base b and walls of height h, of one sheet of areal mass m, with its straps' mass
// s: on the rim, and by half their length below it where they are sewn on. Its centre of weight is
// as high as that of walls and straps alone, over the middle; tipped about its longer side it goes
// at tan a = (depth / 2) / height.
TEST(Stand, AStiffBoxByHand) {
  const scenes::Scene scene = stiff_box();
  const studies::Standing r = stood(scene, samples::library());
  const scenes::Bag& bag = scene.bag;
  const double areal = 0.002 * samples::library().find("hdpe_sheet")->find("density")->value;
  const double walls = areal * 2 * (bag.width_m + bag.depth_m) * bag.height_m;
  const double panels = walls + areal * bag.width_m * bag.depth_m;
  const double straps = r.empty_tote.bag_mass_kg - panels;
  const scenes::Strap& strap = scene.straps.front();
  const double sewn = 2 * strap.overlap_m / (strap.length_m + 2 * strap.overlap_m);
  // Webbing of 1.05 kg/m2 (library), two of 58 cm and 36 mm wide.
  EXPECT_NEAR(straps, 2 * 0.58 * 0.036 * 1.05, 0.05 * straps);
  const double height =
      (walls * bag.height_m / 2 + straps * bag.height_m - straps * sewn * strap.overlap_m / 2) /
      (panels + straps);

  const scenes::StandingShape& shape = r.empty.shape;
  EXPECT_NEAR(shape.rim_low_m, bag.height_m, 0.003);  // and a gap of the sheet's thickness below
  EXPECT_NEAR(shape.rim_m, bag.height_m, 0.003);
  EXPECT_NEAR(shape.mouth_m, bag.depth_m, 0.003);
  EXPECT_NEAR(shape.footprint_width_m, bag.width_m, 0.001);
  EXPECT_NEAR(shape.footprint_depth_m, bag.depth_m, 0.001);
  for (const double lean : shape.lean_rad) EXPECT_NEAR(lean, 0, 0.01);
  ASSERT_TRUE(shape.tips_at_rad.has_value());
  EXPECT_NEAR(std::tan(*shape.tips_at_rad), bag.depth_m / 2 / height,
              0.02 * bag.depth_m / 2 / height);
  EXPECT_EQ(r.stood_under, studies::kMostOwnWeights);
  EXPECT_FALSE(r.down_under.has_value());
  // The load lies on the base: the centre of weight comes down.
  EXPECT_GT(*r.loaded.shape.tips_at_rad, 1.5 * *shape.tips_at_rad);
}

// Canvas comes down under its own weight, and lies lower than three quarters of its height.
TEST(Stand, CanvasComesDownAndLies) {
  scenes::Scene scene = samples::small_bag();
  scene.bag.shape = scenes::BagShape::kGusset;
  scene.base = {};
  scene.contents.mass_kg = 1;
  scene.mesh.size_m = 0.06;
  const studies::Standing r = stood(scene, samples::library());
  EXPECT_FALSE(r.empty.up);
  ASSERT_TRUE(r.empty.at_rest());
  EXPECT_LT(r.empty.shape.rim_low_m, studies::kStandingShare * scene.bag.height_m);
  ASSERT_TRUE(r.down_under.has_value());
  EXPECT_LE(*r.down_under, 1);
  EXPECT_LT(r.stood_under, *r.down_under);
  EXPECT_NEAR(r.empty.report.reaction_N.z(), weight_N(r), kBalance * weight_N(r));
  // A free strip is the weakest that a wall can be.
  EXPECT_LT(r.columns_m, scene.bag.height_m);
  EXPECT_NE(app::stand_sentence(scene, r, "cm").find("does not stand by itself"),
            std::string::npos);
}

TEST(Stand, OnFeet) {
  scenes::Scene scene = stiff_box();
  scene.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 0.002, 0.004, 0};
  scene.feet = {4, 0.02, 0.03, 0.004, 0.006};
  const studies::Standing r = stood(scene, samples::library());
  ASSERT_TRUE(r.empty.up);
  // From foot to foot, and half a foot of 12 mm beyond at either end.
  EXPECT_NEAR(r.empty.shape.footprint_width_m, scene.bag.width_m - 0.04 + 0.012, 1e-9);
  EXPECT_NEAR(r.empty.shape.footprint_depth_m, scene.bag.depth_m - 0.04 + 0.012, 1e-9);
  EXPECT_NEAR(r.empty.shape.rim_low_m, scene.bag.height_m + 0.006, 0.003);
  EXPECT_NEAR(r.empty.report.reaction_N.z(), weight_N(r), kBalance * weight_N(r));
}

TEST(Stand, AFlatBagHasNothingToStandOn) {
  EXPECT_EQ(studies::why_not_stood(stiff_box()), "");
  EXPECT_NE(studies::why_not_stood(samples::sack()), "");
  EXPECT_NE(studies::why_not_stood(samples::rounded()), "");
}

TEST(Stand, StoppedItSaysSo) {
  int calls = 0;
  const studies::Standing r = studies::stand_tote(
      stiff_box(), samples::library(), [&](const studies::HangProgress&) { return ++calls < 5; },
      0);
  EXPECT_TRUE(r.interrupted);
  EXPECT_FALSE(r.empty.up);
  EXPECT_NE(app::stand_sentence(stiff_box(), r, "cm").find("stopped on request"),
            std::string::npos);
}

}  // namespace
}  // namespace totebench
