// Rigid bodies that touch sheets and each other: their shapes, exact derivatives of contact and
// friction, and statics that can be told by hand.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>

#include "solver/assembly/potential.hpp"
#include "solver/contact/contact_term.hpp"
#include "solver/contact/friction_term.hpp"
#include "solver/state/retraction.hpp"
#include "solver/state/turning.hpp"
#include "tests/unit/solver_small_sheet.hpp"
#include "totebench/solver/body.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;
using solver::Body;
using solver::HessianPart;
using solver::State;

// A square sheet of n x n cells around the origin in the plane z = 0, 1 mm thick, its border held.
solver::Model sheet(int n, double size_m, double membrane_N_per_m) {
  std::vector<std::array<int, 3>> t;
  Eigen::Matrix3Xd corner(3, (n + 1) * (n + 1));
  for (int j = 0; j <= n; ++j) {
    for (int i = 0; i <= n; ++i) {
      corner.col(j * (n + 1) + i) << size_m * (1.0 * i / n - 0.5), size_m * (1.0 * j / n - 0.5), 0;
    }
  }
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) {
      const int a = j * (n + 1) + i;
      t.push_back({a, a + 1, a + n + 2});
      t.push_back({a, a + n + 2, a + n + 1});
    }
  }
  solver::Model model;
  model.mesh = solver::second_order_mesh(corner, t);
  for (Vector3d& warp : model.mesh.warp) warp = Vector3d::UnitX();
  solver::Section section;
  section.A << 1, 0.3, 0, 0.3, 1, 0, 0, 0, 0.35;
  section.A *= membrane_N_per_m;
  section.D = 1e-6 * section.A;
  section.areal_mass_kg_per_m2 = 0.3;
  model.sections = {section};
  model.permanent_force_N = solver::own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  model.contact.thickness_m.assign(model.mesh.triangles.size(), 1e-3);
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    const Vector3d x = model.mesh.position.col(i);
    if (x.cwiseAbs().maxCoeff() < size_m / 2 - 1e-9) continue;
    for (int axis = 0; axis < 3; ++axis) model.fixed.push_back({i, axis});
  }
  return model;
}

Body at(Body body, const Vector3d& position, double friction) {
  body.start.position = position;
  body.friction = friction;
  return body;
}

TEST(BodySkin, HasTheVolumeAndFacesOfItsShape) {
  const Body box = solver::box_body({0.2, 0.1, 0.05}, 2);
  EXPECT_NEAR(solver::volume_of(box.skin), 0.2 * 0.1 * 0.05, 1e-15);
  EXPECT_EQ(box.skin.edge.size(), 12U);
  // Mean of m (b^2 + c^2) / 12.
  EXPECT_NEAR(box.turning_inertia_kg_m2, 2.0 / 12 * 2 * (0.04 + 0.01 + 0.0025) / 3, 1e-15);
  const Body cylinder = solver::cylinder_body(0.08, 0.25, 1);
  EXPECT_NEAR(solver::volume_of(cylinder.skin), std::numbers::pi * 0.0016 * 0.25, 1e-15);
  EXPECT_EQ(cylinder.skin.edge.size(), 3U * 24);
  const Body sphere = solver::sphere_body(0.08, 1);
  EXPECT_NEAR(solver::volume_of(sphere.skin), std::numbers::pi / 6 * 0.08 * 0.08 * 0.08, 1e-15);
  EXPECT_EQ(sphere.skin.face.size(), 320U);
  EXPECT_NEAR(sphere.turning_inertia_kg_m2, 0.4 * 0.04 * 0.04, 1e-15);
  for (const Body* body : {&box, &cylinder, &sphere}) {
    // Euler: points - edges + faces = 2, each flat polygon of n corners being n - 2 faces and
    // n - 3 lines that are no ridges.
    const auto points = static_cast<int>(body->skin.point_m.cols());
    const auto faces = static_cast<int>(body->skin.face.size());
    EXPECT_EQ(points - 3 * faces / 2 + faces, 2);
    EXPECT_LT(body->skin.point_m.rowwise().mean().norm(), 1e-15);
  }
}

