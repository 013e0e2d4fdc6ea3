// Seams as hinges and stitches as springs, by hand from the numbers of cloth and thread; and how
// tall a bag stands.
#include <gtest/gtest.h>

#include <cmath>
#include <map>

#include "builder_samples.hpp"
#include "scenes/builder/tote/tote_sections.hpp"
#include "scenes/findings/hook_grip.hpp"
#include "totebench/scenes/standing.hpp"
#include "totebench/scenes/strap_seams.hpp"

namespace totebench {
namespace {

// Hinge stiffness (N) by edge label.
std::map<int, double> hinges(const scenes::Scene& scene) {
  std::map<int, double> found;
  for (const solver::EdgeRule& rule : scenes::edge_rules(scene, samples::library())) {
    if (rule.joint == solver::Joint::kHinge) found[rule.label] = rule.hinge_stiffness_N;
  }
  return found;
}

// 10 oz duck: B = 100 and 70 uN m, nu = 0.24, so D11 = 100 / (1 - 0.24^2) and likewise D22; their
// mean 90.195 uN m. A seam turned inside bends over its two allowances of 10 mm:
// 90.195e-6 / 0.020 = 4.510e-3 N. A seam with both allowances to one side bends over one: 9.020e-3.
TEST(SeamHinges, BendOverTheirAllowances) {
  scenes::Scene scene = samples::boxed();
  const double mean = 0.5 * (100e-6 + 70e-6) / (1 - 0.24 * 0.24);
  EXPECT_NEAR(mean, 90.195e-6, 1e-9);
  const auto found = hinges(scene);
  EXPECT_NEAR(found.at(scenes::kEdgeSeam), mean / 0.020, 1e-9);
  EXPECT_NEAR(found.at(scenes::kEdgeBaseSeam), mean / 0.020, 1e-9);
  EXPECT_NEAR(found.at(scenes::kEdgeCrosswise), mean / 0.010, 1e-9);
  EXPECT_NEAR(found.at(scenes::kEdgeLengthwise), mean / 0.010, 1e-9);
  scene.seams.hinge_stiffness_N = 0.5;
  EXPECT_EQ(hinges(scene).at(scenes::kEdgeSeam), 0.5) << "what the scene says counts";
}

// A stitched-in sheet 4 mm short of the base's outline: the wall's cloth bends over twice the
// larger of that and the allowance, and nothing gives at the seam it lies over.
TEST(SeamHinges, AroundAStitchedInSheetSpanItsClearance) {
  const double mean = 0.5 * (100e-6 + 70e-6) / (1 - 0.24 * 0.24);
  const auto found = hinges(samples::small_bag());
  EXPECT_NEAR(found.at(scenes::kEdgeBaseOutline), mean / 0.020, 1e-9);
  EXPECT_EQ(found.count(scenes::kEdgeBaseSeam), 0U);
}

double stitch_stiffness(const scenes::Scene& scene) {
  return scenes::build_tote(scene, samples::library(), 0).model.stitches.front().stiffness_N_per_m;
}

// Two legs of thread as long as what is sewn is thick, webbing 1.8 mm and duck 0.65 mm:
// k = 2 (T / e) / t. Tex 60 of 22.2 N at 38 %: 2 x 58.42 / 2.45e-3 = 47.69 kN/m. Spun polyester of
// 21.9 N at 13 % would be at 137 kN/m, beyond the 100 kN/m that the slip of seams allows.
TEST(ToteStitches, GiveByTheirTwoLegsOfThread) {
  scenes::Scene scene = samples::boxed();
  EXPECT_NEAR(stitch_stiffness(scene), 1e5, 1e-6);
  scene.straps[0].attachment.thread = "heatresistant_tex60";
  EXPECT_NEAR(stitch_stiffness(scene), 2 * 22.2 / 0.38 / 2.45e-3, 1);
  EXPECT_NEAR(stitch_stiffness(scene), 47690, 10);
}

// A strap in the hem is held on both of its sides: two joints, twice as stiff.
TEST(ToteStitches, InTheHemGiveHalfAsMuch) {
  scenes::Scene scene = samples::boxed();
  scenes::Strap& strap = scene.straps[0];
  strap.attachment.pattern = scenes::AttachmentPattern::kInHem;
  strap.attachment.top_offset_m = 0.003;
  strap.attachment.length_m = 0.024;
  strap.overlap_m = scene.bag.hem_m;
  EXPECT_NEAR(stitch_stiffness(scene), 2e5, 1e-6);
}

// Mohr's circle of N11 = 3, N22 = 1, N12 = 1: centre 2, radius sqrt(1 + 1).
TEST(LargestPrincipal, IsThatOfMohrsCircle) {
  EXPECT_NEAR(scenes::largest_principal({3, 1, 1}), 2 + std::sqrt(2.0), 1e-12);
  EXPECT_NEAR(scenes::largest_principal({0, 0, 5}), 5, 1e-12);
}

// Rope on a post: T1 / T2 = exp(mu angle) (Euler and Eytelwein; from memory). Half a turn with
// mu = 0.3 holds 2.566 to 1.
TEST(HookGrip, IsThatOfARopeOnAPost) {
  EXPECT_NEAR(scenes::friction_to_hold(2.566, 1, M_PI), 0.3, 1e-4);
  EXPECT_NEAR(scenes::friction_to_hold(1, 2.566, M_PI), 0.3, 1e-4);
}

// A strip that bears itself alone stands to h = (7.837 B / w)^(1/3) (Greenhill; constant from
// memory), one that bears a load P on its top alone to pi/2 sqrt(B / P) (Euler's column, clamped
// below [TimoshenkoGere1961]). B = 1e-3 N m, w = 4 Pa: 1.2513 m; P = 0.1 N/m: 0.1571 m.
TEST(Standing, ByItselfAndUnderALoad) {
  EXPECT_NEAR(scenes::standing_height_m(1e-3, 4, 0), std::cbrt(7.837e-3 / 4), 1e-6);
  EXPECT_NEAR(scenes::standing_height_m(1e-3, 0, 0.1), M_PI / 2 * std::sqrt(1e-3 / 0.1), 1e-6);
}

// Two handles of 0.74 m by 36 mm of webbing weigh 1.05 x 0.05328 x 9.80665 = 0.5486 N on a rim of
// 1.06 m. The duck bends least along the weft: compliance of D gives back B = 70 uN m.
TEST(Standing, BagBearsItsStrapsOnItsRim) {
  const double top = 1.05 * 2 * 0.74 * 0.036 * 9.80665 / (2 * (0.38 + 0.15));
  EXPECT_NEAR(top, 0.5176, 1e-4);
  EXPECT_NEAR(scenes::standing_height_m(samples::boxed(), samples::library()),
              scenes::standing_height_m(70e-6, 0.339 * 9.80665, top), 1e-9);
}

}  // namespace
}  // namespace totebench
