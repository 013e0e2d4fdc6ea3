#include "totebench/solver/equilibrium.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "solver/assembly/potential.hpp"
#include "solver/search/newton.hpp"

namespace totebench::solver {
namespace {

constexpr int kMostRenewals = 40;  // of renewing lagged loads
constexpr int kMostSlips = 150;    // the same with bodies: a step or two each

// A smooth bump field of the given amplitude on free nodes, the same for the same seed.
void add_imperfection(const Potential& potential, unsigned seed, double amplitude, State& state) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> phase(0, 2 * std::numbers::pi);
  const Eigen::Vector3d low = state.x.rowwise().minCoeff();
  const Eigen::Vector3d high = state.x.rowwise().maxCoeff();
  const double size = (high - low).maxCoeff();
  constexpr int kWaves = 6;
  Eigen::VectorXd step = Eigen::VectorXd::Zero(potential.dofs().size());
  for (int w = 0; w < kWaves; ++w) {
    Eigen::Vector3d wave;
    Eigen::Vector3d direction;
    for (int c = 0; c < 3; ++c) {
      wave[c] = 2 * std::numbers::pi * (1 + 3 * std::sin(phase(random))) / size;
      direction[c] = std::cos(phase(random));
    }
    const double shift = phase(random);
    for (int i = 0; i < potential.topology().n_nodes; ++i) {
      step.segment<3>(3 * i) += amplitude / std::sqrt(kWaves) *
                                std::sin(wave.dot(state.x.col(i)) + shift) * direction.normalized();
    }
  }
  step = potential.expand(potential.restrict_to_free(step));
  state = retract(potential.topology(), state, potential.largest_step(state, step) * step);
}

// Parts of the loads that lag, such as the weight of a heap, depend on the shape but are dead to
// the minimisation: fixed-point iteration, renewing them until they no longer change.
NewtonResult minimise_with_lagged_loads(Potential& potential, Newton& newton, State& state,
                                        double factor, const SolveOptions& options) {
  NewtonResult total;
  potential.begin(state);
  potential.renew_lagged(state);
  const bool has_bodies = potential.dofs().n_bodies > 0;
  for (int round = 0; round < (has_bodies ? kMostSlips : kMostRenewals); ++round) {
    const NewtonResult result = newton.minimise(state, factor, options);
    const int iterations = total.iterations + result.iterations;
    const int factorisations = total.factorisations + result.factorisations;
    total = result;
    total.iterations = iterations;
    total.factorisations = factorisations;
    if (!result.converged() || !potential.is_lagged()) return total;
    potential.renew_lagged(state);
    total.residual_relative =
        newton.relative_residual(potential.restrict_to_free(potential.gradient(state)));
    const bool obstructed = potential.obstacle() != SolveFailure::kNone;
    const double wanted = result.at_round_off
                              ? std::max(options.residual_tolerance, result.round_off_relative)
                              : options.residual_tolerance;
    if (total.residual_relative <= wanted && !obstructed) return total;
    if (result.iterations == 0 && obstructed) break;
  }
  total.failure = SolveFailure::kStalled;
  return total;
}

}  // namespace

struct EquilibriumSearch::Impl {
  explicit Impl(const Model& model) : potential(model), newton(potential) {}
  Potential potential;
  Newton newton;
};

EquilibriumSearch::EquilibriumSearch(const Model& model) : impl_(std::make_unique<Impl>(model)) {}
EquilibriumSearch::~EquilibriumSearch() = default;
EquilibriumSearch::EquilibriumSearch(EquilibriumSearch&&) noexcept = default;
EquilibriumSearch& EquilibriumSearch::operator=(EquilibriumSearch&&) noexcept = default;

SolveReport find_equilibrium(const Model& model, double load_factor, State& state,
                             const SolveOptions& options) {
  return EquilibriumSearch(model).find(load_factor, state, options);
}

double EquilibriumSearch::energy(double load_factor, State state) {
  Potential& potential = impl_->potential;
  potential.set_load_factor(load_factor);
  if (!impl_->newton.move_supports(state)) return std::numeric_limits<double>::infinity();
  potential.prepare(state);
  return potential.energy(state);
}

SolveReport EquilibriumSearch::find(double load_factor, State& state, const SolveOptions& options) {
  Potential& potential = impl_->potential;
  Newton& newton = impl_->newton;
  SolveReport report;
  report.degrees_of_freedom = potential.n_free();
  newton.forget_times();
  const auto begin = std::chrono::steady_clock::now();

  if (options.imperfection_m > 0) {
    add_imperfection(potential, options.imperfection_seed, options.imperfection_m, state);
  }
  potential.set_load_factor(load_factor);
  NewtonResult result;
  if (newton.move_supports(state)) {
    result = minimise_with_lagged_loads(potential, newton, state, load_factor, options);
  } else {
    result.failure = SolveFailure::kStalled;
  }
  report.failure = result.failure;
  if (!result.converged() && result.failure != SolveFailure::kInterrupted &&
      potential.obstacle() != SolveFailure::kNone) {
    report.failure = potential.obstacle();
  }
  report.status = result.converged()                             ? SolveStatus::kConverged
                  : result.failure == SolveFailure::kInterrupted ? SolveStatus::kInterrupted
                                                                 : SolveStatus::kNotConverged;
  report.newton_iterations = result.iterations;
  report.factorisations = result.factorisations;
  report.load_factor = report.wanted_load_factor = load_factor;
  report.residual_relative = result.residual_relative;
  report.round_off_relative = result.round_off_relative;
  report.at_round_off = result.converged() && result.at_round_off;
  report.energy_J = result.energy_J;
  report.stable = result.converged() && result.stable;

  const Eigen::VectorXd gradient = potential.gradient(state);
  const Eigen::VectorXd free_part = potential.expand(potential.restrict_to_free(gradient));
  for (int i = 0; i < potential.topology().n_nodes; ++i) {
    report.reaction_N += (gradient - free_part).segment<3>(3 * i);
  }
  for (int b = 0; b < potential.dofs().n_bodies; ++b) {
    report.reaction_N += (gradient - free_part).segment<3>(potential.dofs().body(b));
  }
  report.applied_N = potential.applied_force(state);
  report.balance_relative = (report.applied_N + report.reaction_N).norm() / newton.scale();
  report.times = newton.times();
  report.times.whole =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return report;
}

}  // namespace totebench::solver
