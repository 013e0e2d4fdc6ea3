// Stitches that grip an area, points on a slack tether, and meshes refined in places.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "solver/terms/make_terms.hpp"
#include "totebench/scenes/stitch_rows.hpp"
#include "totebench/solver/refine.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;

// n x n squares over the unit square at height z, two triangles each.
void add_square(int n, double z, Eigen::Matrix3Xd& points,
                std::vector<std::array<int, 3>>& corners) {
  const auto first = static_cast<int>(points.cols());
  points.conservativeResize(3, first + (n + 1) * (n + 1));
  for (int j = 0; j <= n; ++j) {
    for (int i = 0; i <= n; ++i) {
      points.col(first + j * (n + 1) + i) =
          Vector3d(static_cast<double>(i) / n, static_cast<double>(j) / n, z);
    }
  }
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) {
      const int p = first + j * (n + 1) + i;
      corners.push_back({p, p + 1, p + n + 2});
      corners.push_back({p, p + n + 2, p + n + 1});
    }
  }
}

solver::ShellMesh squares(int n, int count = 1) {
  Eigen::Matrix3Xd points(3, 0);
  std::vector<std::array<int, 3>> corners;
  for (int k = 0; k < count; ++k) add_square(n, 0.1 * k, points, corners);
  return solver::second_order_mesh(points, corners);
}

solver::State shaken(const solver::Model& model, double by) {
  solver::State state = solver::start_state(model);
  for (int i = 0; i < state.x.cols(); ++i) {
    for (int c = 0; c < 3; ++c) state.x(c, i) += by * std::sin(3.7 * i + 1.9 * c + 0.3);
  }
  return state;
}

void expect_exact_derivatives(const solver::EnergyTerm& term, const solver::State& state) {
  const double h = 1e-6;
  for (int b = 0; b < term.n_blocks(); ++b) {
    const auto unknowns = term.unknowns(b);
    const auto n = static_cast<Eigen::Index>(unknowns.size());
    Eigen::VectorXd gradient(n);
    Eigen::MatrixXd hessian(n, n);
    const double energy =
        term.derivatives(state, b, solver::HessianPart::kExact, gradient.data(), hessian.data());
    EXPECT_NEAR(energy, term.energy(state, b), 1e-12 * std::abs(energy) + 1e-15);
    const double scale = gradient.cwiseAbs().maxCoeff() + 1e-9;
    const double stiffness = hessian.cwiseAbs().maxCoeff() + 1e-6;
    for (Eigen::Index i = 0; i < n; ++i) {
      solver::State plus = state;
      solver::State minus = state;
      plus.x(unknowns[i] % 3, unknowns[i] / 3) += h;
      minus.x(unknowns[i] % 3, unknowns[i] / 3) -= h;
      EXPECT_NEAR((term.energy(plus, b) - term.energy(minus, b)) / (2 * h), gradient[i],
                  2e-5 * scale);
      Eigen::VectorXd gp(n);
      Eigen::VectorXd gm(n);
      term.derivatives(plus, b, solver::HessianPart::kExact, gp.data(), nullptr);
      term.derivatives(minus, b, solver::HessianPart::kExact, gm.data(), nullptr);
      EXPECT_LT(((gp - gm) / (2 * h) - hessian.col(i)).cwiseAbs().maxCoeff(), 1e-5 * stiffness);
    }
  }
}

