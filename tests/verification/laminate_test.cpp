// VERIFICATION  section stiffness of layered sheets
// Reference   layups A to D below, each with its source; closed forms for bonded and loose stacks
// Inputs      solid plies, listed outermost first: z points outwards here and from the first-listed
//             ply to the last in the books, so their layups are entered from last to first
// Tolerance   the digits the source prints
// Not covered cloth plies with a measured bending rigidity (unit tests of the stack)
#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <deque>

#include "book.hpp"
#include "totebench/materials/stack.hpp"

namespace totebench {
namespace {

using Eigen::Matrix3d;
constexpr double kDegree = 3.14159265358979323846 / 180.0;

Matrix3d symmetric(double a11, double a12, double a16, double a22, double a26, double a66) {
  Matrix3d m;
  m << a11, a12, a16, a12, a22, a26, a16, a26, a66;
  return m;
}

// Largest entry of the difference over the largest entry of what was expected.
double misfit(const Matrix3d& ours, const Matrix3d& expected) {
  return (ours - expected).cwiseAbs().maxCoeff() / expected.cwiseAbs().maxCoeff();
}

const char* const kDigits = "the digits the source prints";

verification::Source from(const std::string& reference,
                          verification::Quoted quoted = verification::Quoted::kNo) {
  return {"laminates", reference, kDigits, quoted};
}
constexpr auto kQuoted = verification::Quoted::kYes;
void row(const verification::Source& source, const std::string& what, double ours, double expected,
         double tolerance, std::optional<double> published = {}) {
  verification::expect_value(source, what, ours, expected, tolerance, published);
}

// Materials and plies of one test; units are whatever the source uses.
class Layup {
 public:
  const materials::Material* material(double e1, double e2, double g12, double nu12) {
    materials::Material m;
    m.id = "ply " + std::to_string(materials_.size());
    m.category = "base";
    m.properties["youngs_modulus_md"] = materials::Quantity::own(e1, "Pa");
    m.properties["youngs_modulus_cd"] = materials::Quantity::own(e2, "Pa");
    m.properties["shear_modulus"] = materials::Quantity::own(g12, "Pa");
    m.properties["poisson_ratio"] = materials::Quantity::own(nu12 * std::sqrt(e2 / e1), "1");
    m.properties["density"] = materials::Quantity::own(1000, "kg/m3");
    materials_.push_back(m);
    return &materials_.back();
  }
  // In the order of the book: first-listed ply at the lowest z.
  void add(const materials::Material* m, double thickness, double degrees,
           materials::Join join = materials::Join::kFused) {
    materials::Ply ply;
    ply.material = m;
    ply.thickness_m = thickness;
    ply.warp_angle_rad = degrees * kDegree;
    ply.join = join;
    plies_.insert(plies_.begin(), ply);
  }
  [[nodiscard]] materials::StackSection section() const {
    return materials::stack_section(library_, plies_);
  }

