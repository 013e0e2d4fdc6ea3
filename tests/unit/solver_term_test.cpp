// The doors of the potential: blocks that come and go, steps that are cut short, blocks that are
// refused, low-rank parts, entries kept in the pattern.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <memory>
#include <numeric>
#include <stdexcept>
#include <vector>

#include "solver/assembly/potential.hpp"
#include "solver/search/newton.hpp"
#include "solver/terms/energy_term.hpp"
#include "tests/unit/solver_small_sheet.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;

// Springs without rest length between pairs of nodes, each there while its nodes are nearer than
// its reach: E = k/2 |d|2 - k/2 reach2, so that the energy sets in without a jump.
class NearSprings final : public solver::EnergyTerm {
 public:
  struct Spring {
    int a, b;
    double stiffness, reach;
  };
  explicit NearSprings(std::vector<Spring> springs) : springs_(std::move(springs)) {}
  [[nodiscard]] std::string_view name() const override { return "near springs"; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(active_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override { return unknowns_[block]; }
  void prepare(const solver::State& state) override {
    std::vector<std::size_t> now;
    for (std::size_t i = 0; i < springs_.size(); ++i) {
      if (opening(state, springs_[i]).norm() < springs_[i].reach) now.push_back(i);
    }
    if (now == active_) return;
    active_ = std::move(now);
    unknowns_.clear();
    for (const std::size_t i : active_) {
      const int a = 3 * springs_[i].a, b = 3 * springs_[i].b;
      unknowns_.push_back({a, a + 1, a + 2, b, b + 1, b + 2});
    }
    ++version_;
  }
  [[nodiscard]] int pattern_version() const override { return version_; }
  [[nodiscard]] double energy(const solver::State& state, int block) const override {
    const Spring& s = springs_[active_[block]];
    return 0.5 * s.stiffness * (opening(state, s).squaredNorm() - s.reach * s.reach);
  }
  double derivatives(const solver::State& state, int block, solver::HessianPart /*part*/,
                     double* gradient, double* hessian) const override {
    const Spring& s = springs_[active_[block]];
    const Vector3d force = s.stiffness * opening(state, s);
    Eigen::Map<Eigen::Matrix<double, 6, 1>>{gradient} << force, -force;
    if (hessian != nullptr) {
      Eigen::Map<Eigen::Matrix<double, 6, 6>> h(hessian);
      h.setIdentity();
      h.topRightCorner<3, 3>() = h.bottomLeftCorner<3, 3>() = -Eigen::Matrix3d::Identity();
      h *= s.stiffness;
    }
    return energy(state, block);
  }

 private:
  static Vector3d opening(const solver::State& state, const Spring& s) {
    return state.x.col(s.a) - state.x.col(s.b);
  }
  std::vector<Spring> springs_;
  std::vector<std::size_t> active_;
  std::vector<std::array<int, 6>> unknowns_;
  int version_ = 0;
};

// No node may sink below a height; pushes nothing.
class Ceiling final : public solver::EnergyTerm {
 public:
  explicit Ceiling(double lowest_m) : lowest_m_(lowest_m) {}
  [[nodiscard]] std::string_view name() const override { return "ceiling"; }
  [[nodiscard]] int n_blocks() const override { return 0; }
  [[nodiscard]] std::span<const int> unknowns(int /*block*/) const override { return {}; }
  [[nodiscard]] double energy(const solver::State& /*state*/, int /*block*/) const override {
    return 0;
  }
  double derivatives(const solver::State& /*state*/, int /*block*/, solver::HessianPart /*part*/,
                     double* /*gradient*/, double* /*hessian*/) const override {
    return 0;
  }
  void prepare(const solver::State& state) override {
    deepest_seen_ = std::min(deepest_seen_, state.x.row(2).minCoeff());
  }
  [[nodiscard]] double largest_step(const solver::State& state,
                                    const Eigen::VectorXd& step) const override {
    double share = 1;
    for (Eigen::Index i = 0; i < state.x.cols(); ++i) {
      const double down = -step[3 * i + 2];
      if (down > 0) share = std::min(share, 0.9 * (state.x(2, i) - lowest_m_) / down);
    }
    return share;
  }
  [[nodiscard]] double deepest_seen() const { return deepest_seen_; }

 private:
  double lowest_m_;
  double deepest_seen_ = 0;
};

class WideTerm final : public solver::EnergyTerm {
 public:
  explicit WideTerm(int n) : unknowns_(n) { std::iota(unknowns_.begin(), unknowns_.end(), 0); }
  [[nodiscard]] std::string_view name() const override { return "wide"; }
  [[nodiscard]] int n_blocks() const override { return 1; }
  [[nodiscard]] std::span<const int> unknowns(int /*block*/) const override { return unknowns_; }
  [[nodiscard]] double energy(const solver::State& /*state*/, int /*block*/) const override {
    return 0;
  }
  double derivatives(const solver::State& /*state*/, int /*block*/, solver::HessianPart /*part*/,
                     double* gradient, double* hessian) const override {
    std::fill_n(gradient, unknowns_.size(), 0.0);
    if (hessian != nullptr) std::fill_n(hessian, unknowns_.size() * unknowns_.size(), 0.0);
    return 0;
  }

 private:
  std::vector<int> unknowns_;
};

// E = factor/2 (v . y - v . y0)^2 for each v, kept out of the sparse matrix.
class DenseSprings final : public solver::EnergyTerm {
 public:
  DenseSprings(std::vector<solver::RankOne> parts, Eigen::VectorXd start)
      : parts_(std::move(parts)), start_(std::move(start)), unknowns_(start_.size()) {
    std::iota(unknowns_.begin(), unknowns_.end(), 0);
  }
  [[nodiscard]] std::string_view name() const override { return "dense springs"; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(unknowns_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override {
    return std::span(unknowns_).subspan(block, 1);
  }
  [[nodiscard]] double energy(const solver::State& /*state*/, int /*block*/) const override {
    return 0;
  }
  void prepare(const solver::State& state) override {
    const Eigen::VectorXd moved = solver::coordinates(state) - start_;
    gradient_ = Eigen::VectorXd::Zero(moved.size());
    energy_ = 0;
    for (const auto& [factor, v] : parts_) {
      const double along = v.dot(moved);
      energy_ += 0.5 * factor * along * along;
      gradient_ += factor * along * v;
    }
  }
  [[nodiscard]] double whole_energy() const override { return energy_; }
  double derivatives(const solver::State& /*state*/, int block, solver::HessianPart /*part*/,
                     double* gradient, double* hessian) const override {
    *gradient = gradient_[block];
    if (hessian != nullptr) *hessian = 0;
    return 0;
  }
  void add_low_rank(const solver::State& /*state*/, int /*n_unknowns*/,
                    std::vector<solver::RankOne>& parts) const override {
    parts.insert(parts.end(), parts_.begin(), parts_.end());
  }

 private:
  std::vector<solver::RankOne> parts_;
  Eigen::VectorXd start_;
  std::vector<int> unknowns_;
  Eigen::VectorXd gradient_;
  double energy_ = 0;
};

Eigen::MatrixXd both_triangles(const Eigen::SparseMatrix<double>& lower) {
  return lower.selfadjointView<Eigen::Lower>() *
         Eigen::MatrixXd::Identity(lower.rows(), lower.cols());
}

// The exact Hessian against differences of the gradient.
void expect_hessian(solver::Potential& potential, const solver::State& state) {
  potential.prepare(state);
  potential.assemble(state, solver::HessianPart::kExact);
  const Eigen::MatrixXd hessian = both_triangles(potential.hessian());
  for (int seed = 0; seed < 3; ++seed) {
    Eigen::VectorXd f(potential.n_free());
    for (int i = 0; i < potential.n_free(); ++i) f[i] = std::sin(1.0 + 2.3 * i + 5.1 * seed);
    const Eigen::VectorXd v = potential.expand(f);
    const double h = 1e-7;
    const auto slope = [&](double s) {
      const solver::State moved = solver::retract(potential.topology(), state, s * v);
      return potential.gradient(moved).dot(v);
    };
    const double by_difference = (slope(h) - slope(-h)) / (2 * h);
    const double curve = f.dot(hessian * f);
    EXPECT_NEAR(by_difference, curve, 1e-5 * std::abs(curve));
  }
}

// A sheet held at two opposite corners: the others hang down, and nearer to each other.
solver::Model drawn_sheet() {
  solver::Model model = small_sheet(false);
  model.sections.front().D = 2e-7 * model.sections.front().A;  // limp
  model.fixed.clear();
  for (int axis = 0; axis < 3; ++axis) {
    model.fixed.push_back({0, axis});
    model.fixed.push_back({3, axis});
  }
  return model;
}

TEST(TermWithChangingBlocks, ChangesThePatternOfTheHessian) {
  const solver::Model model = drawn_sheet();
  solver::Potential potential(model);
  // Corners 1 and 2 share no triangle.
  potential.add(std::make_unique<NearSprings>(
      std::vector<NearSprings::Spring>{{1, 2, 40, 0.12}, {2, 3, 25, 0.05}}));
  const solver::State flat = solver::start_state(model);  // corners 1 and 2 lie 0.1 sqrt 2 apart
  expect_hessian(potential, flat);
  const Eigen::Index apart = potential.hessian().nonZeros();
  const int version = potential.pattern_version();

  solver::State near = flat;
  near.x.col(2) = near.x.col(1) + Vector3d(0.05, 0.01, 0.03);
  near.x.col(3) = near.x.col(2) + Vector3d(0.01, 0, 0.02);
  expect_hessian(potential, near);
  EXPECT_GT(potential.pattern_version(), version);
  expect_hessian(potential, flat);  // and back
  EXPECT_EQ(potential.hessian().nonZeros(), apart);
}

TEST(TermWithChangingBlocks, FindsTheEquilibriumOfTheBlocksThatAreThere) {
  const solver::Model model = drawn_sheet();
  solver::SolveOptions options;
  options.residual_tolerance = 1e-9;
  options.imperfection_m = 0;
  const auto solved = [&](double reach) {
    solver::Potential potential(model);
    potential.add(
        std::make_unique<NearSprings>(std::vector<NearSprings::Spring>{{1, 2, 0.3, reach}}));
    solver::Newton newton(potential);
    solver::State state = solver::start_state(model);
    for (int i = 1; i < 3; ++i) state.x(2, i) -= 0.02;
    const solver::NewtonResult result = newton.minimise(state, 1, options);
    EXPECT_TRUE(result.converged());
    return std::pair(state, potential.pattern_version());
  };
  // The corners start 0.141 m apart, and their own weight brings them nearer than 0.135 m.
  const auto [always, first] = solved(1.0);
  const auto [later, changed] = solved(0.135);
  const double apart = (always.x.col(1) - always.x.col(2)).norm();
  ASSERT_LT(apart, 0.135);
  EXPECT_GT(changed, 1);
  EXPECT_LT((always.x - later.x).norm(), 1e-6);
}

TEST(TermThatLimitsSteps, IsHeededByLineSearchesAndFullSteps) {
  // The free sheet would sink to about 0.1 m below the border it hangs from.
  const solver::Model model = small_sheet(false);
  for (const bool full_steps : {false, true}) {
    solver::Potential potential(model);
    constexpr double kLowest_m = -0.03;
    potential.add(std::make_unique<Ceiling>(kLowest_m));
    solver::Newton newton(potential);
    solver::State state = solver::start_state(model);
    state.x.row(2).array() -= 1e-4 * state.x.row(0).array();
    solver::SolveOptions options;
    options.full_steps = full_steps;
    options.max_iterations = 100;
    const solver::NewtonResult result = newton.minimise(state, 1, options);
    EXPECT_FALSE(result.converged());  // its equilibrium lies lower
    EXPECT_GE(potential.find<Ceiling>()->deepest_seen(), kLowest_m - 1e-15);
    EXPECT_LT(potential.find<Ceiling>()->deepest_seen(), 0.9 * kLowest_m);
  }
}

TEST(Potential, RefusesABlockThatIsTooLarge) {
  const solver::Model model = small_sheet(true);
  solver::Potential potential(model);
  const int most = solver::EnergyTerm::kLargestBlock;
  ASSERT_GE(potential.dofs().size(), most + 1);
  const solver::State state = solver::start_state(model);
  const double energy = potential.energy(state);
  try {
    potential.add(std::make_unique<WideTerm>(most + 1));
    FAIL() << "a block larger than the buffer was taken";
  } catch (const std::invalid_argument& error) {
    const std::string said = error.what();
    EXPECT_NE(said.find("'wide'"), std::string::npos) << said;
    EXPECT_NE(said.find(std::to_string(most + 1)), std::string::npos) << said;
  }
  EXPECT_EQ(potential.find<WideTerm>(), nullptr);
  EXPECT_EQ(potential.energy(state), energy);  // as if nothing had been added
  potential.add(std::make_unique<WideTerm>(most));
  EXPECT_NE(potential.find<WideTerm>(), nullptr);
}

TEST(LowRankParts, GiveNewtonsStepOfTheWholeHessian) {
  // A sheet clamped at a border, linear under so small a load; three dense parts.
  solver::Model model = small_sheet(false);
  model.mesh.labelled_edges = {{0, 1, 1}};
  model.edge_rules = {{.label = 1, .clamped = true}};
  model.permanent_force_N *= 1e-3;
  const solver::State start = solver::start_state(model);
  const Eigen::VectorXd y = solver::coordinates(start);
  std::vector<solver::RankOne> parts;
  for (int k = 0; k < 3; ++k) {
    Eigen::VectorXd v(y.size());
    for (int i = 0; i < static_cast<int>(y.size()); ++i) {
      v[i] = std::sin(1.0 + 1.1 * k + (0.7 + k) * i);
    }
    parts.push_back({10.0 * (k + 1), v});
  }
  solver::Potential potential(model);
  potential.add(std::make_unique<DenseSprings>(parts, y));
  solver::Newton newton(potential);
  solver::SolveOptions options;
  options.residual_tolerance = 1e-8;
  options.full_steps = true;
  solver::State state = start;
  const solver::NewtonResult result = newton.minimise(state, 1, options);
  ASSERT_TRUE(result.converged());
  EXPECT_LE(result.iterations, 4);  // without one of the parts, Newton's steps are far off

  potential.prepare(start);
  const Eigen::VectorXd gradient =
      potential.restrict_to_free(potential.assemble(start, solver::HessianPart::kExact));
  Eigen::MatrixXd whole = both_triangles(potential.hessian());
  for (const auto& [factor, v] : potential.low_rank(start)) whole += factor * v * v.transpose();
  const Eigen::VectorXd linear = whole.ldlt().solve(-gradient);
  const Eigen::VectorXd moved =
      potential.restrict_to_free(solver::coordinates(state) - solver::coordinates(start));
  EXPECT_LT((moved - linear).norm(), 1e-3 * linear.norm());
}

TEST(KeptPattern, HoldsAQuadraticEnergyWhileBlocksComeAndGo) {
  const solver::Model model = drawn_sheet();
  solver::Potential potential(model);
  potential.add(std::make_unique<NearSprings>(std::vector<NearSprings::Spring>{{1, 2, 40, 0.12}}));
  solver::State near = solver::start_state(model);
  near.x.col(2) = near.x.col(1) + Vector3d(0.05, 0.01, 0.03);
  potential.prepare(near);
  potential.assemble(near, solver::HessianPart::kPositive);
  const Eigen::SparseMatrix<double> damping = potential.hessian();
  potential.keep_in_pattern(damping);

  solver::QuadraticEnergy quadratic;
  quadratic.diagonal = Eigen::VectorXd::LinSpaced(potential.dofs().size(), 1, 2);
  quadratic.centre = 0.9 * solver::coordinates(near);
  quadratic.coupled = 3 * Eigen::Map<const Eigen::VectorXd>(damping.valuePtr(), damping.nonZeros());
  quadratic.coupled_centre = 1.1 * potential.restrict_to_free(solver::coordinates(near));
  potential.set_quadratic(quadratic);
  expect_hessian(potential, near);
  expect_hessian(potential, solver::start_state(model));  // the spring is gone, its damping is not
  EXPECT_EQ(potential.hessian().nonZeros(), damping.nonZeros());
}

}  // namespace
}  // namespace totebench
