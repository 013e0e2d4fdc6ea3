// What presses on a sheet, and what the sheet then carries, by hand.
#include <gtest/gtest.h>

#include <cmath>

#include "tests/unit/solver_small_sheet.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;

// What holds a sheet without weight, summed: the load's opposite.
Vector3d held_by(const solver::Model& model, double load_factor) {
  return solver::support_reactions(model, solver::start_state(model), load_factor).rowwise().sum();
}

// Two triangles of 0.1 m x 0.1 m / 2 in the plane z = 0. A pressure of 300 Pa pushes along the
// normal: 300 x 0.005 = 1.5 N on each, 3 N on both.
TEST(Pressure, PushesOnEveryTriangleThatHasItByItsArea) {
  solver::Model model = small_sheet(true);
  model.permanent_force_N.setZero();
  const auto push = [&](double on_first, double on_second, double load_factor) -> Vector3d {
    model.payload_pressure_Pa = Eigen::Vector2d(on_first, on_second);
    return -held_by(model, load_factor);
  };
  const double up = solver::normal_of(model.mesh, model.mesh.position, {0, 0.2, 0.2}).z();
  EXPECT_NEAR(std::abs(up), 1, 1e-12);
  EXPECT_LT((push(300, 300, 1) - Vector3d(0, 0, 3 * up)).norm(), 1e-12);
  EXPECT_LT((push(300, 0, 1) - Vector3d(0, 0, 1.5 * up)).norm(), 1e-12);
  EXPECT_LT((push(0, 300, 1) - Vector3d(0, 0, 1.5 * up)).norm(), 1e-12);
  EXPECT_LT((push(300, 300, 0.25) - Vector3d(0, 0, 0.75 * up)).norm(), 1e-12);
  EXPECT_LT(push(300, 300, 0).norm(), 1e-15);
}

// Stretched by 1 % along x and 2 % along y without bending: E11 = 0.01 + 0.01^2 / 2 = 0.01005,
// E22 = 0.0202, so N = A E and, with coupling B, M = B E. Bent as well, N = A E + B k and
// M = B E + D k.
TEST(ShellFields, AreThoseOfStretchingCouplingAndBending) {
  solver::Model model = small_sheet(true);
  model.sections[0].B << 0.2, 0.05, 0, 0.05, 0.1, 0, 0, 0, 0.03;  // N
  const solver::Section& section = model.sections[0];
  solver::State state = solver::start_state(model);
  state.x.row(0) *= 1.01;
  state.x.row(1) *= 1.02;
  const Vector3d strain(0.01005, 0.0202, 0);
  const solver::ShellFields flat = solver::shell_fields(model, state);
  for (int t = 0; t < 2; ++t) {
    for (int q = 0; q < 3; ++q) {
      EXPECT_LT((flat.membrane_force[t].col(q) - section.A * strain).norm(), 1e-9);
      EXPECT_LT((flat.bending_moment[t].col(q) - section.B * strain).norm(), 1e-12);
    }
  }
  for (int n = 0; n < state.x.cols(); ++n) state.x(2, n) = 0.8 * state.x(0, n) * state.x(0, n);
  const solver::ShellFields bent = solver::shell_fields(model, state);
  for (int t = 0; t < 2; ++t) {
    for (int q = 0; q < 3; ++q) {
      const Vector3d e = bent.membrane_strain[t].col(q);
      const Vector3d k = bent.curvature[t].col(q);
      EXPECT_GT(k.norm(), 0.1);
      EXPECT_LT((bent.membrane_force[t].col(q) - section.A * e - section.B * k).norm(), 1e-9);
      EXPECT_LT((bent.bending_moment[t].col(q) - section.B * e - section.D * k).norm(), 1e-12);
    }
  }
}

}  // namespace
}  // namespace totebench
