// VERIFICATION  A box with cross of 25 x 38 mm, in shear and in peel, by hand.
// Reference   statics of a rigid plate on equal springs (elastic fastener group):
//               pull in its plane through the centre   f_i = F / n
//               pull out of its plane at the centre    f_i = F / n
//               pull out at the edge x = 0             f_i = F/n + F c (c - x_i) / sum (x_j - c)^2
//             with c the mean of the x_i; strength of one stitch k T = 1.5 x 13.8 N = 20.7 N.
// Inputs      stitches of 3 mm on 25 x 38 mm, spring 3e4 N/m each, plate 1000 times as stiff
// Expected    pure shear and pure peel: failure at n k T; edge peel: at n k T over
//             1 + n c^2 / sum (x_j - c)^2
// Ours        within 0.1 % (plate not quite rigid)
// Not covered how a soft strap peels row by row (verification/stitch_row_test.cpp)
#include <gtest/gtest.h>

#include <cmath>

#include "totebench/scenes/stitch_rows.hpp"
#include "totebench/scenes/utilisation.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;

constexpr double kLength = 0.038;
constexpr double kHalf = 0.0125;
constexpr double kOneStitch_N = 1.5 * 13.8;

scenes::StitchRows box_cross(double length_m = kLength) {
  scenes::Attachment a;
  a.pattern = scenes::AttachmentPattern::kBoxCross;
  a.length_m = length_m;
  a.stitch_length_m = 0.003;
  return scenes::stitch_rows(
      a, 2 * (kHalf + scenes::kStitchEdgeDistance_m));  // the box itself is 25 mm wide
}

// Two plates on each other, the lower held, each of two triangles; nodes 0 to 3 and 4 to 7.
solver::Model plates(double length_m = kLength) {
  Eigen::Matrix3Xd position(3, 8);
  for (int p = 0; p < 2; ++p) {
    position.col(4 * p + 0) << 0, -kHalf, 0;
    position.col(4 * p + 1) << length_m, -kHalf, 0;
    position.col(4 * p + 2) << length_m, kHalf, 0;
    position.col(4 * p + 3) << 0, kHalf, 0;
  }
  solver::Model model;
  model.mesh = solver::second_order_mesh(position, {{0, 1, 2}, {0, 2, 3}, {4, 5, 6}, {4, 6, 7}});
  model.mesh.warp.assign(4, Vector3d::UnitX());
  solver::Section section;
  section.A.diagonal() << 1e9, 1e9, 5e8;
  section.D.diagonal() << 1e5, 1e5, 5e4;
  model.sections = {section};
  for (const auto& p : box_cross(length_m).points) {
    // Corner 0 at (0, -half): triangle 0 lies below the diagonal, triangle 1 above it.
    const double x = p.x() / length_m;
    const double y = (p.y() + kHalf) / (2 * kHalf);
    const solver::SurfacePoint lower =
        y <= x ? solver::SurfacePoint{0, x - y, y} : solver::SurfacePoint{1, x, y - x};
    solver::SurfacePoint upper = lower;
    upper.triangle += 2;
    solver::Stitch stitch;
    stitch.a = upper;
    stitch.b = lower;
    stitch.stiffness_N_per_m = 3e4;
    model.stitches.push_back(stitch);
  }
  model.payload_force_N = Eigen::Matrix3Xd::Zero(3, model.mesh.n_nodes());
  for (const int t : {0, 1}) {
    for (const int node : model.mesh.triangles[t].node) {
      for (int axis = 0; axis < 3; ++axis) model.fixed.push_back({node, axis});
    }
  }
  return model;
}

// Hardest used stitch under the payload at 1 N: failure load = 1 / that.
double failure_load(const solver::Model& model) {
  solver::State state = solver::start_state(model);
  const solver::SolveReport report = solver::find_equilibrium(model, 1.0, state);
  EXPECT_EQ(report.status, solver::SolveStatus::kConverged) << static_cast<int>(report.failure);
  const Eigen::Matrix3Xd f = solver::stitch_forces(model, state);
  double most = 0;
  for (std::size_t s = 0; s < model.stitches.size(); ++s) {
    most = std::max(most, scenes::combined_use(f.col(static_cast<Eigen::Index>(s)),
                                               Vector3d::UnitZ(), kOneStitch_N, kOneStitch_N));
  }
  return 1 / most;
}

TEST(BoxCross, PureShear_EveryStitchCarriesTheSame) {
  solver::Model model = plates();
  model.payload_force_N = solver::area_load(model.mesh, {2, 3}, {-1 / (2 * kHalf * kLength), 0, 0});
  const double n = static_cast<double>(model.stitches.size());
  EXPECT_NEAR(n, 72, 2) << "about 217 mm of stitching at 3 mm";
  EXPECT_NEAR(failure_load(model), n * kOneStitch_N, 1e-3 * n * kOneStitch_N);
}

TEST(BoxCross, PurePeelAtTheCentre_EveryStitchCarriesTheSame) {
  solver::Model model = plates();
  model.payload_force_N = solver::area_load(model.mesh, {2, 3}, {0, 0, 1 / (2 * kHalf * kLength)});
  const double n = static_cast<double>(model.stitches.size());
  EXPECT_NEAR(failure_load(model), n * kOneStitch_N, 1e-3 * n * kOneStitch_N);
}

TEST(BoxCross, PeelAtTheEdge_FirstRowCarriesMost) {
  solver::Model model = plates();
  model.mesh.labelled_edges = {{4, 7, 1}};
  model.payload_force_N = solver::edge_load(model.mesh, 1, {0, 0, 1 / (2 * kHalf)});
  double n = 0;
  double c = 0;
  for (const auto& p : box_cross().points) {
    n += 1;
    c += p.x();
  }
  c /= n;
  double spread = 0;
  for (const auto& p : box_cross().points) spread += (p.x() - c) * (p.x() - c);
  const double expected = n * kOneStitch_N / (1 + n * c * c / spread);
  EXPECT_LT(expected, 0.35 * n * kOneStitch_N) << "peel from an edge is far weaker than shear";
  EXPECT_NEAR(failure_load(model), expected, 2e-3 * expected);
}

// The same thread, a longer box: in shear and in peel it never holds less.
TEST(BoxCross, LongerNeverHoldsLess) {
  double last_shear = 0;
  double last_peel = 0;
  for (const double length : {0.012, 0.018, 0.025, 0.038, 0.057, 0.086}) {
    solver::Model shear = plates(length);
    shear.payload_force_N =
        solver::area_load(shear.mesh, {2, 3}, {-1 / (2 * kHalf * length), 0, 0});
    solver::Model peel = plates(length);
    peel.mesh.labelled_edges = {{4, 7, 1}};
    peel.payload_force_N = solver::edge_load(peel.mesh, 1, {0, 0, 1 / (2 * kHalf)});
    const double by_shear = failure_load(shear);
    const double by_peel = failure_load(peel);
    EXPECT_GT(by_shear, last_shear) << "box of " << 1e3 * length << " mm";
    EXPECT_GT(by_peel, last_peel) << "box of " << 1e3 * length << " mm";
    last_shear = by_shear;
    last_peel = by_peel;
  }
}

}  // namespace
}  // namespace totebench