 private:
  materials::MaterialLibrary library_;  // empty: fused solids need no rule of it
  std::deque<materials::Material> materials_;
  std::vector<materials::Ply> plies_;
};

// Layup A, [0/45/90/-45]s of 0.0075 in plies, psi and inches. Source: test_clt1 of the open package
// PtFEM/ClassicalLaminateTheory.jl.
TEST(LaminateVerification, QuasiIsotropicSymmetric) {
  Layup layup;
  const materials::Material* m = layup.material(20e6, 1.5e6, 1e6, 0.34);
  for (const double angle : {0., 45., 90., -45., -45., 90., 45., 0.}) layup.add(m, 0.0075, angle);
  const materials::StackSection s = layup.section();
  EXPECT_LT(misfit(s.A, symmetric(525698, 155811, 0, 525698, 0, 184943)), 1e-5);
  EXPECT_LT(misfit(s.D, symmetric(250.495, 32.687, 23.619, 93.036, 23.619, 41.427)), 1e-5);
  EXPECT_LT(s.B.cwiseAbs().maxCoeff(), 1e-9 * s.A(0, 0) * 0.06);
  const auto source = from("PtFEM/ClassicalLaminateTheory.jl, test_clt1 (open package)", kQuoted);
  row(source, "[0/45/90/-45]s, A11 (lb/in)", s.A(0, 0), 525698, 1e-5);
  row(source, "[0/45/90/-45]s, D11 (lb in)", s.D(0, 0), 250.495, 1e-5);
  row(source, "[0/45/90/-45]s, D16 (lb in)", s.D(0, 2), 23.619, 1e-4);
}

// Layup B, [45/0/45] of 3, 6 and 3 mm, MPa and mm. Source: tests/test_ABD.py of the open package
// rafaelpsilva07/composipy, quoting Mendonca 2005, p. 201.
TEST(LaminateVerification, AngleCoreAngle) {
  Layup layup;
  const materials::Material* m = layup.material(54870, 18320, 8900, 0.25);
  layup.add(m, 3, 45);
  layup.add(m, 6, 0);
  layup.add(m, 3, 45);
  const materials::StackSection s = layup.section();
  EXPECT_LT(misfit(s.A, symmetric(515794.009307, 100823.254537, 55993.443462, 291820.235458,
                                  55993.443462, 151491.933923)),
            1e-9);
  EXPECT_LT(misfit(s.D, symmetric(4779418.72406, 1612106.45975, 1175862.31270, 4107497.40251,
                                  1175862.31270, 2220130.61238)),
            1e-9);
  EXPECT_LT(s.B.cwiseAbs().maxCoeff(), 1e-9 * s.A(0, 0) * 12);
  const auto source = from("rafaelpsilva07/composipy, quoting Mendonca 2005, p. 201", kQuoted);
  row(source, "[45/0/45], A11 (N/mm)", s.A(0, 0), 515794.009307, 1e-9);
  row(source, "[45/0/45], D66 (N mm)", s.D(2, 2), 2220130.61238, 1e-9);
}

// Layup C, unsymmetric [0/30/-45] of 5 mm plies. Source: Kaw, Mechanics of Composite Materials,
// example 4.2 (printed to four figures; the further digits follow from its equations).
TEST(LaminateVerification, UnsymmetricCouplesStretchAndBending) {
  Layup layup;
  const materials::Material* m = layup.material(181e9, 10.3e9, 7.17e9, 0.28);
  for (const double angle : {0., 30., -45.}) layup.add(m, 5e-3, angle);
  const materials::StackSection s = layup.section();
  EXPECT_LT(misfit(s.A, symmetric(1.739241e9, 3.883864e8, 5.663373e7, 4.532535e8, -1.140636e8,
                                  4.524825e8)),
            1e-6);
  EXPECT_LT(misfit(s.B, symmetric(-3.128834e6, 9.855216e5, -1.071656e6, 1.157791e6, -1.071656e6,
                                  9.855216e5)),
            1e-6);
  EXPECT_LT(misfit(s.D, symmetric(3.343203e4, 6.460977e3, -5.240294e3, 9.319771e3, -5.595913e3,
                                  7.662780e3)),
            1e-6);
  EXPECT_DOUBLE_EQ(s.reference_depth_m, 7.5e-3);
  const auto source = from("Kaw, Mechanics of Composite Materials, example 4.2");
  row(source, "[0/30/-45], B11 (Pa m2)", s.B(0, 0), -3.128834e6, 1e-6, -3.129e6);
  row(source, "[0/30/-45], D11 (Pa m3)", s.D(0, 0), 3.343203e4, 1e-6, 3.343e4);
  EXPECT_DOUBLE_EQ(s.areal_mass_kg_per_m2, 15);
}

// Layup D, [0/45/-45/90/90/30/-30/90]s of 0.125 mm T300/5208 plies. A: McGill MECH530 course notes
// as quoted in a public test; D: computed independently from the same lamination equations.
TEST(LaminateVerification, SixteenPlies) {
  Layup layup;
  const materials::Material* m = layup.material(181e9, 10.3e9, 7.17e9, 0.28);
  const double half[] = {0, 45, -45, 90, 90, 30, -30, 90};
  for (int i = 0; i < 8; ++i) layup.add(m, 0.125e-3, half[i]);
  for (int i = 7; i >= 0; --i) layup.add(m, 0.125e-3, half[i]);
  const materials::StackSection s = layup.section();
  EXPECT_LT(misfit(s.A, 1e6 * symmetric(136.231, 40.287, 0, 179.097, 0, 48.833)), 1e-5);
  EXPECT_LT(misfit(s.D, symmetric(61.1271, 14.1220, 2.8561, 42.5964, 2.3227, 16.9707)), 1e-5);
  row(from("McGill MECH530 notes, as quoted in a public test", kQuoted), "sixteen plies, A11 (N/m)",
      s.A(0, 0), 136.231e6, 1e-5);
  row(from("the same lamination equations, computed apart"), "sixteen plies, D11 (N m)", s.D(0, 0),
      61.1271, 1e-5);
}

// Transformation of stress by 55 degrees. Source: Barbero, Introduction to Composite Materials
// Design, example 5.3, as carried by test_composite_layup of the open package
// FinEtoolsFlexStructures. Stiffness with engineering shear turns by T^-1 Q T^-T.
TEST(LaminateVerification, TurnsAStiffnessByTheTextbookMatrix) {
  Matrix3d t_inverse;
  t_inverse << 0.32899, 0.67101, -0.93969, 0.67101, 0.32899, 0.93969, 0.46985, -0.46985, -0.34202;
  const Matrix3d q = symmetric(181.8, 2.9, 0, 10.35, 0, 7.17);
  const Matrix3d textbook = t_inverse * q * t_inverse.transpose();
  EXPECT_LT(misfit(materials::rotated(q, 55 * kDegree), textbook), 2e-5);
  EXPECT_GT(misfit(materials::rotated(q, -55 * kDegree), textbook), 0.1);
}

TEST(LaminateVerification, IsotropicPlyAtAnyAngle) {
  const double e = 900e6, nu = 0.42, t = 2e-3;
  Matrix3d expected;
  expected << 1, nu, 0, nu, 1, 0, 0, 0, (1 - nu) / 2;
  expected *= e * t / (1 - nu * nu);
  const materials::PlySection ply = materials::isotropic_ply(e, nu, t, 1.91);
  for (double angle = -90; angle <= 90; angle += 7.5) {
    EXPECT_LT(misfit(materials::rotated(ply.A, angle * kDegree), expected), 1e-12) << angle;
    EXPECT_LT(misfit(materials::rotated(ply.D, angle * kDegree), expected * t * t / 12), 1e-12)
        << angle;
  }
}

// Bonded and loose stacks in closed form (composite beam theory, nu = 0), per unit width in N, mm:
// cotton 0.5 mm of 50 MPa, interfacing 0.3/120, stabilizer 1.0/200, cotton 0.5/50.
TEST(LaminateVerification, BondedAgainstLooseStack) {
  const double thickness[] = {0.5, 0.3, 1.0, 0.5};
  const double modulus[] = {50, 120, 200, 50};
  const auto section = [&](std::vector<materials::Join> joins) {
    Layup layup;
    for (std::size_t i = 4; i-- > 0;) {  // listed outermost first: the reverse of the books
      layup.add(layup.material(modulus[i], modulus[i], modulus[i] / 2, 0), thickness[i], 0,
                joins[i]);
    }
    return layup.section();
  };
  const materials::Join f = materials::Join::kFused, s = materials::Join::kSewnAtEdges,
                        loose = materials::Join::kLoose;

  const materials::StackSection bonded = section({f, f, f, f});
  EXPECT_NEAR(bonded.A(0, 0), 286.0, 1e-9);
  EXPECT_NEAR(bonded.B(0, 0), -12.0, 1e-9);  // the stiff stabilizer lies inside the mid-surface
  EXPECT_NEAR(bonded.D(0, 0), 71.97833, 1e-5);
  EXPECT_NEAR(bonded.free_bending_rigidity()(0, 0), 71.474837, 1e-6);
  // Depth of the neutral surface below the outer face.
  EXPECT_NEAR(bonded.reference_depth_m - bonded.B(0, 0) / bonded.A(0, 0), 1.191958, 1e-6);

  const materials::StackSection sliding = section({f, s, s, s});
  EXPECT_NEAR(sliding.free_bending_rigidity()(0, 0), 17.978333, 1e-6);
  EXPECT_NEAR(sliding.A(0, 0), 286.0, 1e-9);
  EXPECT_NEAR(bonded.free_bending_rigidity()(0, 0) / sliding.free_bending_rigidity()(0, 0),
              3.975610, 1e-6);
  const auto source = from("composite beam theory, closed form");
  row(source, "bonded stack, D (N mm)", bonded.free_bending_rigidity()(0, 0), 71.474837, 1e-6);
  row(source, "loose stack, D (N mm)", sliding.free_bending_rigidity()(0, 0), 17.978333, 1e-6);

  const materials::StackSection one_pair_fused = section({f, f, s, s});
  EXPECT_NEAR(one_pair_fused.free_bending_rigidity()(0, 0), 20.338989, 1e-6);

  const materials::StackSection only_outer = section({f, loose, loose, loose});
  EXPECT_NEAR(only_outer.A(0, 0), 25.0, 1e-9);
  EXPECT_NEAR(only_outer.D(0, 0), 50 * 0.125 / 12, 1e-9);
  EXPECT_NEAR(only_outer.areal_mass_kg_per_m2, bonded.areal_mass_kg_per_m2, 1e-9);
}

// n identical plies: bonded they bend n^2 times as hard as loose (plate theory: n^3 against n).
TEST(LaminateVerification, IdenticalBondedPliesGainTheirNumberSquared) {
  for (int n = 1; n <= 4; ++n) {
    Layup bonded, loose;
    const materials::Material* a = bonded.material(50e6, 50e6, 20e6, 0.25);
    const materials::Material* b = loose.material(50e6, 50e6, 20e6, 0.25);
    for (int i = 0; i < n; ++i) {
      bonded.add(a, 0.5e-3, 0);
      loose.add(b, 0.5e-3, 0, materials::Join::kSewnAtEdges);
    }
    const Matrix3d db = bonded.section().free_bending_rigidity();
    const Matrix3d dl = loose.section().free_bending_rigidity();
    EXPECT_NEAR(db(0, 0) / dl(0, 0), n * n, 1e-9);
    EXPECT_NEAR(db(2, 2) / dl(2, 2), n * n, 1e-9);
    row(from("plate theory: n^3 against n"), "bonded over loose, " + std::to_string(n) + " plies",
        db(0, 0) / dl(0, 0), n * n, 1e-9);
  }
}

}  // namespace
}  // namespace totebench
