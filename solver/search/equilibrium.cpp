#include "totebench/solver/equilibrium.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <chrono>
#include <cmath>
#include <limits>
#include <random>

#include "solver/assembly/potential.hpp"
#include "solver/search/newton.hpp"

namespace totebench::solver {
namespace {

constexpr double kSmallestLoadStep = 1.0 / 256;
constexpr int kMaxHeapRounds = 40;

// A smooth bump field of the given amplitude on free nodes, the same for the same seed.
void add_imperfection(const Potential& potential, unsigned seed, double amplitude, State& state) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> phase(0, 2 * M_PI);
  const Eigen::Vector3d low = state.x.rowwise().minCoeff();
  const Eigen::Vector3d high = state.x.rowwise().maxCoeff();
  const double size = (high - low).maxCoeff();
  constexpr int kWaves = 6;
  Eigen::VectorXd step = Eigen::VectorXd::Zero(potential.topology().n_unknowns());
  for (int w = 0; w < kWaves; ++w) {
    Eigen::Vector3d wave;
    Eigen::Vector3d direction;
    for (int c = 0; c < 3; ++c) {
      wave[c] = 2 * M_PI * (1 + 3 * std::sin(phase(random))) / size;
      direction[c] = std::cos(phase(random));
    }
    const double shift = phase(random);
    for (int i = 0; i < potential.topology().n_nodes; ++i) {
      step.segment<3>(3 * i) += amplitude / std::sqrt(kWaves) *
                                std::sin(wave.dot(state.x.col(i)) + shift) * direction.normalized();
    }
  }
  step = potential.expand(potential.restrict_to_free(step));
  state = retract(potential.topology(), state, step);
}

// Contents that are not a liquid carry part of their weight by a dead load that depends on the
// shape: solve, renew the load, repeat until nothing changes.
NewtonResult settle(Potential& potential, Newton& newton, State& state, double factor,
                    const SolveOptions& options) {
  FillTerm* fill = potential.fill();
  if (fill == nullptr) return newton.minimise(state, factor, options);
  NewtonResult total;
  for (int round = 0; round < kMaxHeapRounds; ++round) {
    fill->renew_cap(state);
    potential.prepare(state);
    if (fill->is_heap()) potential.set_heap_forces(fill->heap_forces(state));
    const NewtonResult result = newton.minimise(state, factor, options);
    total.iterations += result.iterations;
    total.factorisations += result.factorisations;
    total.status = result.status;
    total.residual_relative = result.residual_relative;
    total.energy_J = result.energy_J;
    total.stable = result.stable;
    if (result.status != NewtonStatus::kConverged) return total;
    if (!fill->is_heap() && !fill->overflows()) return total;
    fill->renew_cap(state);
    potential.prepare(state);
    if (fill->is_heap()) potential.set_heap_forces(fill->heap_forces(state));
    total.residual_relative =
        newton.relative_residual(potential.restrict_to_free(potential.gradient(state)));
    if (total.residual_relative <= options.residual_tolerance && !fill->overflows()) return total;
    if (result.iterations == 0 && fill->overflows()) break;
  }
  total.status = NewtonStatus::kStalled;
  return total;
}

std::string advice_for(const NewtonResult& result, const FillTerm* fill) {
  if (fill != nullptr && fill->overflows()) {
    return "the contents do not fit in the bag: lower their mass, raise their bulk density, or "
           "make the bag larger";
  }
  if (result.status == NewtonStatus::kTooManyIterations) {
    return "the search was still moving when it ran out of steps: raise solve.load_steps, or make "
           "the mesh finer where the bag folds sharply";
  }
  return "the search stalled: raise solve.load_steps, or make the softest layer stiffer (cloth "
         "with nearly no bending stiffness folds without end)";
}

}  // namespace

State start_state(const Model& model) {
  const Topology topology = make_topology(model);
  State state;
  state.x = model.mesh.position;
  state.director = topology.start_director;
  state.turn = Eigen::VectorXd::Zero(topology.n_directors());
  return state;
}

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

SolveReport EquilibriumSearch::find(double load_factor, State& state, const SolveOptions& options) {
  const auto begin = std::chrono::steady_clock::now();
  Potential& potential = impl_->potential;
  Newton& newton = impl_->newton;
  SolveReport report;
  report.degrees_of_freedom = potential.n_free();

  if (options.imperfection_m > 0) {
    add_imperfection(potential, options.imperfection_seed, options.imperfection_m, state);
  }
  const int steps = std::max(1, options.first_load_steps);
  double done = steps > 1 ? 0.0 : load_factor;
  double step = load_factor / steps;
  if (steps > 1) done = step;
  State good = state;
  double good_factor = 0;
  bool any_good = false;
  NewtonResult result;
  while (true) {
    potential.set_load_factor(done);
    result = settle(potential, newton, state, done, options);
    report.newton_iterations += result.iterations;
    report.factorisations += result.factorisations;
    if (result.status == NewtonStatus::kConverged) {
      good = state;
      good_factor = done;
      any_good = true;
      if (done >= load_factor * (1 - 1e-12)) break;
      step = std::min(step * 1.5, load_factor - done);
      done += step;
      continue;
    }
    if (result.status == NewtonStatus::kInterrupted || steps == 1 ||
        step < kSmallestLoadStep * load_factor) {
      break;
    }
    step *= 0.5;
    done = good_factor + step;
    state = good;
  }

  const bool converged = result.status == NewtonStatus::kConverged;
  report.status = converged                                     ? SolveStatus::kConverged
                  : result.status == NewtonStatus::kInterrupted ? SolveStatus::kInterrupted
                                                                : SolveStatus::kNotConverged;
  report.load_factor = done;
  if (!converged) {
    report.advice = advice_for(result, potential.fill());
    if (any_good) {
      state = good;
      report.load_factor = good_factor;
      potential.set_load_factor(good_factor);
      potential.prepare(state);
    }
  }
  report.residual_relative = result.residual_relative;
  report.energy_J = result.energy_J;
  report.stable = converged && result.stable;

  const Eigen::VectorXd gradient = potential.gradient(state);
  const Eigen::VectorXd free_part = potential.expand(potential.restrict_to_free(gradient));
  for (int i = 0; i < potential.topology().n_nodes; ++i) {
    report.reaction_N += (gradient - free_part).segment<3>(3 * i);
  }
  report.applied_N = potential.applied_force(state);
  report.balance_relative = (report.applied_N + report.reaction_N).norm() / newton.load_scale();
  report.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return report;
}

}  // namespace totebench::solver
