// Rigid bodies among the unknowns: their retraction is a rotation, and a term that acts on them has
// the right derivatives and comes to the right equilibrium.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <array>
#include <cmath>
#include <memory>
#include <vector>

#include "solver/assembly/potential.hpp"
#include "solver/search/newton.hpp"
#include "tests/unit/solver_small_sheet.hpp"

namespace totebench {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using Vector6d = Eigen::Matrix<double, 6, 1>;
using Matrix6d = Eigen::Matrix<double, 6, 6>;

// A spring without rest length from a point of body 0 to a fixed point. A pull of constant force on
// the body's own point 0, too: its weight.
struct BodySpring {
  Vector3d on_body;
  Vector3d fixed;
  double stiffness_N_per_m;
};

class BodySprings final : public solver::EnergyTerm {
 public:
  BodySprings(int first_unknown, std::vector<BodySpring> springs, double weight_N)
      : springs_(std::move(springs)), weight_N_(weight_N) {
    for (int i = 0; i < 6; ++i) unknowns_[i] = first_unknown + i;
  }
  [[nodiscard]] std::string_view name() const override { return "body springs"; }
  [[nodiscard]] int n_blocks() const override { return 1; }
  [[nodiscard]] std::span<const int> unknowns(int /*block*/) const override { return unknowns_; }
  [[nodiscard]] double energy(const solver::State& state, int /*block*/) const override {
    double energy = weight_N_ * state.bodies[0].position.z();
    for (const BodySpring& spring : springs_) {
      energy += 0.5 * spring.stiffness_N_per_m * opening(state, spring).squaredNorm();
    }
    return energy;
  }
  // With r from the body's point 0 to its end of the spring and d the opening, a rotation vector w
  // moves that end by w x r + 1/2 w x (w x r):
  //   dE = k (d, r x d),   d2E = k (I, -[r]; [r], |r|2 I - r r' + sym(d r') - d.r I)
  double derivatives(const solver::State& state, int block, solver::HessianPart part,
                     double* gradient, double* hessian) const override {
    Eigen::Map<Vector6d> g(gradient);
    g << 0, 0, weight_N_, 0, 0, 0;
    Matrix6d h = Matrix6d::Zero();
    for (const BodySpring& spring : springs_) {
      const double k = spring.stiffness_N_per_m;
      const Vector3d r = state.bodies[0].rotation * spring.on_body;
      const Vector3d d = opening(state, spring);
      g.head<3>() += k * d;
      g.tail<3>() += k * r.cross(d);
      Matrix3d cross;
      cross << 0, -r.z(), r.y(), r.z(), 0, -r.x(), -r.y(), r.x(), 0;
      h.topLeftCorner<3, 3>() += k * Matrix3d::Identity();
      h.topRightCorner<3, 3>() -= k * cross;
      h.bottomLeftCorner<3, 3>() += k * cross;
      h.bottomRightCorner<3, 3>() += k * cross.transpose() * cross;
      if (part == solver::HessianPart::kPositive) continue;
      h.bottomRightCorner<3, 3>() +=
          k * (0.5 * (d * r.transpose() + r * d.transpose()) - d.dot(r) * Matrix3d::Identity());
    }
    if (hessian != nullptr) Eigen::Map<Matrix6d>{hessian} = h;
    return energy(state, block);
  }
  [[nodiscard]] double load_scale() const override { return weight_N_; }

