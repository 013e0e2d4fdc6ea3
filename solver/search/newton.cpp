#include "solver/search/newton.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

namespace totebench::solver {
namespace {

constexpr double kSufficientDecrease = 1e-4;
constexpr int kMaxHalvings = 30;
constexpr double kEnergyNoise = 1e-13;  // share of the energy lost to round-off
constexpr double kLongestShare = 16;    // of a step with a matrix that is too stiff
// Bold moves begin where a step promises less than this share of the energy: earlier they jump
// into other, crumpled shapes. They end after so many without gain, for so many careful ones.
// The three numbers were chosen by counting steps on bags from stiff to limp.
constexpr double kBoldSlope = 1e-3;
constexpr int kPatience = 8;
constexpr int kCarefulMoves = 6;
// A careful search this long is lost in a narrow valley (a strip rolled up): go boldly after all.
constexpr int kLongCareful = 40;
constexpr double kSmallestBlend = 0.02;
constexpr double kShift = 1e-3;  // N/m3, times the blend: keeps loose folds from being singular
constexpr double kLargestTurn = 1.0;  // rad an edge may turn in one step
// While only the positive part will do, the exact Hessian is tried after 1, 2, 4, ... steps.
constexpr int kLongestConvexRun = 8;
// Leaving a saddle: along the softest mode, first by this share of an edge length.
constexpr double kSaddleShift = 5e-4;
constexpr int kMostSaddles = 6;
constexpr int kModeRounds = 12;  // of inverse iteration

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

Newton::Newton(Potential& potential) : potential_(potential), cholesky_(make_sparse_cholesky()) {
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
  Eigen::VectorXd unit = Eigen::VectorXd::Ones(metric.size());
  unit.tail(potential.topology().n_directors()).setConstant(1 / length_);
  unit_ = potential.restrict_to_free(unit);
  cholesky_->analyse(potential.hessian());
  blended_ = potential.hessian();
}

double Newton::relative_residual(const Eigen::VectorXd& free_gradient) const {
  return free_gradient.cwiseProduct(unit_).norm() / scale_;
}

double Newton::load_scale() const {
  // Without any load the stiffness sets the scale: a strain of 1e-9 over one edge.
  double stiffest = 0;
  for (const Section& section : potential_.model().sections) {
    stiffest = std::max(stiffest, section.A.maxCoeff());
  }
  return std::max(potential_.load_scale(length_), 1e-9 * stiffest * length_);
}

bool Newton::factorise_blend(double blend) {
  ++result_.factorisations;
  if (blend == 0) return cholesky_->factorise(potential_.hessian());
  const Eigen::Map<const Eigen::VectorXd> convex(potential_.hessian().valuePtr(),
                                                 potential_.hessian().nonZeros());
  Eigen::Map<Eigen::VectorXd> blended(blended_.valuePtr(), blended_.nonZeros());
  if (blend < 1) {
    blended = blend * convex + (1 - blend) * exact_values_;
  } else {
    blended = convex;
  }
  for (Eigen::Index c = 0; c < blended_.cols(); ++c) {
    blended_.valuePtr()[blended_.outerIndexPtr()[c]] += blend * kShift * metric_[c];
  }
  return cholesky_->factorise(blended_);
}

Eigen::VectorXd Newton::assemble(const State& state) {
  holds_exact_ = convex_left_ == 0 && blend_ < 1;
  convex_left_ = std::max(0, convex_left_ - 1);
  return potential_.restrict_to_free(
      potential_.assemble(state, holds_exact_ ? Curving::kFull : Curving::kConvex));
}

bool Newton::factorise_somehow(const State& state) {
  if (holds_exact_) {
    if (blend_ < kSmallestBlend) {
      if (factorise_blend(0)) {
        blend_ = 0;
        convex_run_ = 1;
        return true;
      }
      blend_ = 4 * kSmallestBlend;
    }
    exact_values_ = Eigen::Map<const Eigen::VectorXd>(potential_.hessian().valuePtr(),
                                                      potential_.hessian().nonZeros());
    potential_.assemble(state, Curving::kConvex);
  } else {
    blend_ = std::max(blend_, 1.0);
  }
  while (!factorise_blend(blend_)) blend_ = blend_ < 1 ? std::min(1.0, 4 * blend_) : 10 * blend_;
  if (holds_exact_) {
    const bool needs_convex = blend_ >= 1;
    convex_left_ = needs_convex ? convex_run_ : 0;
    convex_run_ = needs_convex ? std::min(2 * convex_run_, kLongestConvexRun) : 1;
  }
  return false;
}

Newton::Step Newton::newton_step(const State& state, const Eigen::VectorXd& free_gradient) {
  Step step;
  step.positive_definite = factorise_somehow(state);
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

Newton::Move Newton::careful_move(const State& state, double energy, const Step& step) {
  const double limit = largest_share(potential_.topology(), state, step.direction);
  Move move;
  move.share = limit;
  const auto attempt = [&](double share) {
    State moved = retract(potential_.topology(), state, share * step.direction);
    potential_.prepare(moved);
    return std::pair(potential_.energy(moved), std::move(moved));
  };
  for (int h = 0; h < kMaxHalvings; ++h) {
    std::tie(move.energy, move.state) = attempt(move.share);
    // Below the energy's own round-off a decrease cannot be seen; the gradient decides then.
    const double noise = kEnergyNoise * std::abs(energy);
    if (move.energy <= energy + kSufficientDecrease * move.share * step.slope ||
        (-step.slope < 1e3 * noise && move.energy <= energy + noise)) {
      move.accepted = true;
      break;
    }
    // Minimum of the parabola through both energies and the slope, kept within [0.1, 0.5].
    const double rise = move.energy - energy - move.share * step.slope;
    const double best = std::isfinite(rise) && rise > 0
                            ? -0.5 * step.slope * move.share * move.share / rise
                            : 0.5 * move.share;
    move.share = std::clamp(best, 0.1 * move.share, 0.5 * move.share);
  }
  // A matrix that is stiffer than the truth takes short steps: lengthen them while it pays.
  if (move.accepted && !step.positive_definite) {
    while (2 * move.share <= kLongestShare * limit) {
      auto [longer_energy, longer] = attempt(2 * move.share);
      if (!(longer_energy < move.energy)) break;
      move.energy = longer_energy;
      move.state = std::move(longer);
      move.share *= 2;
    }
    potential_.prepare(move.state);
  }
  if (move.accepted && move.share >= 1) {
    blend_ *= 0.25;
  } else if (move.share < 0.3) {
    blend_ = std::min(1.0, std::max(4 * blend_, step.positive_definite ? 0.0 : kSmallestBlend));
  }
  return move;
}

Newton::Move Newton::bold_move(const State& state, const Step& step) {
  Move move;
  move.share = largest_share(potential_.topology(), state, step.direction);
  move.state = retract(potential_.topology(), state, move.share * step.direction);
  potential_.prepare(move.state);
  move.energy = potential_.energy(move.state);
  move.accepted = std::isfinite(move.energy);
  blend_ *= 0.25;
  if (move.accepted) potential_.predict(state, move.share * step.direction);
  return move;
}

Newton::Move Newton::leave_saddle(const State& state, double energy) {
  // The softest mode by inverse iteration on the exact Hessian, shifted until it is definite.
  exact_values_ = Eigen::Map<const Eigen::VectorXd>(potential_.hessian().valuePtr(),
                                                    potential_.hessian().nonZeros());
  Eigen::Map<Eigen::VectorXd> shifted(blended_.valuePtr(), blended_.nonZeros());
  double shift = kShift;
  do {
    shift *= 4;
    shifted = exact_values_;
    for (Eigen::Index c = 0; c < blended_.cols(); ++c) {
      blended_.valuePtr()[blended_.outerIndexPtr()[c]] += shift * metric_[c];
    }
    ++result_.factorisations;
  } while (!cholesky_->factorise(blended_));
  Eigen::VectorXd mode = Eigen::VectorXd::Zero(metric_.size());
  for (int i = 0; i < potential_.n_free(); ++i) mode[i] = 1 + 0.5 * std::sin(1.0 + 7.0 * i);
  for (int round = 0; round < kModeRounds; ++round) {
    mode = cholesky_->solve(metric_.cwiseProduct(mode));
    mode /= std::sqrt(mode.dot(metric_.cwiseProduct(mode)));
  }
  Eigen::VectorXd level;
  const double coupling = potential_.level_coupling(state, level);
  double curvature = mode.dot(potential_.hessian().selfadjointView<Eigen::Lower>() * mode);
  if (coupling > 0) curvature += coupling * level.dot(mode) * level.dot(mode);
  Move move;
  if (!(curvature < 0)) return move;

  const Eigen::VectorXd step =
      potential_.expand(mode / mode.cwiseProduct(unit_.cwiseInverse()).lpNorm<Eigen::Infinity>());
  // Downhill on either side: take the lower one, and go on while it pays.
  move.energy = energy;
  for (const double side : {1.0, -1.0}) {
    for (double share = side * kSaddleShift * length_;; share *= 2) {
      State moved = retract(potential_.topology(), state, share * step);
      potential_.prepare(moved);
      const double moved_energy = potential_.energy(moved);
      if (!(moved_energy < move.energy)) break;
      move = {std::move(moved), moved_energy, share, true};
    }
  }
  potential_.prepare(move.accepted ? move.state : state);
  return move;
}

NewtonResult Newton::minimise(State& state, double load_factor, const SolveOptions& options) {
  result_ = {};
  scale_ = options.load_scale_N > 0 ? options.load_scale_N : load_scale();
  potential_.forget_prediction();
  potential_.prepare(state);
  double energy = potential_.energy(state);

  // Bold moves follow the curved valleys of thin shells quickly but may climb; the best state is
  // kept, and returned to when they do not pay.
  State best = state;
  double best_energy = energy;
  int without_gain = 0;
  int careful_left = 0;
  int n_careful = options.bold ? kLongCareful : 0;
  int saddles_left = kMostSaddles;
  blend_ = 0;
  convex_left_ = 0;
  convex_run_ = 1;
  for (int i = 0;; ++i) {
    const Eigen::VectorXd gradient = assemble(state);
    result_.residual_relative = relative_residual(gradient);
    result_.energy_J = energy;
    result_.iterations = i;
    if (result_.residual_relative <= options.residual_tolerance) {
      potential_.forget_prediction();
      potential_.assemble(state, Curving::kFull);
      result_.stable = factorise_blend(0);
      result_.status = NewtonStatus::kConverged;
      if (result_.stable || saddles_left == 0) return result_;
      --saddles_left;
      Move move = leave_saddle(state, energy);
      if (!move.accepted) return result_;
      best = state = std::move(move.state);
      best_energy = energy = move.energy;
      without_gain = 0;
      continue;
    }
    if (i >= options.max_iterations) {
      state = best;
      potential_.prepare(state);
      result_.status = NewtonStatus::kTooManyIterations;
      return result_;
    }
    const Step step = newton_step(state, gradient);
    const bool early = -step.slope > kBoldSlope * std::abs(energy) && n_careful < kLongCareful;
    const bool careful = careful_left > 0 || early;
    n_careful = careful ? n_careful + 1 : n_careful;
    Move move = careful ? careful_move(state, energy, step) : bold_move(state, step);
    if (careful) {
      if (careful_left > 0) --careful_left;
      potential_.forget_prediction();
      if (!move.accepted) {
        potential_.prepare(state);
        result_.status = NewtonStatus::kStalled;
        return result_;
      }
    }
    if (move.accepted && move.energy < best_energy) {
      best = move.state;
      best_energy = move.energy;
      without_gain = 0;
    } else {
      ++without_gain;
    }
    if (!move.accepted || without_gain > kPatience) {
      state = best;
      energy = best_energy;
      potential_.prepare(state);
      potential_.forget_prediction();
      without_gain = 0;
      careful_left = kCarefulMoves;
      continue;
    }
    state = std::move(move.state);
    energy = move.energy;
    if (options.on_progress &&
        !options.on_progress({i + 1, load_factor, result_.residual_relative, energy, move.share})) {
      state = best;
      potential_.prepare(state);
      result_.status = NewtonStatus::kInterrupted;
      return result_;
    }
  }
}

}  // namespace totebench::solver