// g . exp(w) r at w = 0 by differences, along each pair of axes.
TEST(Turning, IsTheSecondDerivativeOfTheWorkOfAForce) {
  const Vector3d r(0.03, -0.07, 0.05), g(2, 1, -3);
  const auto work = [&](const Vector3d& w) {
    return g.dot(Eigen::AngleAxisd(w.norm(), w.normalized()) * r);
  };
  constexpr double kStep = 1e-4;
  for (int i = 0; i < 3; ++i) {
    for (int j = 0; j < 3; ++j) {
      const Vector3d a = kStep * Vector3d::Unit(i), b = 2 * kStep * Vector3d::Unit(j);
      const double by_difference =
          (work(a + b) - work(a - b) - work(b - a) + work(-a - b)) / (8 * kStep * kStep);
      EXPECT_NEAR(solver::turning(r, g)(i, j), by_difference, 1e-6);
    }
    EXPECT_LT((solver::cross_matrix(r) * g - r.cross(g)).norm(), 1e-16);
  }
}

// Two boxes and a ball in a heap on a sheet, all nearly touching.
solver::Model heap() {
  solver::Model model = sheet(4, 0.1, 1e3);
  Body low = at(solver::box_body({0.05, 0.04, 0.02}, 0.5), {0.002, 0.001, 0.0108}, 0.4);
  low.start.rotation = Eigen::AngleAxisd(0.2, Vector3d(0.02, 0.03, 1).normalized());
  Body high = at(solver::box_body({0.03, 0.03, 0.01}, 0.2), {0.004, 0, 0.0268}, 0.3);
  high.start.rotation = Eigen::AngleAxisd(-0.4, Vector3d(0.01, -0.03, 1).normalized());
  const Body ball = at(solver::sphere_body(0.02, 0.1), {0.038, 0.001, 0.0108}, 0.5);
  model.bodies = {low, high, ball};
  return model;
}

// Derivatives along the retraction by differences, block by block.
void hold_derivatives(const solver::Potential& potential, const solver::EnergyTerm& term,
                      const State& state, int least) {
  int active = 0;
  for (int b = 0; b < term.n_blocks(); ++b) {
    const auto unknowns = term.unknowns(b);
    const auto n = static_cast<Eigen::Index>(unknowns.size());
    Eigen::VectorXd g(n), plus(n), minus(n);
    Eigen::MatrixXd h(n, n);
    if (term.derivatives(state, b, HessianPart::kExact, g.data(), h.data()) == 0) continue;
    ++active;
    Eigen::MatrixXd by_difference(n, n);
    constexpr double kStep = 1e-8;
    for (Eigen::Index i = 0; i < n; ++i) {
      Eigen::VectorXd step = Eigen::VectorXd::Zero(potential.dofs().size());
      step[unknowns[static_cast<std::size_t>(i)]] = kStep;
      const State up = solver::retract(potential.topology(), state, step);
      const State down = solver::retract(potential.topology(), state, -step);
      EXPECT_NEAR(g[i], (term.energy(up, b) - term.energy(down, b)) / (2 * kStep),
                  2e-5 * g.norm() + 1e-9);
      term.derivatives(up, b, HessianPart::kExact, plus.data(), nullptr);
      term.derivatives(down, b, HessianPart::kExact, minus.data(), nullptr);
      by_difference.col(i) = (plus - minus) / (2 * kStep);
    }
    // Gradients along moved states are by other retractions: of two turns the mean of both orders
    // is the second derivative.
    const Eigen::MatrixXd mean = 0.5 * (by_difference + by_difference.transpose());
    EXPECT_LT((h - mean).norm(), 1e-4 * h.norm()) << "block " << b;
  }
  EXPECT_GE(active, least) << term.name();
}

