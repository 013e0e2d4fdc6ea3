// How Newton moves a state: along a step, searching the line or not, and off a saddle.
#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/search/newton.hpp"

namespace totebench::solver {
namespace {

constexpr double kSufficientDecrease = 1e-4;
constexpr int kMaxHalvings = 30;
constexpr double kEnergyNoise = 1e-13;  // share of the energy lost to round-off
constexpr double kLongestShare = 16;    // of a step with a matrix that is too stiff
constexpr double kLargestTurn = 1.0;    // rad an edge may turn in one step
// A full step that climbs above the best state by more than this share of the energy stored there
// is halved, so often: from further up the way down depends on the last digit. Measured on limp
// bags: by a fifth some still do.
constexpr double kHighestClimb = 0.05;
constexpr int kMostClimbHalvings = 6;
// Leaving a saddle: along the softest mode, first by this share of an edge length.
constexpr double kSaddleShift = 5e-4;
constexpr double kLargestShift = 1e12;  // a matrix that takes more holds no numbers
constexpr int kModeRounds = 12;         // of inverse iteration
constexpr int kMostSupportSteps = 50;
constexpr double kSupportThere = 1e-12;  // of an edge length: there

}  // namespace

double Newton::largest_step(const State& state, const Eigen::VectorXd& step) {
  return std::min(turn_limit(state, step), admitted(state, step));
}

double Newton::turn_limit(const State& state, const Eigen::VectorXd& step) const {
  const double turn = largest_turn(potential_.topology(), state, step);
  return turn > kLargestTurn ? kLargestTurn / turn : 1.0;
}

bool Newton::move_supports(State& state) {
  blend_ = 0;
  positive_left_ = 0;
  positive_run_ = 1;
  for (int step = 0; step < kMostSupportSteps; ++step) {
    Eigen::VectorXd move = potential_.support_step(state);
    if (move.lpNorm<Eigen::Infinity>() <= kSupportThere * length_) return true;
    potential_.forget_prediction();
    prepare(state);
    assemble_next(state);
    move +=
        newton_step(state, potential_.restrict_to_free(potential_.hessian_times(move))).direction;
    const double share = largest_step(state, move);
    state = retract(potential_.topology(), state, share * move);
    if (share == 1) return true;
  }
  return false;
}

Newton::Move Newton::attempt(const State& state, const Eigen::VectorXd& step, double share) {
  Move move{retract(potential_.topology(), state, share * step), 0, share, false};
  prepare(move.state);
  move.energy = energy_of(move.state);
  return move;
}

Newton::Move Newton::line_search(const State& state, double energy, const Step& step) {
  // A step that the terms cut short says nothing about the matrix, one that turns edges too far
  // does.
  const double whole = admitted(state, step.direction);
  const double longest = turn_limit(state, step.direction);
  Move move;
  move.share = std::min(longest, whole);
  for (int h = 0; h < kMaxHalvings; ++h) {
    move = attempt(state, step.direction, move.share);
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
    // Bodies turn: their way to a part of the step is not a part of their way.
    if (potential_.dofs().n_bodies > 0) {
      move.share *= admitted(state, move.share * step.direction);
    }
  }
  // A matrix that is stiffer than the truth takes short steps: lengthen them while it pays.
  if (move.accepted && !step.positive_definite) {
    while (2 * move.share <= kLongestShare * longest &&
           largest_step(state, 2 * move.share * step.direction) >= 1) {
      Move longer = attempt(state, step.direction, 2 * move.share);
      if (!(longer.energy < move.energy)) break;
      move = std::move(longer);
      move.accepted = true;
    }
    prepare(move.state);
  }
  if (move.accepted && move.share >= whole) {
    blend_ *= 0.25;
  } else if (move.share < 0.3 * whole) {
    blend_ = std::min(1.0, std::max(4 * blend_, step.positive_definite ? 0.0 : kSmallestBlend));
  }
  return move;
}

Newton::Move Newton::full_step(const State& state, const Step& step, const Best& best) {
  Move move;
  move.share = largest_step(state, step.direction);
  const double highest = best.energy + kHighestClimb * std::abs(best.inner_energy);
  for (int halvings = 0;; ++halvings) {
    move = attempt(state, step.direction, move.share);
    if (move.energy <= highest || halvings == kMostClimbHalvings) {
      if (halvings == 0) blend_ *= 0.25;
      break;
    }
    move.share *= 0.5;
    if (potential_.dofs().n_bodies > 0) move.share *= admitted(state, move.share * step.direction);
  }
  move.accepted = std::isfinite(move.energy);
  if (move.accepted) potential_.predict(state, move.share * step.direction);
  return move;
}

Newton::Move Newton::leave_saddle(const State& state, double energy) {
  // The softest mode by inverse iteration on the exact Hessian, shifted until it is definite.
  exact_values_ = Eigen::Map<const Eigen::VectorXd>(potential_.hessian().valuePtr(),
                                                    potential_.hessian().nonZeros());
  Eigen::Map<Eigen::VectorXd> shifted(blended_.valuePtr(), blended_.nonZeros());
  bool definite = false;
  for (double shift = 4 * shift_; !definite && shift < kLargestShift; shift *= 4) {
    shifted = exact_values_;
    for (Eigen::Index c = 0; c < blended_.cols(); ++c) {
      blended_.valuePtr()[blended_.outerIndexPtr()[c]] += shift * metric_[c];
    }
    ++result_.factorisations;
    definite = factorise(blended_);
  }
  Move move;
  if (!definite) return move;
  Eigen::VectorXd mode = Eigen::VectorXd::Zero(metric_.size());
  for (int i = 0; i < potential_.n_free(); ++i) mode[i] = 1 + 0.5 * std::sin(1.0 + 7.0 * i);
  for (int round = 0; round < kModeRounds; ++round) {
    mode = solve(metric_.cwiseProduct(mode));
    mode /= std::sqrt(mode.dot(metric_.cwiseProduct(mode)));
  }
  double curvature = mode.dot(potential_.hessian().selfadjointView<Eigen::Lower>() * mode);
  for (const auto& [factor, v] : potential_.low_rank(state)) {
    curvature += factor * v.dot(mode) * v.dot(mode);
  }
  if (!(curvature < 0)) return move;

  const Eigen::VectorXd step =
      potential_.expand(mode / mode.cwiseProduct(unit_.cwiseInverse()).lpNorm<Eigen::Infinity>());
  // Downhill on either side: take the lower one, and go on while it pays.
  move.energy = energy;
  for (const double side : {1.0, -1.0}) {
    for (double share = side * kSaddleShift * length_; largest_step(state, share * step) >= 1;
         share *= 2) {
      Move lower = attempt(state, step, share);
      if (!(lower.energy < move.energy)) break;
      move = std::move(lower);
      move.accepted = true;
    }
  }
  prepare(move.accepted ? move.state : state);
  return move;
}

}  // namespace totebench::solver
