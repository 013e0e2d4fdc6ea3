// Cloth plies and stacks: the joins, their limits, and that every section can be used.
#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>

#include "materials/stack.hpp"
#include "tests/unit/shipped_library.hpp"

namespace totebench {
namespace {

using Eigen::Matrix3d;
constexpr double kDegree = 3.14159265358979323846 / 180.0;

Ply ply(const char* id, Join join = Join::kFused, double pitch_m = 0, double angle_deg = 0) {
  Ply p;
  p.material = library().find(id);
  EXPECT_NE(p.material, nullptr) << id;
  p.join = join;
  p.grid_pitch_m = pitch_m;
  p.warp_angle_rad = angle_deg * kDegree;
  return p;
}

StackSection stack(const std::vector<Ply>& plies) { return stack_section(library(), plies); }

double diagonal_sum(const Matrix3d& m) { return m(0, 0) + m(1, 1); }

double sum_of_plies(const std::vector<Ply>& plies) {
  double sum = 0;
  for (const Ply& p : plies) {
    sum += diagonal_sum(ply_section(*p.material, p.thickness_m, p.warp_angle_rad).D);
  }
  return sum;
}

// Smallest eigenvalue of [A B/h; B/h D/h^2] scaled to be free of units, against its largest.
double smallest_pivot(const StackSection& s) {
  const double h = std::sqrt(diagonal_sum(s.D) / diagonal_sum(s.A));
  Eigen::Matrix<double, 6, 6> all;
  all << s.A, s.B / h, s.B / h, s.D / (h * h);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 6, 6>> eigen(all);
  return eigen.eigenvalues()(0) / eigen.eigenvalues()(5);
}

TEST(Stack, EveryMaterialMakesAPositiveDefiniteSection) {
  for (const Material& m : library().materials()) {
    for (const MembraneRange range : {MembraneRange::kInitial, MembraneRange::kPostCrimp}) {
      Ply p;
      p.material = &m;
      p.warp_angle_rad = 0.4;
      const StackSection s = stack_section(library(), {p}, range);
      EXPECT_GT(smallest_pivot(s), 1e-7) << m.id;
      EXPECT_GT(s.areal_mass_kg_per_m2, 0) << m.id;
      EXPECT_GT(s.thickness_m, 0) << m.id;
    }
  }
}

TEST(Stack, TypicalStacksArePositiveDefinite) {
  const std::vector<std::vector<Ply>> stacks = {
      {ply("quilting_cotton"), ply("fusible_nonwoven_medium"),
       ply("stabilizer_nonwoven_1mm", Join::kSewnAtEdges),
       ply("quilting_cotton", Join::kSewnAtEdges)},
      {ply("quilting_cotton"), ply("batting_needled_cotton", Join::kStitchedGrid, 0.03),
       ply("quilting_cotton", Join::kStitchedGrid, 0.03)},
      {ply("cotton_duck_12oz", Join::kFused, 0, 45), ply("fusible_woven_light"),
       ply("lining_polyester_taffeta", Join::kSewnAtEdges), ply("hdpe_sheet", Join::kLoose)},
      {ply("faux_suede"), ply("stabilizer_foam_4mm"), ply("hdpe_sheet", Join::kSewnAtEdges),
       ply("chipboard_2mm")},
  };
  for (std::size_t i = 0; i < stacks.size(); ++i) {
    EXPECT_GT(smallest_pivot(stack(stacks[i])), 1e-8) << "stack " << i;
  }
}

TEST(Stack, StripOfOnePlyShowsTheMeasuredStiffness) {
  const Material& duck = *library().find("cotton_duck_10oz");
  const PlySection p = ply_section(duck);
  EXPECT_NEAR(1 / p.D.inverse()(0, 0), 100e-6, 1e-12);
  EXPECT_NEAR(1 / p.D.inverse()(1, 1), 70e-6, 1e-12);
  EXPECT_NEAR(1 / p.A.inverse()(0, 0), 24500, 1e-6);
  EXPECT_NEAR(1 / p.A.inverse()(1, 1), 9800, 1e-6);
  // The bending rigidity of a strip cut on the bias lies between warp and weft.
  const double bias = 1 / rotated(p.D, 45 * kDegree).inverse()(0, 0);
  EXPECT_GT(bias, 70e-6);
  EXPECT_LT(bias, 100e-6);
}

TEST(Stack, TurningByARightAngleSwapsWarpAndWeft) {
  const PlySection straight = ply_section(*library().find("denim_12oz"));
  const PlySection turned = ply_section(*library().find("denim_12oz"), 0, 90 * kDegree);
  EXPECT_NEAR(turned.A(0, 0), straight.A(1, 1), 1e-6);
  EXPECT_NEAR(turned.D(1, 1), straight.D(0, 0), 1e-14);
}

// A bias strip of cloth is soft because it shears: E45 = 4 G for G much below K (trade rule, from
// memory).
TEST(Stack, BiasStiffnessComesFromShear) {
  const PlySection p = ply_section(*library().find("quilting_cotton"), 0, 45 * kDegree);
  EXPECT_NEAR(1 / p.A.inverse()(0, 0), 4 * 56, 0.02 * 4 * 56);
}

TEST(Stack, FusedPairBendsByTheGivenRatio) {
  for (const char* cloth : {"quilting_cotton", "cotton_duck_10oz", "cotton_duck_no8"}) {
    for (const char* fusible :
         {"fusible_woven_light", "fusible_nonwoven_light", "fusible_nonwoven_medium"}) {
      const std::vector<Ply> pair = {ply(cloth), ply(fusible)};
      const double fused = diagonal_sum(stack(pair).free_bending_rigidity());
      const double ratio = library().find(fusible)->get("fused_bending_ratio").value;
      EXPECT_NEAR(fused / sum_of_plies(pair), ratio, 1e-9) << cloth << " " << fusible;
      const double eta = bond_efficiency(library(), pair[0], pair[1]);
      EXPECT_GT(eta, 0);
      EXPECT_LT(eta, 1);
    }
  }
}

// Worked example: quilting cotton 7 + medium nonwoven 15 = 22 uN m in the warp, times 3 = 66. The
// ratio is met for warp and weft together, the warp strip alone within a tenth.
TEST(Stack, FusedQuiltingCottonWorkedExample) {
  const StackSection s = stack({ply("quilting_cotton"), ply("fusible_nonwoven_medium")});
  EXPECT_NEAR(1 / s.free_bending_rigidity().inverse()(0, 0), 66e-6, 6.6e-6);
}

TEST(Stack, RatioHoldsWhicheverSideTheFusibleIsOn) {
  const StackSection outside = stack({ply("fusible_nonwoven_light"), ply("quilting_cotton")});
  const StackSection inside = stack({ply("quilting_cotton"), ply("fusible_nonwoven_light")});
  EXPECT_NEAR(outside.free_bending_rigidity()(0, 0), inside.free_bending_rigidity()(0, 0), 1e-15);
  EXPECT_NEAR(outside.B(0, 0), -inside.B(0, 0), 1e-12);
  EXPECT_GT(inside.B(0, 0), 0);  // the stiffer cloth lies outside, at positive z
}

// The solidity rule against the ratio rule it stands in for.
TEST(Stack, SolidityRuleAgreesWithTheFusedRatio) {
  for (const char* fusible :
       {"fusible_woven_light", "fusible_nonwoven_light", "fusible_nonwoven_medium"}) {
    Material unrated = *library().find(fusible);
    unrated.properties.erase("fused_bending_ratio");
    Ply below;
    below.material = &unrated;
    const double by_rule =
        diagonal_sum(stack({ply("quilting_cotton"), below}).free_bending_rigidity());
    const double by_ratio =
        diagonal_sum(stack({ply("quilting_cotton"), ply(fusible)}).free_bending_rigidity());
    EXPECT_NEAR(by_rule / by_ratio, 1, 0.3) << fusible;
    EXPECT_NE(by_rule, by_ratio);
  }
}

TEST(Stack, PartlyBondedLiesBetweenSlidingAndSolid) {
  const auto with = [](Join join, double pitch) {
    return diagonal_sum(stack({ply("quilting_cotton"), ply("stabilizer_nonwoven_1mm", join, pitch),
                               ply("quilting_cotton", join, pitch)})
                            .free_bending_rigidity());
  };
  const double sliding = with(Join::kSewnAtEdges, 0);
  const double fused = with(Join::kFused, 0);
  const double dense = with(Join::kStitchedGrid, 0.01), wide = with(Join::kStitchedGrid, 0.06);
  EXPECT_LT(sliding, wide);
  EXPECT_LT(wide, dense);
  EXPECT_LT(dense, fused);
  // Upper bound: classical lamination of the membrane stiffnesses.
  const PlySection cotton = ply_section(*library().find("quilting_cotton"));
  const double offset = 0.65e-3;
  const double solid = sliding + 2 * diagonal_sum(cotton.A) * offset * offset;
  EXPECT_LT(fused, solid);
  // The two sides of a sliding stack add up exactly.
  EXPECT_NEAR(sliding,
              sum_of_plies(
                  {ply("quilting_cotton"), ply("stabilizer_nonwoven_1mm"), ply("quilting_cotton")}),
              1e-15);
}

// Quilted stacks bend 1.5 to 3 times as hard as their plies (estimate the slip length is set by).
TEST(Stack, QuiltingGainsOneAndAHalfToThree) {
  for (const double pitch : {0.025, 0.05, 0.075}) {
    const std::vector<Ply> quilt = {ply("quilting_cotton"),
                                    ply("batting_needled_cotton", Join::kStitchedGrid, pitch),
                                    ply("quilting_cotton", Join::kStitchedGrid, pitch)};
    const double warp = stack(quilt).D(0, 0);
    double sum = 0;
    for (const Ply& p : quilt) sum += ply_section(*p.material).D(0, 0);
    EXPECT_GE(warp / sum, 1.5) << pitch;
    EXPECT_LE(warp / sum, 3.0) << pitch;
  }
}

TEST(Stack, SewnInSheetAddsMembraneAndBendingButNoCoupling) {
  const StackSection cloth = stack({ply("quilting_cotton")});
  const StackSection both =
      stack({ply("quilting_cotton"), ply("stabilizer_nonwoven_1mm", Join::kSewnAtEdges)});
  const PlySection sheet = ply_section(*library().find("stabilizer_nonwoven_1mm"));
  EXPECT_NEAR(both.A(0, 0), cloth.A(0, 0) + sheet.A(0, 0), 1e-9);
  EXPECT_NEAR(both.D(0, 0), cloth.D(0, 0) + sheet.D(0, 0), 1e-15);
  EXPECT_EQ(both.B, cloth.B);
  EXPECT_DOUBLE_EQ(both.reference_depth_m, 0.15e-3);
}

TEST(Stack, LooseSheetAddsMassOnlyAndTakesWhatIsFusedToItAlong) {
  const StackSection cloth = stack({ply("cotton_duck_10oz")});
  const StackSection with = stack({ply("cotton_duck_10oz"), ply("hdpe_sheet", Join::kLoose),
                                   ply("quilting_cotton", Join::kFused)});
  EXPECT_EQ(with.A, cloth.A);
  EXPECT_EQ(with.D, cloth.D);
  EXPECT_NEAR(with.areal_mass_kg_per_m2, 0.339 + 955 * 2e-3 + 0.140, 1e-9);
}

TEST(Stack, ThicknessScalesSolidsAndSpacesCloth) {
  const Material& hdpe = *library().find("hdpe_sheet");
  EXPECT_NEAR(ply_section(hdpe, 4e-3).D(0, 0) / ply_section(hdpe, 2e-3).D(0, 0), 8, 1e-9);
  EXPECT_NEAR(ply_section(hdpe, 4e-3).areal_mass_kg_per_m2, 955 * 4e-3, 1e-12);
  const Material& cotton = *library().find("quilting_cotton");
  EXPECT_EQ(ply_section(cotton, 0.5e-3).D, ply_section(cotton).D);
  EXPECT_DOUBLE_EQ(ply_section(cotton, 0.5e-3).thickness_m, 0.5e-3);
}

TEST(Stack, SeamAllowanceAddsSlidingPlies) {
  const StackSection one = stack({ply("quilting_cotton"), ply("fusible_nonwoven_medium")});
  StackSection band = one;
  add_sliding_plies(band, one, 2);
  EXPECT_NEAR(band.A(0, 0), 3 * one.A(0, 0), 1e-9);
  EXPECT_NEAR(band.areal_mass_kg_per_m2, 3 * one.areal_mass_kg_per_m2, 1e-12);
  const Matrix3d threefold = 3 * one.free_bending_rigidity();
  EXPECT_LT((band.free_bending_rigidity() - threefold).cwiseAbs().maxCoeff(), 1e-12);
  EXPECT_GT(smallest_pivot(band), 1e-8);
}

// A lining that slides must not stiffen a fused panel by more than its own bending rigidity.
TEST(Stack, SlidingLiningLeavesTheFusedPanelSupple) {
  const StackSection bare = stack({ply("quilting_cotton"), ply("fusible_nonwoven_medium")});
  const StackSection lined = stack({ply("quilting_cotton"), ply("fusible_nonwoven_medium"),
                                    ply("lining_polyester_taffeta", Join::kSewnAtEdges)});
  const double own = diagonal_sum(ply_section(*library().find("lining_polyester_taffeta")).D);
  EXPECT_NEAR(diagonal_sum(lined.free_bending_rigidity()),
              diagonal_sum(bare.free_bending_rigidity()) + own, 1e-12);
  EXPECT_EQ(lined.B, lined.B.transpose());
  // It stretches with the neutral surface of the panel, which stays where it was.
  EXPECT_NEAR(diagonal_sum(lined.B) / diagonal_sum(lined.A),
              diagonal_sum(bare.B) / diagonal_sum(bare.A), 1e-12);
  EXPECT_GT(diagonal_sum(bare.B), 0);
}

TEST(Stack, UnstableOrIncompleteInputIsRefused) {
  EXPECT_THROW((void)orthotropic_stiffness(100, 100, 10, 1.0), std::invalid_argument);
  EXPECT_THROW((void)orthotropic_stiffness(100, 0, 10, 0.2), std::invalid_argument);
  EXPECT_THROW((void)engineering_stiffness(1, 100, 1, 0.2), std::invalid_argument);
  EXPECT_THROW((void)stack({}), std::invalid_argument);
  EXPECT_THROW((void)stack({Ply{}}), std::invalid_argument);
  EXPECT_THROW(
      (void)stack({ply("quilting_cotton"), ply("batting_needled_cotton", Join::kStitchedGrid, 0)}),
      std::invalid_argument);
  Material bare = *library().find("quilting_cotton");
  bare.properties.erase("shear_stiffness");
  Ply p;
  p.material = &bare;
  EXPECT_THROW((void)stack({p}), std::invalid_argument);
}

TEST(Stack, SymmetryOfPoissonRatios) {
  const Matrix3d q = orthotropic_stiffness(16300, 8200, 56, 0.24);
  const Matrix3d s = q.inverse();
  const double nu12 = -s(1, 0) / s(0, 0), nu21 = -s(0, 1) / s(1, 1);
  EXPECT_NEAR(nu12 * 8200, nu21 * 16300, 1e-9);
  EXPECT_NEAR(std::sqrt(nu12 * nu21), 0.24, 1e-12);
}

TEST(Stack, TensionCurveHasTwoSlopes) {
  const Material& cotton = *library().find("quilting_cotton");
  EXPECT_DOUBLE_EQ(secant_stiffness(cotton, true, 250), 16300);
  // 489 N/m at the crimp strain 0.03; 1000 N/m further at 120 kN/m.
  EXPECT_NEAR(secant_stiffness(cotton, true, 1489), 1489 / (0.03 + 1000 / 120000.0), 1e-6);
  EXPECT_DOUBLE_EQ(secant_stiffness(*library().find("faux_suede"), true, 5000), 9000);
}

TEST(StackStrength, WeakestPlyPartsFirst) {
  const StackStrength one = stack_strength({ply("quilting_cotton")});
  EXPECT_DOUBLE_EQ(one.warp.value, 9800);
  EXPECT_DOUBLE_EQ(one.weft.value, 8400);
  // The lining still has 0.1 / 0.25 of its load when the cotton parts.
  const StackStrength lined =
      stack_strength({ply("quilting_cotton"), ply("fusible_nonwoven_medium"),
                      ply("stabilizer_nonwoven_1mm", Join::kSewnAtEdges),
                      ply("lining_polyester_taffeta", Join::kSewnAtEdges)});
  EXPECT_NEAR(lined.warp.value, 9800 + 12000 * 0.1 / 0.25, 1e-9);
  EXPECT_EQ(lined.weakest_warp, "quilting_cotton");
  EXPECT_LT(lined.warp.low, lined.warp.value);
  EXPECT_EQ(lined.warp.grade, kGradeEstimate);
  // Loose plies do not help; a ply turned by 90 degrees pulls along its weft.
  const StackStrength turned = stack_strength(
      {ply("quilting_cotton", Join::kFused, 0, 90), ply("cotton_duck_12oz", Join::kLoose)});
  EXPECT_NEAR(turned.warp.value, 8400, 1e-9);
  EXPECT_DOUBLE_EQ(stack_strength({ply("buckram")}).warp.value, 0);
}

}  // namespace
}  // namespace totebench
