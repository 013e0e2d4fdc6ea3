#include "solver/newton.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>

namespace totebench {
namespace {

constexpr double kSufficientDecrease = 1e-4;
constexpr int kMaxHalvings = 30;
constexpr double kSmallestBlend = 0.02;
constexpr double kShift = 1e-3;  // N/m3, times the blend: keeps loose folds from being singular
constexpr double kLargestTurn = 1.0;  // rad an edge may turn in one step

// Largest share of the step that turns no edge by more than kLargestTurn.
double largest_share(const Topology& topology, const State& state, const Eigen::VectorXd& step) {
  double worst = 0;
  const Eigen::Matrix3Xd move =
      Eigen::Map<const Eigen::Matrix3Xd>(step.data(), 3, topology.n_nodes);
  for (int i = 0; i < topology.n_directors(); ++i) {
    const DirectorSite& site = topology.sites[i];
    const Eigen::Vector3d t = site_tangent(site, state.x);
    const Eigen::Vector3d dt = site_tangent(site, move);
    const Eigen::Vector3d across = dt - t * (t.dot(dt) / t.squaredNorm());
    worst = std::max({worst, across.norm() / t.norm(), std::abs(step[3 * topology.n_nodes + i])});
  }
  return worst > kLargestTurn ? kLargestTurn / worst : 1.0;
}

}  // namespace

Newton::Newton(Potential& potential, const SolveOptions& options)
    : potential_(potential), options_(options), cholesky_(make_sparse_cholesky()) {
  const ShellMesh& mesh = potential.model().mesh;
  double area = 0;
  Eigen::VectorXd metric = Eigen::VectorXd::Zero(potential.topology().n_unknowns());
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const double a = rest_area(mesh, t);
    area += a;
    for (const int node : mesh.triangles[t].node) metric.segment<3>(3 * node).array() += a / 6;
    for (const EdgeUse& use : potential.topology().edge_uses[t]) {
      for (const int d : use.director) metric[3 * mesh.n_nodes() + d] += a * a / 6;
    }
  }
  length_ = std::sqrt(2 * area / std::max(1, mesh.n_triangles()));
  metric_ = potential.restrict_to_free(metric);
  cholesky_->analyse(potential.hessian());
  blended_ = potential.hessian();
}

double Newton::relative_residual(const Eigen::VectorXd& free_gradient) const {
  return free_gradient.norm() / scale_;
}

bool Newton::factorise_blend(double blend) {
  ++result_.factorisations;
  if (blend == 0) return cholesky_->factorise(potential_.hessian());
  const Eigen::Map<const Eigen::VectorXd> convex(potential_.hessian().valuePtr(),
                                                 potential_.hessian().nonZeros());
  Eigen::Map<Eigen::VectorXd>(blended_.valuePtr(), blended_.nonZeros()) =
      blend * convex + (1 - blend) * exact_values_;
  for (Eigen::Index c = 0; c < blended_.cols(); ++c) {
    blended_.valuePtr()[blended_.outerIndexPtr()[c]] += blend * kShift * metric_[c];
  }
  return cholesky_->factorise(blended_);
}

Newton::Step Newton::newton_step(const State& state, const Eigen::VectorXd& free_gradient) {
  Step step;
  if (blend_ < kSmallestBlend) {
    step.positive_definite = factorise_blend(0);
    blend_ = step.positive_definite ? 0 : 4 * kSmallestBlend;
  }
  if (!step.positive_definite) {
    exact_values_ = Eigen::Map<const Eigen::VectorXd>(potential_.hessian().valuePtr(),
                                                      potential_.hessian().nonZeros());
    potential_.assemble(state, Curving::kConvex);
    while (!factorise_blend(blend_)) blend_ = blend_ < 1 ? std::min(1.0, 4 * blend_) : 10 * blend_;
  }
  Eigen::VectorXd direction = -cholesky_->solve(free_gradient);
  Eigen::VectorXd v;
  const double coupling = potential_.level_coupling(state, v);
  if (coupling > 0) {
    // Sherman-Morrison for the level's rank-one part.
    const Eigen::VectorXd w = cholesky_->solve(v);
    direction -= w * (coupling * v.dot(direction) / (1 + coupling * v.dot(w)));
  }
  step.slope = free_gradient.dot(direction);
  step.direction = potential_.expand(direction);
  return step;
}

