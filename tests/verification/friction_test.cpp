// Friction of sheets on bodies: a strap over a round bar.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cmath>

#include "book_picture.hpp"
#include "totebench/solver/body.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::verification {
namespace {

constexpr double kBarDiameter = 0.1;  // diameter, m
constexpr double kBeltWidth = 0.02;   // of the strap
constexpr double kBeltFree = 0.1;     // of its length on either side of the bar
constexpr double kBeltPull_N = 10;
constexpr int kBeltPulledEnd = 1;

// A strap laid a little above a fixed round bar, half round it, one end held and one pulled down:
// `n` cells along, two across.
solver::Model strap_over_bar(double friction, int n) {
  const double radius = kBarDiameter / 2 + 1.2e-3;
  const double arc = M_PI * radius;
  const double whole = 2 * kBeltFree + arc;
  Eigen::Matrix3Xd p(3, 3 * (n + 1));
  std::vector<std::array<int, 3>> corners;
  for (int i = 0; i <= n; ++i) {
    const double s = whole * i / n;
    const double turn = std::clamp((s - kBeltFree) / radius, 0.0, M_PI);
    const double down = s < kBeltFree ? kBeltFree - s : std::max(0.0, s - kBeltFree - arc);
    for (int j = 0; j < 3; ++j) {
      p.col(3 * i + j) << -radius * std::cos(turn), 0.5 * kBeltWidth * (j - 1),
          radius * std::sin(turn) - down;
    }
    if (i == n) continue;
    for (int j = 0; j < 2; ++j) {
      const int a = 3 * i + j, b = a + 3;
      corners.push_back({a, b, b + 1});
      corners.push_back({a, b + 1, a + 1});
    }
  }
  solver::Model model;
  model.mesh = solver::second_order_mesh(p, corners);
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    const auto& node = model.mesh.triangles[t].node;
    const Eigen::Vector3d normal =
        Eigen::Vector3d(p.col(node[1]) - p.col(node[0])).cross(p.col(node[2]) - p.col(node[0]));
    model.mesh.warp[t] = Eigen::Vector3d::UnitY().cross(normal).normalized();
  }
  const int last = 3 * n;
  model.mesh.labelled_edges = {{last, last + 1, kBeltPulledEnd},
                               {last + 1, last + 2, kBeltPulledEnd}};
  solver::Section section;
  section.A.diagonal() << 1e4, 1e4, 5e3;
  section.D = 1e-8 * section.A;
  model.sections = {section};
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    const bool held = model.mesh.position(0, i) < 0 && model.mesh.position(2, i) < 1e-9 - kBeltFree;
    for (int axis = 0; axis < 3; ++axis) {
      if (held || axis == 1) model.fixed.push_back({i, axis});
    }
  }
  model.payload_force_N =
      solver::edge_load(model.mesh, kBeltPulledEnd, {0, 0, -kBeltPull_N / kBeltWidth});
  model.contact.thickness_m.assign(model.mesh.triangles.size(), 1e-3);
  solver::Body bar = solver::cylinder_body(kBarDiameter, 3 * kBeltWidth, 0, 96);
  bar.start.rotation =
      Eigen::Quaterniond::FromTwoVectors(Eigen::Vector3d::UnitZ(), Eigen::Vector3d::UnitY());
  bar.fixed = true;
  bar.friction = friction;
  model.bodies = {bar};
  return model;
}

// VERIFICATION  StrapOverARoundBar
// Reference   Euler and Eytelwein: T1 = T2 exp(-mu theta), any textbook of statics
// Inputs      half round a bar of 100 mm, EA = 200 N, pulled with 10 N until it slides everywhere
// Tolerance   4 %: the strap stands on a bar of 96 flat sides, and what has just slid may pull a
//             little less than mu N
TEST(Friction, StrapOverARoundBar_PullsAsEulerAndEytelwein) {
  const Source source = {
      "friction", "T1 = T2 exp(-mu pi), Euler and Eytelwein",
      "the bar has 96 flat sides, and what has just slid pulls a little less than its limit"};
  for (const double mu : {0.1, 0.2, 0.3}) {
    Refinement row(source, fmt::format("strap half round a bar, mu = {:.1f}: T1/T2", mu),
                   std::exp(-mu * M_PI));
    for (const int n : {40, 80}) {
      const solver::Model model = strap_over_bar(mu, n);
      solver::State state = solver::start_state(model);
      solver::SolveOptions options;
      options.full_steps = true;
      solver::EquilibriumSearch search(model);
      // First set down on the bar, where nothing pulls along it yet.
      for (const double share : {0.2, 1.0}) {
        const solver::SolveReport report = search.find(share, state, options);
        ASSERT_EQ(report.status, solver::SolveStatus::kConverged)
            << mu << " " << static_cast<int>(report.failure) << " " << report.residual_relative;
      }
      const Eigen::Matrix3Xd force = solver::support_reactions(model, state, 1);
      row.add(1.0 / n, model.mesh.n_triangles(), -force.row(2).sum() / kBeltPull_N);
    }
    row.expect_within(0.04);
  }
}

}  // namespace
}  // namespace totebench::verification