TEST(ContactTerm, OfBodiesHasExactDerivatives) {
  const solver::Model model = heap();
  solver::Potential potential(model);
  State state = solver::start_state(model);
  Eigen::VectorXd step = Eigen::VectorXd::Zero(potential.dofs().size());
  step[potential.dofs().body(0) + 2] = -0.4e-3;
  step[potential.dofs().body(1) + 2] = -1.1e-3;
  step[potential.dofs().body(2) + 2] = -0.4e-3;
  ASSERT_EQ(potential.largest_step(state, step), 1);
  state = solver::retract(potential.topology(), state, step);
  potential.prepare(state);
  hold_derivatives(potential, *potential.find<solver::ContactTerm>(), state, 6);
}

TEST(FrictionTerm, HasExactDerivatives) {
  const solver::Model model = heap();
  solver::Potential potential(model);
  potential.begin(solver::start_state(model));
  State state = solver::start_state(model);
  Eigen::VectorXd step = Eigen::VectorXd::Zero(potential.dofs().size());
  std::mt19937 random(3);
  std::uniform_real_distribution<double> uniform(-1, 1);
  for (int b = 0; b < 3; ++b) {
    const int first = potential.dofs().body(b);
    step.segment<6>(first) << 0.3e-3 * uniform(random), 0.3e-3 * uniform(random),
        b == 1 ? -1.1e-3 : -0.4e-3, 2e-3 * uniform(random), 2e-3 * uniform(random),
        8e-3 * uniform(random);
  }
  ASSERT_EQ(potential.largest_step(state, step), 1);
  state = solver::retract(potential.topology(), state, step);
  potential.renew_lagged(state);
  potential.prepare(state);
  hold_derivatives(potential, *potential.find<solver::FrictionTerm>(), state, 3);
}

TEST(ContactTerm, ATurningBodyStopsShortOfWhatItWouldHit) {
  solver::Model model = sheet(4, 0.1, 1e3);
  model.bodies = {at(solver::box_body({0.08, 0.005, 0.005}, 0.1), {0, 0, 0.02}, 0.3)};
  solver::Potential potential(model);
  const State state = solver::start_state(model);
  Eigen::VectorXd step = Eigen::VectorXd::Zero(potential.dofs().size());
  step[potential.dofs().body(0) + 4] = 1;  // about y: an end would go 32 mm down
  const double share = potential.largest_step(state, step);
  EXPECT_LT(share, 0.6);
  EXPECT_GT(share, 0.3);  // asin(17.5 / 40) = 0.45
  const State moved = solver::retract(potential.topology(), state, share * step);
  double lowest = 1;
  for (int i = 0; i < 8; ++i) {
    lowest = std::min(lowest, moved.bodies[0].at(model.bodies[0].skin.point_m.col(i)).z());
  }
  EXPECT_GT(lowest, 0);
}

// A block on a fixed board, or on a held sheet, that slopes.
solver::SolveReport on_a_slope(bool board, double slope, double mu, State& state) {
  const Eigen::Matrix3d turn =
      Eigen::AngleAxisd(std::atan(slope), Vector3d::UnitY()).toRotationMatrix();
  solver::Model model = sheet(11, 0.12, 1e3);
  model.mesh.position = (turn * model.mesh.position).eval();
  model.permanent_force_N.setZero();
  model.fixed.clear();
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    for (int axis = 0; axis < 3; ++axis) model.fixed.push_back({i, axis});
  }
  const double lift = board ? 0.2 : 0;
  Body block =
      at(solver::box_body({0.05, 0.04, 0.02}, 1), turn * Vector3d(0, 0, lift + 0.0106), mu);
  block.start.rotation = turn;
  model.bodies = {block};
  if (board) {
    Body below = at(solver::box_body({0.3, 0.2, 0.02}, 0), turn * Vector3d(0, 0, lift - 0.01), mu);
    below.start.rotation = turn;
    below.fixed = true;
    model.bodies.push_back(below);
  }
  state = solver::start_state(model);
  solver::SolveOptions options;
  options.full_steps = true;
  options.max_iterations = 100;
  return solver::find_equilibrium(model, 1, state, options);
}

