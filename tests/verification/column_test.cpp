// A straight strip pressed along its length beyond the Euler load: the straight shape stays an
// equilibrium, but no longer a stable one. The search must leave it by itself, with nothing to
// disturb it, and end in the buckled shape.
//
// Exact shape of the clamped-free column (Timoshenko and Gere, Theory of Elastic Stability, 2nd
// ed., section 2.7), with p = sin(alpha / 2) and alpha the slope at the tip:
//   P / P_cr = (2 K(p) / pi)^2,  y_tip / l = 2 p / K(p),  x_tip / l = 2 E(p) / K(p) - 1
// Table 2-4 there, from memory: alpha = 60 deg: P / P_cr = 1.152, x = 0.741 l, y = 0.593 l.
#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <tuple>

#include "book_picture.hpp"
#include "sheet_case.hpp"
#include "totebench/scenes/standing.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::verification {
namespace {

constexpr double kLength_m = 1.0;
constexpr double kWidth_m = 0.1;
constexpr double kBending_N_m = 1.0;
constexpr int kClampedEdge = 1;
constexpr int kFreeEdge = 2;

// Stretching is a millionth of bending at this length, so that the strip is an elastica.
solver::Model column(int n, double force_over_euler) {
  solver::Model model;
  Eigen::Matrix3Xd p(3, 2 * (n + 1));
  std::vector<std::array<int, 3>> t;
  for (int i = 0; i <= n; ++i) {
    p.col(2 * i) = Eigen::Vector3d(kLength_m * i / n, 0, 0);
    p.col(2 * i + 1) = Eigen::Vector3d(kLength_m * i / n, kWidth_m, 0);
    if (i == n) break;
    t.push_back({2 * i, 2 * i + 2, 2 * i + 3});
    t.push_back({2 * i, 2 * i + 3, 2 * i + 1});
  }
  model.mesh = solver::second_order_mesh(p, t);
  model.mesh.labelled_edges = {{0, 1, kClampedEdge}, {2 * n, 2 * n + 1, kFreeEdge}};
  solver::Section s;
  s.D = kBending_N_m * Eigen::Vector3d(1, 1, 0.5).asDiagonal().toDenseMatrix();
  s.A = 1e6 * s.D;
  model.sections = {s};
  solver::EdgeRule clamp;
  clamp.label = kClampedEdge;
  clamp.clamped = true;
  model.edge_rules = {clamp};
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    for (int c = 0; c < 3 && model.mesh.position(0, i) < 1e-9; ++c) model.fixed.push_back({i, c});
  }
  const double euler = M_PI * M_PI * kBending_N_m / (4 * kLength_m * kLength_m);
  model.payload_force_N =
      solver::edge_load(model.mesh, kFreeEdge, Eigen::Vector3d(-force_over_euler * euler, 0, 0));
  return model;
}

TEST(Column, BeyondTheEulerLoad_LeavesTheStraightShapeForTheElastica) {
  const double p = std::sin(M_PI / 6);  // alpha = 60 deg
  const double K = std::comp_ellint_1(p);
  const double force = std::pow(2 * K / M_PI, 2);
  const double y = 2 * p / K;
  const double x = 2 * std::comp_ellint_2(p) / K - 1;
  EXPECT_NEAR(force, 1.152, 5e-4);
  EXPECT_NEAR(y, 0.593, 5e-4);
  EXPECT_NEAR(x, 0.741, 5e-4);

  // The force is a few per cent above the Euler load, where the deflection answers to a change of
  // stiffness about six times as strongly.
  const Source source = {"buckling", "Timoshenko and Gere, 2nd ed., section 2.7 (from memory)",
                         "6 times the error in stiffness, just above the Euler load"};
  Refinement side(source, "column at 1.152 Euler loads, y / l", y);
  side.published(0.593);
  Refinement along(source, "column at 1.152 Euler loads, x / l", x);
  along.published(0.741);
  for (const int n : {8, 16, 32}) {
    const solver::Model model = column(n, force);
    solver::State state = solver::start_state(model);
    const solver::SolveReport report = solver::find_equilibrium(model, 1.0, state);
    ASSERT_EQ(report.status, solver::SolveStatus::kConverged) << static_cast<int>(report.failure);
    EXPECT_TRUE(report.stable);
    if (n == 16) draw("buckling", model, state);
    side.add(kLength_m / n, 2 * n, std::abs(state.x(2, 2 * n)));
    along.add(kLength_m / n, 2 * n, state.x(0, 2 * n));
  }
  side.expect_within(0.005);
  along.expect_within(0.005);
}

TEST(Column, BelowTheEulerLoad_StaysStraight) {
  const solver::Model model = column(16, 0.98);
  solver::State state = solver::start_state(model);
  const solver::SolveReport report = solver::find_equilibrium(model, 1.0, state);
  ASSERT_EQ(report.status, solver::SolveStatus::kConverged);
  EXPECT_TRUE(report.stable);
  EXPECT_LT(std::abs(state.x(2, 2 * 16)), 1e-9);
}

// A strip upright on the floor, by its own weight and a load on its top edge: stands below the
// height of totebench/scenes/standing.hpp and falls over just above it.
TEST(Column, UprightByItself_StandsToGreenhillsHeight) {
  // With a top load Dunkerley's rule is on the cautious side, here by less than 3 %.
  for (const auto& [own, top, beyond] : {std::tuple(9.0, 0.0, 1.01), std::tuple(5.0, 1.0, 1.03)}) {
    const double height = scenes::standing_height_m(kBending_N_m, own, top);
    for (const double share : {0.99, beyond}) {
      solver::Model model = column(16, 0);
      // The column of 1 m with loads that stand for `share` of the height: q h^3 and p h^2 keep.
      const double h = share * height;
      model.payload_force_N =
          solver::edge_load(model.mesh, kFreeEdge, Eigen::Vector3d(-top * h * h, 0, 0));
      std::vector<int> all(model.mesh.triangles.size());
      std::iota(all.begin(), all.end(), 0);
      model.payload_force_N +=
          solver::area_load(model.mesh, all, Eigen::Vector3d(-own * h * h * h, 0, 0));
      solver::State state = solver::start_state(model);
      const solver::SolveReport report = solver::find_equilibrium(model, 1.0, state);
      ASSERT_EQ(report.status, solver::SolveStatus::kConverged) << static_cast<int>(report.failure);
      const double aside = std::abs(state.x(2, 2 * 16));
      if (share < 1) {
        EXPECT_LT(aside, 1e-9) << "own " << own << ", top " << top;
      } else {
        EXPECT_GT(aside, 1e-3) << "own " << own << ", top " << top;
      }
    }
  }
}

}  // namespace
}  // namespace totebench::verification