 private:
  static Vector3d opening(const solver::State& state, const BodySpring& spring) {
    return state.bodies[0].at(spring.on_body) - spring.fixed;
  }
  std::vector<BodySpring> springs_;
  double weight_N_;
  std::array<int, 6> unknowns_{};
};

// A body beside a sheet that is held.
solver::Model body_model() {
  solver::Model model = small_sheet(true);
  solver::BodyPose pose;
  pose.position = {0.2, -0.1, 0.3};
  pose.rotation = Eigen::Quaterniond(Eigen::AngleAxisd(0.8, Vector3d(1, -2, 0.5).normalized()));
  model.bodies.emplace_back().start = pose;
  return model;
}

const std::vector<BodySpring> kThreeSprings = {{{0.1, 0, 0.01}, {0.3, 0.02, 0.5}, 200},
                                               {{-0.05, 0.08, 0}, {0.1, 0.1, 0.5}, 150},
                                               {{-0.05, -0.07, 0.02}, {0.15, -0.1, 0.4}, 300}};

Eigen::VectorXd body_step(const solver::Potential& potential, const Vector6d& step) {
  Eigen::VectorXd all = Eigen::VectorXd::Zero(potential.dofs().size());
  all.segment<6>(potential.dofs().body(0)) = step;
  return all;
}

TEST(BodyRetraction, StaysARotationOverManySteps) {
  const solver::Model model = body_model();
  const solver::Potential potential(model);
  solver::State state = solver::start_state(model);
  Matrix3d product = state.bodies[0].rotation.toRotationMatrix();
  for (int i = 0; i < 1000; ++i) {
    Vector6d step;
    for (int c = 0; c < 6; ++c) step[c] = 0.7 * std::sin(1.0 + 3.7 * i + 1.3 * c);
    state = solver::retract(potential.topology(), state, body_step(potential, step));
    const Vector3d turn = step.tail<3>();
    product = Eigen::AngleAxisd(turn.norm(), turn.normalized()).toRotationMatrix() * product;
  }
  const Matrix3d rotation = state.bodies[0].rotation.toRotationMatrix();
  EXPECT_LT((rotation * rotation.transpose() - Matrix3d::Identity()).norm(), 1e-15);
  EXPECT_NEAR(rotation.determinant(), 1, 1e-15);
  EXPECT_LT((rotation - product).norm(), 1e-12);  // increments are about the axes of space
}

TEST(BodyRetraction, AddsItsStepToTheCoordinates) {
  const solver::Model model = body_model();
  const solver::Potential potential(model);
  solver::State state = solver::start_state(model);
  EXPECT_EQ(solver::coordinates(state).size(), potential.dofs().size());
  Eigen::VectorXd sum = solver::coordinates(state);
  for (int i = 0; i < 5; ++i) {
    const Eigen::VectorXd step = body_step(potential, 0.3 * Vector6d::Random());
    state = solver::retract(potential.topology(), state, step);
    sum += step;
  }
  EXPECT_LT((solver::coordinates(state) - sum).norm(), 1e-14);
}

TEST(BodyRetraction, MovesPointsByTheirFirstDerivative) {
  const solver::Model model = body_model();
  const solver::Potential potential(model);
  const solver::State state = solver::start_state(model);
  const Vector3d on_body(0.1, -0.2, 0.05);
  const double h = 1e-6;
  for (int c = 0; c < 6; ++c) {
    const auto at = [&](double s) {
      return solver::retract(potential.topology(), state,
                             body_step(potential, s * Vector6d::Unit(c)))
          .bodies[0]
          .at(on_body);
    };
    const Vector3d by_difference = (at(h) - at(-h)) / (2 * h);
    const Vector3d r = state.bodies[0].rotation * on_body;
    const Vector3d exact = c < 3 ? Vector3d::Unit(c) : Vector3d::Unit(c - 3).cross(r);
    EXPECT_LT((by_difference - exact).norm(), 1e-9) << c;
  }
}

TEST(BodyTerm, DerivativesMatchDifferencesAtAnyPose) {
  const solver::Model model = body_model();
  solver::Potential potential(model);
  potential.add(std::make_unique<BodySprings>(potential.dofs().body(0), kThreeSprings, 3.0));
  solver::State state = solver::start_state(model);
  for (int pose = 0; pose < 4; ++pose) {
    const Eigen::VectorXd gradient = potential.assemble(state, solver::HessianPart::kExact);
    const double e0 = potential.energy(state);
    for (int trial = 0; trial < 6; ++trial) {
      Vector6d direction;
      for (int c = 0; c < 6; ++c) direction[c] = std::sin(1.0 + trial * 2.1 + c * 1.7 + pose);
      const Eigen::VectorXd v = body_step(potential, direction);
      const auto energy = [&](double s) {
        return potential.energy(solver::retract(potential.topology(), state, s * v));
      };
      const double slope = gradient.dot(v);
      EXPECT_NEAR((energy(1e-6) - energy(-1e-6)) / 2e-6, slope, 1e-7 * gradient.norm());
      const Eigen::VectorXd f = potential.restrict_to_free(v);
      const double curve = f.dot(potential.hessian().selfadjointView<Eigen::Lower>() * f);
      const double k = 1e-4;
      EXPECT_NEAR((energy(k) - 2 * e0 + energy(-k)) / (k * k), curve, 1e-5 * std::abs(curve));
    }
    state = solver::retract(potential.topology(), state,
                            body_step(potential, 0.5 * Vector6d::Random()));
  }
}

TEST(BodyTerm, HangsInBalanceOfForcesAndMoments) {
  constexpr double kWeight_N = 3;
  const solver::Model model = body_model();
  solver::Potential potential(model);
  potential.add(std::make_unique<BodySprings>(potential.dofs().body(0), kThreeSprings, kWeight_N));
  solver::Newton newton(potential);
  solver::State state = solver::start_state(model);
  solver::SolveOptions options;
  options.residual_tolerance = 1e-10;
  const solver::NewtonResult result = newton.minimise(state, 1, options);
  ASSERT_TRUE(result.converged());
  EXPECT_TRUE(result.stable);
  Vector3d force(0, 0, -kWeight_N);
  Vector3d moment = Vector3d::Zero();  // about the body's point 0, where the weight pulls
  for (const BodySpring& spring : kThreeSprings) {
    const Vector3d end = state.bodies[0].at(spring.on_body);
    const Vector3d pull = spring.stiffness_N_per_m * (spring.fixed - end);
    force += pull;
    moment += (end - state.bodies[0].position).cross(pull);
  }
  EXPECT_LT(force.norm(), 1e-8 * kWeight_N);
  EXPECT_LT(moment.norm(), 1e-8 * kWeight_N * 0.1);
}

TEST(BodyTerm, FindsTheMotionThatClosesEverySpring) {
  // Fixed points that are a rigid motion of the body's own: the pose is that motion.
  const solver::Model model = body_model();
  const Eigen::Quaterniond turn(Eigen::AngleAxisd(1.1, Vector3d(0.2, 1, -0.4).normalized()));
  const Vector3d shift(0.25, -0.05, 0.2);
  std::vector<BodySpring> springs = kThreeSprings;
  for (BodySpring& spring : springs) spring.fixed = shift + turn * spring.on_body;
  solver::Potential potential(model);
  potential.add(std::make_unique<BodySprings>(potential.dofs().body(0), springs, 0));
  solver::Newton newton(potential);
  solver::State state = solver::start_state(model);
  ASSERT_TRUE(newton.minimise(state, 1, {}).converged());
  EXPECT_LT((state.bodies[0].position - shift).norm(), 1e-8);
  EXPECT_LT(state.bodies[0].rotation.angularDistance(turn), 1e-7);
}

}  // namespace
}  // namespace totebench