TEST(SpreadStitch, DerivativesAreExact_AndAnEvenOpeningGivesStiffnessTimesOpening) {
  solver::Model model;
  model.mesh = squares(2, 2);
  const int above = 8;  // first triangle of the upper square
  solver::Stitch stitch;
  stitch.a = {above + 1, 0.3, 0.3};
  stitch.b = {1, 0.3, 0.3};
  stitch.stiffness_N_per_m = 5e4;
  stitch.spread = {{{above + 1, 0.2, 0.3}, {1, 0.2, 0.3}, 0.4},
                   {{above + 1, 0.4, 0.3}, {1, 0.4, 0.3}, 0.35},
                   {{above + 2, 0.1, 0.1}, {2, 0.1, 0.1}, 0.25}};
  model.stitches = {stitch};
  const auto term = solver::make_stitch_term(model.mesh, model.stitches);
  EXPECT_EQ(term->n_blocks(), 2);  // a pair of triangles each
  expect_exact_derivatives(*term, shaken(model, 0.02));
  const Vector3d force = solver::stitch_forces(model, solver::start_state(model)).col(0);
  EXPECT_NEAR(force.z(), 0.1 * 5e4, 1e-9 * 5e3);
  // All points together pull the upper square down, and store k g^2 / 2, as one stitch does.
  const solver::State open = solver::start_state(model);
  double pull_N = 0, energy_J = 0;
  for (int b = 0; b < term->n_blocks(); ++b) {
    const auto unknowns = term->unknowns(b);
    Eigen::VectorXd gradient(static_cast<Eigen::Index>(unknowns.size()));
    energy_J += term->derivatives(open, b, solver::HessianPart::kExact, gradient.data(), nullptr);
    for (std::size_t i = 0; i < unknowns.size(); ++i) {
      const bool up = unknowns[i] % 3 == 2 && open.x(2, unknowns[i] / 3) > 0.05;
      if (up) pull_N += gradient[static_cast<Eigen::Index>(i)];
    }
  }
  EXPECT_NEAR(pull_N, 0.1 * 5e4, 1e-6);
  EXPECT_NEAR(energy_J, 0.5 * 5e4 * 0.1 * 0.1, 1e-9);
}

TEST(SpreadStitch, FootprintSharesSumToOneAndKeepTheMiddle) {
  scenes::Attachment attachment;
  attachment.pattern = scenes::AttachmentPattern::kBoxCross;
  attachment.length_m = 0.038;
  attachment.stitch_length_m = 0.003;
  const scenes::StitchRows rows = scenes::stitch_rows(attachment, 0.038);
  ASSERT_EQ(rows.arms.size(), rows.points.size());
  double length = 0;
  for (std::size_t i = 0; i < rows.points.size(); ++i) {
    double share = 0;
    Eigen::Vector2d middle = Eigen::Vector2d::Zero();
    for (const scenes::FootPoint& foot : scenes::footprint(rows.arms[i], 0.0013)) {
      share += foot.share;
      middle += foot.share * foot.offset_m;
    }
    EXPECT_NEAR(share, 1, 1e-12);
    EXPECT_LT(middle.norm(), 0.0012);  // half a stitch at most, at a corner
    for (const Eigen::Vector2d& arm : rows.arms[i]) length += arm.norm();
  }
  // Arms cover all stitching but the last half stitches of the diagonals, which end in corners.
  EXPECT_NEAR(length, rows.line_length_m, 4 * 0.002);
  EXPECT_EQ(scenes::footprint({}, 0.002).size(), 4U);
  // An even grip on a square of side w has the second moment w^2 / 12 about its middle.
  double moment = 0;
  for (const scenes::FootPoint& foot : scenes::footprint({}, 0.002)) {
    moment += foot.share * foot.offset_m.x() * foot.offset_m.x();
  }
  EXPECT_NEAR(moment, 0.002 * 0.002 / 12, 1e-15);
}

TEST(Tether, DerivativesAreExact_FreeWithinItsSlack_SmoothAtBothEndsOfItsSoftPart) {
  solver::Model model;
  model.mesh = squares(1, 2);  // 0.1 m apart
  const double k = 3e4, soft = 0.015;
  for (const double slack : {0.12, 0.09, 0.0999, 0.02}) {  // free, soft, just taut, pulled hard
    model.tethers = {{{2, 0.3, 0.3}, {0, 0.3, 0.3}, k, slack, soft}};
    const auto term = solver::make_tether_term(model.mesh, model.tethers);
    expect_exact_derivatives(*term, shaken(model, 0.001));
    // Its force is the integral of a stiffness that rises evenly from 0 to k over the soft part.
    const double beyond = std::max(0.0, 0.1 - slack);
    const double force = beyond < soft ? k * beyond * beyond / (2 * soft) : k * (beyond - soft / 2);
    std::vector<double> gradient(term->unknowns(0).size());
    term->derivatives(solver::start_state(model), 0, solver::HessianPart::kExact, gradient.data(),
                      nullptr);
    double pull = 0;
    for (std::size_t i = 2; i < gradient.size() / 2; i += 3) pull += gradient[i];
    EXPECT_NEAR(std::abs(pull), force, 1e-9 * k);
  }
}