NewtonResult Newton::minimise(State& state, double load_factor) {
  result_ = {};
  scale_ = std::max(potential_.load_scale(), 1e-300);
  potential_.prepare(state);
  double energy = potential_.energy(state);
  static const bool trace = std::getenv("TB_TRACE") != nullptr;
  for (int i = 0;; ++i) {
    const Eigen::VectorXd gradient =
        potential_.restrict_to_free(potential_.assemble(state, Curving::kFull));
    result_.residual_relative = relative_residual(gradient);
    result_.energy_J = energy;
    result_.iterations = i;
    if (result_.residual_relative <= options_.residual_tolerance) {
      result_.stable = factorise_blend(0);
      result_.status = NewtonStatus::kConverged;
      return result_;
    }
    if (i >= options_.max_iterations) {
      result_.status = NewtonStatus::kTooManyIterations;
      return result_;
    }
    const Step step = newton_step(state, gradient);
    double share = largest_share(potential_.topology(), state, step.direction);
    State trial;
    double trial_energy = 0;
    bool accepted = false;
    for (int h = 0; h < kMaxHalvings; ++h) {
      trial = retract(potential_.topology(), state, share * step.direction);
      potential_.prepare(trial);
      trial_energy = potential_.energy(trial);
      const double wanted = kSufficientDecrease * share * step.slope;
      // Below the energy's own round-off a decrease cannot be seen; the gradient decides then.
      const double noise = 1e-13 * std::abs(energy);
      if (trial_energy <= energy + wanted ||
          (-step.slope < 1e3 * noise && trial_energy <= energy + noise)) {
        accepted = true;
        break;
      }
      // Minimum of the parabola through both energies and the slope, kept within [0.1, 0.5].
      const double rise = trial_energy - energy - share * step.slope;
      const double best =
          std::isfinite(rise) && rise > 0 ? -0.5 * step.slope * share * share / rise : 0.5 * share;
      share = std::clamp(best, 0.1 * share, 0.5 * share);
    }
    // A matrix that is stiffer than the truth takes short steps: lengthen them while it pays.
    if (accepted && !step.positive_definite) {
      const double limit = largest_share(potential_.topology(), state, step.direction);
      while (2 * share <= 16 && share * 2 <= limit * 16) {
        State longer = retract(potential_.topology(), state, 2 * share * step.direction);
        potential_.prepare(longer);
        const double longer_energy = potential_.energy(longer);
        if (!(longer_energy < trial_energy)) break;
        trial = std::move(longer);
        trial_energy = longer_energy;
        share *= 2;
      }
      potential_.prepare(trial);
    }
    if (accepted) {
      if (share >= 1)
        blend_ *= 0.25;
      else if (share < 0.3)
        blend_ = std::min(1.0, std::max(4 * blend_, step.positive_definite ? 0 : kSmallestBlend));
    }
    if (trace)
      std::fprintf(stderr, "%3d r %.3e E %.9e slope %.2e share %.3g pd %d blend %.1e\n", i,
                   result_.residual_relative, energy, step.slope, share, step.positive_definite,
                   blend_);
    if (!accepted) {
      potential_.prepare(state);
      result_.status = NewtonStatus::kStalled;
      return result_;
    }
    state = std::move(trial);
    energy = trial_energy;
    if (options_.on_progress &&
        !options_.on_progress({i + 1, load_factor, result_.residual_relative, energy, share})) {
      result_.status = NewtonStatus::kInterrupted;
      return result_;
    }
  }
}

}  // namespace totebench
