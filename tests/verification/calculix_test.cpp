// A laminated panel solved by an independent general-purpose program as well. Skipped where ccx is
// not installed, and in continuous integration. Whole boxes and bags: slow_calculix_test.cpp.
//
// Ours        see the table "Another program" of the verification book
// Tolerance   3 %; and each program may differ from itself on a finer mesh by 1 %
#include "calculix.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "ccx_run.hpp"
#include "ccx_solids.hpp"

namespace totebench::verification {
namespace {

// n x m squares, each cut in two, over a rectangle at z = 0.
solver::Model grid(double length, double width, int n, int m) {
  Eigen::Matrix3Xd position(3, (n + 1) * (m + 1));
  std::vector<std::array<int, 3>> corners;
  const auto at = [m](int i, int j) { return i * (m + 1) + j; };
  for (int i = 0; i <= n; ++i) {
    for (int j = 0; j <= m; ++j) {
      position.col(at(i, j)) = Eigen::Vector3d(length * i / n, width * j / m, 0);
      if (i == n || j == m) continue;
      const int a = at(i, j), b = at(i + 1, j), c = at(i + 1, j + 1), d = at(i, j + 1);
      // Diagonals turn about the centre, so that the mesh is symmetric.
      if ((i < n / 2) == (j < m / 2)) {
        corners.push_back({a, b, c});
        corners.push_back({a, c, d});
      } else {
        corners.push_back({a, b, d});
        corners.push_back({b, c, d});
      }
    }
  }
  solver::Model model;
  model.mesh = solver::second_order_mesh(position, corners);
  model.mesh.warp.assign(corners.size(), Eigen::Vector3d::UnitX());
  model.payload_pressure_Pa = Eigen::VectorXd::Zero(model.mesh.n_triangles());
  return model;
}

// VERIFICATION  Panel_UnderPressure
// Inputs      0.3 x 0.2 m, unsymmetric laminate [0/90] of two 0.5 mm plies (10 and 1 GPa, nu12 0.3,
//             G 0.5 GPa), edges held in place but free to turn, 2 kPa that follows the surface: it
//             sags several thicknesses
TEST(Calculix, LaminatedPanelUnderPressure) {
  if (!ccx_is_there()) GTEST_SKIP() << "CalculiX (ccx) is not installed here, or this is CI";
  double sag[2][2], pull[2][2];
  TwoMeshes meshes;
  for (const int level : {0, 1}) {
    const int n = level == 0 ? 12 : 18;
    Problem problem;
    problem.name = level == 0 ? "panel_coarse" : "panel_fine";
    problem.plies = {
        {{10e9, 1e9, 0.3, 0.5e9, 0.5e9, 0.5e-3}, {1e9, 10e9, 0.03, 0.5e9, 0.5e9, 0.5e-3}}};
    solver::Model& model = problem.model;
    model = grid(0.3, 0.2, n, n * 2 / 3);
    model.sections = {section_of_plies(problem.plies[0])};
    model.payload_pressure_Pa.setConstant(-2000);
    problem.node = node_near(model.mesh, {0.15, 0.1, 0});
    for (int i = 0; i < model.mesh.n_nodes(); ++i) {
      const Eigen::Vector3d p = model.mesh.position.col(i);
      if (p.x() < 1e-9 || p.x() > 0.3 - 1e-9 || p.y() < 1e-9 || p.y() > 0.2 - 1e-9) {
        for (int axis = 0; axis < 3; ++axis) model.fixed.push_back({i, axis});
      }
      if (p.y() < 1e-9) problem.supports.push_back(i);
    }
    solver::State state;
    const Answer ours = by_us(problem, state);
    const Answer theirs = by_ccx(problem, OtherShell::kTriangle);
    meshes.size[level] = 0.3 / n;
    meshes.triangles[level] = model.mesh.n_triangles();
    sag[0][level] = -1e3 * ours.displacement.z();
    sag[1][level] = -1e3 * theirs.displacement.z();
    pull[0][level] = -ours.reaction.y() / 0.3;
    pull[1][level] = -theirs.reaction.y() / 0.3;
  }
  compare("laminated panel under pressure, sag (mm)", sag[0], sag[1], meshes);
  compare("laminated panel, membrane force at the long edge (N/m)", pull[0], pull[1], meshes);
}

// The curve of slow_sze_test.cpp's cylinder is read off by a cubic, which is exact for one.
TEST(CcxSolids, AForceIsReadOffACurve) {
  std::vector<PinchPoint> curve;
  for (int i = 1; i <= 6; ++i) {
    const double dent = 0.7 * i;
    curve.push_back({dent + std::pow(dent, 3), dent, -dent * dent});
  }
  for (const double dent : {0.3, 0.9, 2.5, 4.1}) {
    const PinchPoint point = at_force(curve, dent + std::pow(dent, 3));
    EXPECT_NEAR(point.dent, dent, 1e-12);
    EXPECT_NEAR(point.bulge, -dent * dent, 1e-12);
  }
  EXPECT_THROW(static_cast<void>(at_force(curve, 1e3)), std::invalid_argument);
}

}  // namespace
}  // namespace totebench::verification