TEST(Refine, StaysConforming_KeepsAreaLabelsAndAngles) {
  solver::ShellMesh mesh = squares(4);
  mesh.labelled_edges = {{0, 1, 5}, {1, 2, 5}, {2, 3, 5}, {3, 4, 5}};
  std::vector<solver::ChildOf> lineage;
  solver::ShellMesh fine = mesh;
  for (int round = 0; round < 5; ++round) {
    std::vector<char> large(fine.triangles.size(), 0);
    for (int t = 0; t < fine.n_triangles(); ++t) {
      large[t] =
          solver::position_of(fine, fine.position, {t, 1. / 3, 1. / 3}).norm() < 0.3 / (1 << round);
    }
    const solver::ShellMesh next = solver::refine(fine, large);
    lineage = round == 0 ? next.child_of : solver::compose(lineage, next.child_of);
    fine = next;
  }
  double area = 0;
  double smallest = 180;
  std::map<std::pair<int, int>, int> uses;
  for (int t = 0; t < fine.n_triangles(); ++t) {
    area += solver::rest_area(fine, t);
    for (int k = 0; k < 3; ++k) {
      const auto& node = fine.triangles[t].node;
      uses[std::minmax(node[k], node[(k + 1) % 3])] += 1;
      const Vector3d u = fine.rest[t].col((k + 1) % 3) - fine.rest[t].col(k);
      const Vector3d v = fine.rest[t].col((k + 2) % 3) - fine.rest[t].col(k);
      smallest = std::min(smallest, std::acos(u.dot(v) / u.norm() / v.norm()) * 180 / 3.14159265);
      const solver::SurfacePoint at{lineage[t].parent, lineage[t].corner(0, k),
                                    lineage[t].corner(1, k)};
      EXPECT_LT((solver::position_of(mesh, mesh.position, at) - fine.position.col(node[k])).norm(),
                1e-12);
    }
  }
  EXPECT_NEAR(area, 1, 1e-12);
  EXPECT_GE(smallest, 22.4);
  double border = 0;
  for (const auto& [ends, n] : uses) {
    EXPECT_LE(n, 2);
    if (n == 1) border += (fine.position.col(ends.first) - fine.position.col(ends.second)).norm();
  }
  EXPECT_NEAR(border, 4, 1e-12);  // a hanging node would open a border inside
  double labelled = 0;
  for (const solver::LabelledEdge& e : fine.labelled_edges) {
    labelled += (fine.position.col(e.a) - fine.position.col(e.b)).norm();
    EXPECT_EQ(uses.count(std::minmax(e.a, e.b)), 1U);
  }
  EXPECT_NEAR(labelled, 1, 1e-12);
  EXPECT_GT(fine.n_triangles(), mesh.n_triangles() + 40);
  EXPECT_THROW((void)solver::refine(mesh, {}), std::invalid_argument);
}

TEST(Refine, PointsGoDownIntoTheChildThatHoldsThem) {
  const solver::ShellMesh mesh = squares(2);
  std::vector<char> large(mesh.triangles.size(), 0);
  large[3] = 1;
  const solver::ShellMesh fine = solver::refine(mesh, large);
  const solver::Descent down(fine);
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    for (const auto& [xi, eta] : {std::pair(0.1, 0.2), {0.7, 0.1}, {0.1, 0.8}, {0.3, 0.3}}) {
      const solver::SurfacePoint p{t, xi, eta};
      EXPECT_LT((solver::position_of(mesh, mesh.position, p) -
                 solver::position_of(fine, fine.position, down(p)))
                    .norm(),
                1e-13);
    }
  }
}

}  // namespace
}  // namespace totebench
