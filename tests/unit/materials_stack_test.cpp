// Cloth plies and stacks: the joins, their limits, and that every section can be used.
#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>

#include "tests/unit/shipped_library.hpp"
#include "totebench/materials/stack.hpp"

namespace totebench {
namespace {

using Eigen::Matrix3d;
constexpr double kDegree = 3.14159265358979323846 / 180.0;

materials::Ply ply(const char* id, materials::Join join = materials::Join::kFused,
                   double pitch_m = 0, double angle_deg = 0) {
  materials::Ply p;
  p.material = library().find(id);
  EXPECT_NE(p.material, nullptr) << id;
  p.join = join;
  p.grid_pitch_m = pitch_m;
  p.warp_angle_rad = angle_deg * kDegree;
  return p;
}

materials::StackSection stack(const std::vector<materials::Ply>& plies) {
  return materials::stack_section(library(), plies);
}

double diagonal_sum(const Matrix3d& m) { return m(0, 0) + m(1, 1); }

double sum_of_plies(const std::vector<materials::Ply>& plies) {
  double sum = 0;
  for (const materials::Ply& p : plies) {
    sum += diagonal_sum(materials::ply_section(*p.material, p.thickness_m, p.warp_angle_rad).D);
  }
  return sum;
}

// Smallest eigenvalue of [A B/h; B/h D/h^2] scaled to be free of units, against its largest.
double smallest_pivot(const materials::StackSection& s) {
  const double h = std::sqrt(diagonal_sum(s.D) / diagonal_sum(s.A));
  Eigen::Matrix<double, 6, 6> all;
  all << s.A, s.B / h, s.B / h, s.D / (h * h);
  const Eigen::SelfAdjointEigenSolver<Eigen::Matrix<double, 6, 6>> eigen(all);
  return eigen.eigenvalues()(0) / eigen.eigenvalues()(5);
}

TEST(Stack, EveryMaterialMakesAPositiveDefiniteSection) {
  for (const materials::Material& m : library().materials()) {
    for (const materials::MembraneRange range :
         {materials::MembraneRange::kInitial, materials::MembraneRange::kPostCrimp}) {
      materials::Ply p;
      p.material = &m;
      p.warp_angle_rad = 0.4;
      const materials::StackSection s = materials::stack_section(library(), {p}, range);
      EXPECT_GT(smallest_pivot(s), 1e-7) << m.id;
      EXPECT_GT(s.areal_mass_kg_per_m2, 0) << m.id;
      EXPECT_GT(s.thickness_m, 0) << m.id;
    }
  }
}

TEST(Stack, TypicalStacksArePositiveDefinite) {
  const std::vector<std::vector<materials::Ply>> stacks = {
      {ply("quilting_cotton"), ply("fusible_nonwoven_medium"),
       ply("stabilizer_nonwoven_1mm", materials::Join::kSewnAtEdges),
       ply("quilting_cotton", materials::Join::kSewnAtEdges)},
      {ply("quilting_cotton"), ply("batting_needled_cotton", materials::Join::kStitchedGrid, 0.03),
       ply("quilting_cotton", materials::Join::kStitchedGrid, 0.03)},
      {ply("cotton_duck_12oz", materials::Join::kFused, 0, 45), ply("fusible_woven_light"),
       ply("lining_polyester_taffeta", materials::Join::kSewnAtEdges),
       ply("hdpe_sheet", materials::Join::kLoose)},
      {ply("faux_suede"), ply("stabilizer_foam_4mm"),
       ply("hdpe_sheet", materials::Join::kSewnAtEdges), ply("chipboard_2mm")},
  };
  for (std::size_t i = 0; i < stacks.size(); ++i) {
    EXPECT_GT(smallest_pivot(stack(stacks[i])), 1e-8) << "stack " << i;
  }
}

TEST(Stack, StripOfOnePlyShowsTheMeasuredStiffness) {
  const materials::Material& duck = *library().find("cotton_duck_10oz");
  const materials::PlySection p = materials::ply_section(duck);
  EXPECT_NEAR(1 / p.D.inverse()(0, 0), 100e-6, 1e-12);
  EXPECT_NEAR(1 / p.D.inverse()(1, 1), 70e-6, 1e-12);
  EXPECT_NEAR(1 / p.A.inverse()(0, 0), 24500, 1e-6);
  EXPECT_NEAR(1 / p.A.inverse()(1, 1), 9800, 1e-6);
  // The bending rigidity of a strip cut on the bias lies between warp and weft.
  const double bias = 1 / materials::rotated(p.D, 45 * kDegree).inverse()(0, 0);
  EXPECT_GT(bias, 70e-6);
  EXPECT_LT(bias, 100e-6);
}

TEST(Stack, TurningByARightAngleSwapsWarpAndWeft) {
  const materials::PlySection straight = materials::ply_section(*library().find("denim_12oz"));
  const materials::PlySection turned =
      materials::ply_section(*library().find("denim_12oz"), 0, 90 * kDegree);
  EXPECT_NEAR(turned.A(0, 0), straight.A(1, 1), 1e-6);
  EXPECT_NEAR(turned.D(1, 1), straight.D(0, 0), 1e-14);
}

// A bias strip of cloth is soft because it shears: E45 = 4 G for G much below K (trade rule, from
// memory).
TEST(Stack, BiasStiffnessComesFromShear) {
  const materials::PlySection p =
      materials::ply_section(*library().find("quilting_cotton"), 0, 45 * kDegree);
  EXPECT_NEAR(1 / p.A.inverse()(0, 0), 4 * 56, 0.02 * 4 * 56);
}

TEST(Stack, FusedPairBendsByTheGivenRatio) {
  for (const char* cloth : {"quilting_cotton", "cotton_duck_10oz", "cotton_duck_no8"}) {
    for (const char* fusible :
         {"fusible_woven_light", "fusible_nonwoven_light", "fusible_nonwoven_medium"}) {
      const std::vector<materials::Ply> pair = {ply(cloth), ply(fusible)};
      const double fused = diagonal_sum(stack(pair).free_bending_rigidity());
      const double ratio = library().find(fusible)->get("fused_bending_ratio").value;
      EXPECT_NEAR(fused / sum_of_plies(pair), ratio, 1e-9) << cloth << " " << fusible;
      const double eta = materials::bond_efficiency(library(), pair[0], pair[1]);
      EXPECT_GT(eta, 0);
      EXPECT_LT(eta, 1);
    }
  }
}

// Worked example: quilting cotton 7 + medium nonwoven 15 = 22 uN m in the warp, times 3 = 66. The
// ratio is met for warp and weft together, the warp strip alone within a tenth.
TEST(Stack, FusedQuiltingCottonWorkedExample) {
  const materials::StackSection s = stack({ply("quilting_cotton"), ply("fusible_nonwoven_medium")});
  EXPECT_NEAR(1 / s.free_bending_rigidity().inverse()(0, 0), 66e-6, 6.6e-6);
}

TEST(Stack, RatioHoldsWhicheverSideTheFusibleIsOn) {
  const materials::StackSection outside =
      stack({ply("fusible_nonwoven_light"), ply("quilting_cotton")});
  const materials::StackSection inside =
      stack({ply("quilting_cotton"), ply("fusible_nonwoven_light")});
  EXPECT_NEAR(outside.free_bending_rigidity()(0, 0), inside.free_bending_rigidity()(0, 0), 1e-15);
  EXPECT_NEAR(outside.B(0, 0), -inside.B(0, 0), 1e-12);
  EXPECT_GT(inside.B(0, 0), 0);  // the stiffer cloth lies outside, at positive z
}

// The solidity rule against the ratio rule it stands in for.
TEST(Stack, SolidityRuleAgreesWithTheFusedRatio) {
  for (const char* fusible :
       {"fusible_woven_light", "fusible_nonwoven_light", "fusible_nonwoven_medium"}) {
    materials::Material unrated = *library().find(fusible);
    unrated.properties.erase("fused_bending_ratio");
    materials::Ply below;
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
  const auto with = [](materials::Join join, double pitch) {
    return diagonal_sum(stack({ply("quilting_cotton"), ply("stabilizer_nonwoven_1mm", join, pitch),
                               ply("quilting_cotton", join, pitch)})
                            .free_bending_rigidity());
  };
  const double sliding = with(materials::Join::kSewnAtEdges, 0);
  const double fused = with(materials::Join::kFused, 0);
  const double dense = with(materials::Join::kStitchedGrid, 0.01),
               wide = with(materials::Join::kStitchedGrid, 0.06);
  EXPECT_LT(sliding, wide);
  EXPECT_LT(wide, dense);
  EXPECT_LT(dense, fused);
  // Upper bound: classical lamination of the membrane stiffnesses.
  const materials::PlySection cotton = materials::ply_section(*library().find("quilting_cotton"));
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
    const std::vector<materials::Ply> quilt = {
        ply("quilting_cotton"),
        ply("batting_needled_cotton", materials::Join::kStitchedGrid, pitch),
        ply("quilting_cotton", materials::Join::kStitchedGrid, pitch)};
    const double warp = stack(quilt).D(0, 0);
    double sum = 0;
    for (const materials::Ply& p : quilt) sum += materials::ply_section(*p.material).D(0, 0);
    EXPECT_GE(warp / sum, 1.5) << pitch;
    EXPECT_LE(warp / sum, 3.0) << pitch;
  }
}

// Two solid sheets quilted every 25 mm, with the slip length of 1 mm: 1 / (1 + 25) of a full bond.
TEST(Stack, QuiltedSheetsBondByTheirSlipLength) {
  const double eta = materials::bond_efficiency(
      library(), ply("hdpe_sheet"), ply("hdpe_sheet", materials::Join::kStitchedGrid, 0.025));
  EXPECT_NEAR(eta, 1.0 / 26, 1e-9);
}

// Huber's D12 + 2 D66 = sqrt(D11 D22) of an orthotropic plate [TimoshenkoWoinowskyKrieger1959].
TEST(Stack, ClothTwistsAsHuberSays) {
  const Matrix3d d = materials::ply_section(*library().find("cotton_duck_10oz")).D;
  EXPECT_NEAR(d(0, 1) + 2 * d(2, 2), std::sqrt(d(0, 0) * d(1, 1)), 1e-12);
}

TEST(Stack, SewnInSheetAddsMembraneAndBendingButNoCoupling) {
  const materials::StackSection cloth = stack({ply("quilting_cotton")});
  const materials::StackSection both = stack(
      {ply("quilting_cotton"), ply("stabilizer_nonwoven_1mm", materials::Join::kSewnAtEdges)});
  const materials::PlySection sheet =
      materials::ply_section(*library().find("stabilizer_nonwoven_1mm"));
  EXPECT_NEAR(both.A(0, 0), cloth.A(0, 0) + sheet.A(0, 0), 1e-9);
  EXPECT_NEAR(both.D(0, 0), cloth.D(0, 0) + sheet.D(0, 0), 1e-15);
  EXPECT_EQ(both.B, cloth.B);
  EXPECT_DOUBLE_EQ(both.reference_depth_m, 0.15e-3);
}

TEST(Stack, LooseSheetAddsMassOnlyAndTakesWhatIsFusedToItAlong) {
  const materials::StackSection cloth = stack({ply("cotton_duck_10oz")});
  const materials::StackSection with =
      stack({ply("cotton_duck_10oz"), ply("hdpe_sheet", materials::Join::kLoose),
             ply("quilting_cotton", materials::Join::kFused)});
  EXPECT_EQ(with.A, cloth.A);
  EXPECT_EQ(with.D, cloth.D);
  EXPECT_NEAR(with.areal_mass_kg_per_m2, 0.339 + 955 * 2e-3 + 0.140, 1e-9);
}

TEST(Stack, ThicknessScalesSolidsAndSpacesCloth) {
  const materials::Material& hdpe = *library().find("hdpe_sheet");
  EXPECT_NEAR(
      materials::ply_section(hdpe, 4e-3).D(0, 0) / materials::ply_section(hdpe, 2e-3).D(0, 0), 8,
      1e-9);
  EXPECT_NEAR(materials::ply_section(hdpe, 4e-3).areal_mass_kg_per_m2, 955 * 4e-3, 1e-12);
  const materials::Material& cotton = *library().find("quilting_cotton");
  EXPECT_EQ(materials::ply_section(cotton, 0.5e-3).D, materials::ply_section(cotton).D);
  EXPECT_DOUBLE_EQ(materials::ply_section(cotton, 0.5e-3).thickness_m, 0.5e-3);
}

TEST(Stack, SeamAllowanceAddsSlidingPlies) {
  const materials::StackSection one =
      stack({ply("quilting_cotton"), ply("fusible_nonwoven_medium")});
  materials::StackSection band = one;
  materials::add_sliding_plies(band, one, 2);
  EXPECT_NEAR(band.A(0, 0), 3 * one.A(0, 0), 1e-9);
  EXPECT_NEAR(band.areal_mass_kg_per_m2, 3 * one.areal_mass_kg_per_m2, 1e-12);
  const Matrix3d threefold = 3 * one.free_bending_rigidity();
  EXPECT_LT((band.free_bending_rigidity() - threefold).cwiseAbs().maxCoeff(), 1e-12);
  EXPECT_GT(smallest_pivot(band), 1e-8);
}

// A lining that slides must not stiffen a fused panel by more than its own bending rigidity.
TEST(Stack, SlidingLiningLeavesTheFusedPanelSupple) {
  const materials::StackSection bare =
      stack({ply("quilting_cotton"), ply("fusible_nonwoven_medium")});
  const materials::StackSection lined =
      stack({ply("quilting_cotton"), ply("fusible_nonwoven_medium"),
             ply("lining_polyester_taffeta", materials::Join::kSewnAtEdges)});
  const double own =
      diagonal_sum(materials::ply_section(*library().find("lining_polyester_taffeta")).D);
  EXPECT_NEAR(diagonal_sum(lined.free_bending_rigidity()),
              diagonal_sum(bare.free_bending_rigidity()) + own, 1e-12);
  EXPECT_EQ(lined.B, lined.B.transpose());
  // It stretches with the neutral surface of the panel, which stays where it was.
  EXPECT_NEAR(diagonal_sum(lined.B) / diagonal_sum(lined.A),
              diagonal_sum(bare.B) / diagonal_sum(bare.A), 1e-12);
  EXPECT_GT(diagonal_sum(bare.B), 0);
}

TEST(Stack, UnstableOrIncompleteInputIsRefused) {
  EXPECT_THROW((void)materials::orthotropic_stiffness(100, 100, 10, 1.0), std::invalid_argument);
  EXPECT_THROW((void)materials::orthotropic_stiffness(100, 0, 10, 0.2), std::invalid_argument);
  EXPECT_THROW((void)materials::engineering_stiffness(1, 100, 1, 0.2), std::invalid_argument);
  EXPECT_THROW((void)stack({}), std::invalid_argument);
  EXPECT_THROW((void)stack({materials::Ply{}}), std::invalid_argument);
  EXPECT_THROW((void)stack({ply("quilting_cotton"),
                            ply("batting_needled_cotton", materials::Join::kStitchedGrid, 0)}),
               std::invalid_argument);
  materials::Material bare = *library().find("quilting_cotton");
  bare.properties.erase("shear_stiffness");
  materials::Ply p;
  p.material = &bare;
  EXPECT_THROW((void)stack({p}), std::invalid_argument);
}

TEST(Stack, SymmetryOfPoissonRatios) {
  const Matrix3d q = materials::orthotropic_stiffness(16300, 8200, 56, 0.24);
  const Matrix3d s = q.inverse();
  const double nu12 = -s(1, 0) / s(0, 0), nu21 = -s(0, 1) / s(1, 1);
  EXPECT_NEAR(nu12 * 8200, nu21 * 16300, 1e-9);
  EXPECT_NEAR(std::sqrt(nu12 * nu21), 0.24, 1e-12);
}

// E1 = 40, E2 = 10, G12 = 4, nu12 = 0.3, so nu21 = 0.3 x 10 / 40 = 0.075: Q11 = 40 / (1 - 0.0225) =
// 40.921, Q22 = 10.230, Q12 = 0.3 x 10.230 = 3.0691.
TEST(Stack, EngineeringConstantsOfAnUnevenSheet) {
  const Matrix3d q = materials::engineering_stiffness(40, 10, 4, 0.3);
  EXPECT_NEAR(q(0, 0), 40.921, 1e-3);
  EXPECT_NEAR(q(1, 1), 10.230, 1e-3);
  EXPECT_NEAR(q(0, 1), 3.0691, 1e-4);
  EXPECT_NEAR(q(2, 2), 4, 1e-12);
}

TEST(Stack, TensionCurveHasTwoSlopes) {
  const materials::Material& cotton = *library().find("quilting_cotton");
  EXPECT_DOUBLE_EQ(materials::secant_stiffness(cotton, true, 250), 16300);
  // 489 N/m at the crimp strain 0.03; 1000 N/m further at 120 kN/m.
  EXPECT_NEAR(materials::secant_stiffness(cotton, true, 1489), 1489 / (0.03 + 1000 / 120000.0),
              1e-6);
  EXPECT_DOUBLE_EQ(materials::secant_stiffness(*library().find("faux_suede"), true, 5000), 9000);
}

TEST(StackStrength, WeakestPlyPartsFirst) {
  const materials::StackStrength one = materials::stack_strength({ply("quilting_cotton")});
  EXPECT_DOUBLE_EQ(one.warp.value, 9800);
  EXPECT_DOUBLE_EQ(one.weft.value, 8400);
  // The lining still has 0.1 / 0.25 of its load when the cotton parts.
  const materials::StackStrength lined =
      materials::stack_strength({ply("quilting_cotton"), ply("fusible_nonwoven_medium"),
                                 ply("stabilizer_nonwoven_1mm", materials::Join::kSewnAtEdges),
                                 ply("lining_polyester_taffeta", materials::Join::kSewnAtEdges)});
  EXPECT_NEAR(lined.warp.value, 9800 + 12000 * 0.1 / 0.25, 1e-9);
  EXPECT_EQ(lined.weakest_warp, "quilting_cotton");
  EXPECT_LT(lined.warp.low, lined.warp.value);
  EXPECT_EQ(lined.warp.grade, materials::kGradeEstimate);
  // Loose plies do not help; a ply turned by 90 degrees pulls along its weft.
  const materials::StackStrength turned =
      materials::stack_strength({ply("quilting_cotton", materials::Join::kFused, 0, 90),
                                 ply("cotton_duck_12oz", materials::Join::kLoose)});
  EXPECT_NEAR(turned.warp.value, 8400, 1e-9);
  // On the bias by Hankinson's rule, 9800 x 8400 / (9800 / 2 + 8400 / 2) (from memory).
  const materials::StackStrength bias =
      materials::stack_strength({ply("quilting_cotton", materials::Join::kFused, 0, 45)});
  EXPECT_NEAR(bias.warp.value, 9046.15, 0.01);
  EXPECT_NEAR(bias.weft.value, 9046.15, 0.01);
  EXPECT_DOUBLE_EQ(materials::stack_strength({ply("buckram")}).warp.value, 0);
}

}  // namespace
}  // namespace totebench
