// What a tote weighs, by hand: areas of cloth, of what lies double, of straps, and feet.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "builder_samples.hpp"
#include "totebench/solver/mass.hpp"

namespace totebench {
namespace {

constexpr double kDuck = 0.339;  // kg/m2: 10 oz duck, the library's areal mass
constexpr double kWeb = 1.050;   // kg/m2: cotton webbing, likewise

double mass_of(const scenes::Scene& scene, int level = 1) {
  return scenes::build_tote(scene, samples::library(), level).bag_mass_kg;
}

scenes::Scene without_allowances(scenes::BagShape shape) {
  scenes::Scene scene = samples::boxed();
  scene.bag.shape = shape;
  scene.bag.seam_allowance_m = 0;
  return scene;
}

// Walls 2 (w + d) h, base w d, the hem once more 2 (w + d) 30 mm, two handles of
// 0.62 + 2 x 0.06 m by 36 mm:
//   0.339 (0.3816 + 0.057 + 0.0318) + 1.05 x 0.05328 = 0.21539 kg.
TEST(ToteMass, IsThatOfItsCutAreas) {
  for (const auto shape : {scenes::BagShape::kBoxed, scenes::BagShape::kGusset}) {
    const double cloth = 2 * 0.53 * 0.36 + 0.38 * 0.15 + 2 * 0.53 * 0.030;
    const double straps = 2 * (0.62 + 2 * 0.060) * 0.036;
    EXPECT_NEAR(mass_of(without_allowances(shape)), kDuck * cloth + kWeb * straps, 1e-9);
  }
}

// A gusset's panels are sewn all round but at the opening. An allowance of s lies on each of them
// along its sewn edges, its corners once: walls 2 h s + b s - 2 s^2 (b = w, twice, and d, twice),
// base 2 (w + d) s - 4 s^2. With s = 25 mm, 0.1123 m2; the 16 samples a triangle see that to some
// per cent.
TEST(ToteMass, AllowancesLieAlongEverySewnEdgeOnce) {
  scenes::Scene scene = without_allowances(scenes::BagShape::kGusset);
  const double bare = mass_of(scene);
  const double s = 0.025;
  scene.bag.seam_allowance_m = s;
  const double walls = 2 * (4 * 0.36 * s + (0.38 + 0.15) * s - 4 * s * s);
  const double base = 2 * 0.53 * s - 4 * s * s;
  EXPECT_NEAR(mass_of(scene) - bare, kDuck * (walls + base), 0.05 * kDuck * (walls + base));
}

// A base sheet, here 2 mm of polyethylene cut 4 mm short of the base, weighs
// 955 x 0.002 x 0.372 x 0.142 = 0.10089 kg (sampled). Four feet of 4 g with squares of 60 mm, 40 mm
// from the edges: 4 x 3.6e-3 m2 of cloth (sampled) and 16 g.
TEST(ToteMass, BaseSheetFeetAndTheirPatchesWeigh) {
  scenes::Scene scene = without_allowances(scenes::BagShape::kBoxed);
  const double soft = mass_of(scene);
  scene.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 0.002, 0.004, 0};
  const double bare = mass_of(scene);
  EXPECT_NEAR(bare - soft, 955 * 0.002 * 0.372 * 0.142, 0.05 * 0.10089);
  scene.feet = {4, 0.04, 0.06, 0.004};
  const double patches = kDuck * 4 * 0.06 * 0.06;
  EXPECT_NEAR(mass_of(scene) - bare, 0.016 + patches, 0.1 * patches);
}

// Behind each of four strap ends a piece 10 mm larger than the strap on each side: 56 mm by 60 mm
// and 10 mm more below (sampled).
TEST(ToteMass, PatchesBehindTheStrapEndsWeigh) {
  scenes::Scene scene = without_allowances(scenes::BagShape::kBoxed);
  const double bare = mass_of(scene);
  scene.straps[0].attachment.patch = true;
  const double patches = kDuck * 4 * 0.056 * 0.070;
  EXPECT_NEAR(mass_of(scene) - bare, patches, 0.1 * patches);
}

// What swings and bounces is what weighs: bag and contents.
TEST(ToteMass, OfTheNodesIsThatOfBagAndContents) {
  const scenes::Tote tote = scenes::build_tote(samples::small_bag(), samples::library(), 0);
  const Eigen::VectorXd mass = solver::nodal_masses(tote.model, solver::start_state(tote.model));
  EXPECT_NEAR(mass.sum(), tote.bag_mass_kg + 7.5, 1e-9);
}

// An open box holds w d h. Two sheets of w by h, h >= w, sewn around hold
// w^3 (h / (pi w) - 0.142 (1 - 10^(-h/w))) (paper-bag problem, from memory); of two squares of 1 m
// that is 0.3183 - 0.1278 = 0.1905 m3.
TEST(ToteVolume, OfABoxAndOfTwoSheets) {
  EXPECT_NEAR(scenes::build_tote(samples::boxed(), samples::library(), 0).volume_m3,
              0.38 * 0.15 * 0.36, 1e-12);
  scenes::Scene sack = samples::sack();
  sack.bag.width_m = sack.bag.height_m = 0.40;
  const double square = 1 / std::numbers::pi - 0.142 * 0.9;
  EXPECT_NEAR(square, 0.1905, 5e-5);
  EXPECT_NEAR(scenes::build_tote(sack, samples::library(), 0).volume_m3, 0.064 * square, 1e-9);
}

}  // namespace
}  // namespace totebench