// tan(angle) = mu at the angle of friction [Coulomb's law; any textbook of statics].
TEST(FrictionTerm, ABlockStaysOnASlopeBelowTheAngleOfFrictionAlone) {
  for (const double mu : {0.2, 0.4, 0.8}) {
    State state;
    const solver::SolveReport stays = on_a_slope(true, 0.98 * mu, mu, state);
    ASSERT_EQ(stays.status, solver::SolveStatus::kConverged) << mu;
    EXPECT_NEAR(stays.reaction_N.z(), 9.80665, 1e-4);
    EXPECT_LT(stays.reaction_N.head<2>().norm(), 1e-4);
    const solver::SolveReport slides = on_a_slope(true, 1.02 * mu, mu, state);
    const double way =
        state.bodies[0].position.head<2>().norm() - 0.2106 * std::sin(std::atan(1.02 * mu));
    EXPECT_TRUE(slides.status != solver::SolveStatus::kConverged || way > 0.03) << mu << " " << way;
  }
}

TEST(FrictionTerm, ABlockStaysOnASlopingSheet) {
  State state;
  const solver::SolveReport stays = on_a_slope(false, 0.95 * 0.4, 0.4, state);
  ASSERT_EQ(stays.status, solver::SolveStatus::kConverged);
  EXPECT_NEAR(stays.reaction_N.z(), 9.80665, 1e-4);
  const Vector3d along(std::cos(std::atan(0.38)), 0, -std::sin(std::atan(0.38)));
  EXPECT_LT(std::abs(state.bodies[0].position.dot(along)), 2e-3);
  // Where edges of both run into each other the mesh itself holds a block, but not for long.
  EXPECT_NE(on_a_slope(false, 1.5 * 0.4, 0.4, state).status, solver::SolveStatus::kConverged);
}

TEST(ContactTerm, AtNoLoadBodiesAreNotThere) {
  solver::Model model = sheet(4, 0.2, 2e3);
  model.bodies = {at(solver::box_body({0.08, 0.06, 0.03}, 0.6), {0.01, 0, 0.0165}, 0.4)};
  solver::Model bare = model;
  bare.bodies.clear();
  State with = solver::start_state(model), without = solver::start_state(bare);
  // The sheet sags under its own weight, and comes up through where the box is parked.
  model.permanent_force_N *= -40;
  bare.permanent_force_N *= -40;
  EXPECT_EQ(solver::find_equilibrium(model, 0, with).status, solver::SolveStatus::kConverged);
  EXPECT_EQ(solver::find_equilibrium(bare, 0, without).status, solver::SolveStatus::kConverged);
  EXPECT_GT(with.x.row(2).maxCoeff(), 0.002);
  EXPECT_LT((with.x - without.x).norm(), 1e-9);
  EXPECT_EQ(with.bodies[0].position, model.bodies[0].start.position);
}

TEST(ContactTerm, ASheetCarriesWhatLiesOnIt) {
  for (const bool stacked : {false, true}) {
    solver::Model model = sheet(8, 0.2, 2e3);
    model.bodies = {at(solver::box_body({0.08, 0.06, 0.03}, 0.6), {0.01, 0, 0.0165}, 0.4)};
    if (stacked) {
      model.bodies.push_back(at(solver::box_body({0.07, 0.05, 0.02}, 0.3), {0, 0, 0.0423}, 0.4));
      model.bodies.push_back(at(solver::sphere_body(0.04, 0.1), {-0.06, 0, 0.0216}, 0.4));
    }
    double mass = 0.3 * 0.04;
    for (const Body& body : model.bodies) mass += body.mass_kg;
    State state = solver::start_state(model);
    solver::SolveOptions options;
    options.full_steps = true;
    const solver::SolveReport report = solver::find_equilibrium(model, 1, state, options);
    ASSERT_EQ(report.status, solver::SolveStatus::kConverged) << stacked;
    EXPECT_TRUE(report.stable);
    EXPECT_NEAR(report.reaction_N.z(), mass * 9.80665, 1e-5);
    EXPECT_LT(report.balance_relative, 1e-5);
    EXPECT_LT(state.bodies[0].position.z(), 0.0165);
    solver::ContactSearch search(model);
    EXPECT_TRUE(search.crossings(search.surface().places(state.x, state.bodies)).empty());
  }
}

}  // namespace
}  // namespace totebench
