#include "solver/search/newton.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace totebench::solver {
namespace {

// Full steps begin where a step promises less than this share of the energy: earlier they jump
// into other, crumpled shapes. They end after so many without gain, for so many line searches.
// The three numbers were chosen by counting steps on bags from stiff to limp.
constexpr double kFullStepSlope = 1e-3;
constexpr int kPatience = 8;
constexpr int kLineSearches = 6;
// A line search takes ever shorter steps along a narrow valley (a strip rolled up): after this many
// in all, full steps.
constexpr int kMostLineSearches = 40;
// While only the positive part will do, the exact Hessian is tried after 1, 2, 4, ... steps.
constexpr int kLongestPositiveRun = 8;
// A matrix that cannot be factorised with a shift so many times the smallest holds no numbers.
constexpr double kLargestBlend = 1e12;
constexpr int kMostSaddles = 6;  // left in one search
// A residual that has not halved in so many steps no longer falls: near a solution steps square it.
constexpr int kStepsAtRoundOff = 3;
// Of the load, in a residual that is accepted: figures are told to three digits.
constexpr double kMostRoundOff = 1e-3;
constexpr double kMovedSupport = 1e-9;  // of a mean edge length
constexpr double kFall = 1e-3;          // m

// Whether a residual still falls.
class Fall {
 public:
  void note(double residual) {
    without_halving_ = residual > 0.5 * least_ ? without_halving_ + 1 : 0;
    least_ = std::min(least_, residual);
  }
  [[nodiscard]] bool has_ended() const { return without_halving_ >= kStepsAtRoundOff; }

 private:
  double least_ = std::numeric_limits<double>::infinity();
  int without_halving_ = 0;
};

}  // namespace

Newton::Newton(Potential& potential) : potential_(potential), cholesky_(make_sparse_cholesky()) {
  const ShellMesh& mesh = potential.model().mesh;
  double area = 0;
  const DofMap& dofs = potential.dofs();
  metric_of_all_ = Eigen::VectorXd::Zero(dofs.size());
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const double a = rest_area(mesh, t);
    area += a;
    for (const int node : mesh.triangles[t].node)
      metric_of_all_.segment<3>(dofs.node(node)).array() += a / 6;
    for (const EdgeUse& use : potential.topology().edge_uses[t]) {
      for (const int d : use.director) metric_of_all_[dofs.director(d)] += a * a / 6;
    }
  }
  const double mean_area = area / std::max(1, mesh.n_triangles());
  length_ = std::sqrt(2 * mean_area);
  Eigen::VectorXd unit = Eigen::VectorXd::Ones(dofs.size());
  unit.segment(dofs.director(0), dofs.n_directors).setConstant(1 / length_);
  for (int b = 0; b < dofs.n_bodies; ++b) {
    unit.segment<3>(dofs.body(b) + 3).setConstant(1 / length_);
  }
  unit_ = potential.restrict_to_free(unit);
  shift_by(kLeastShift);
  follow_pattern();
}

void Newton::shift_by(double shift) {
  shift_ = shift;
  const DofMap& dofs = potential_.dofs();
  const double mean_area = 0.5 * length_ * length_;
  for (int b = 0; b < dofs.n_bodies; ++b) {
    // A body that nothing holds up falls no further in one step than kFall by the whole shift.
    const Body& body = potential_.model().bodies[static_cast<std::size_t>(b)];
    const double weight = body.mass_kg * potential_.model().gravity_m_per_s2;
    const double moved = std::max(mean_area, weight / kFall / shift);
    const double radius = body.skin.point_m.size() > 0
                              ? body.skin.point_m.colwise().norm().maxCoeff()
                              : std::sqrt(mean_area);
    metric_of_all_.segment<3>(dofs.body(b)).setConstant(moved);
    metric_of_all_.segment<3>(dofs.body(b) + 3).setConstant(moved * radius * radius);
  }
  metric_ = potential_.restrict_to_free(metric_of_all_);
}

void Newton::follow_pattern() {
  if (pattern_version_ == potential_.pattern_version()) return;
  pattern_version_ = potential_.pattern_version();
  const Timed timed(times_.ordering);
  cholesky_->analyse(potential_.hessian());
  blended_ = potential_.hessian();
}

void Newton::prepare(const State& state) {
  const Timed timed(times_.contact);
  potential_.prepare(state);
}

double Newton::energy_of(const State& state) {
  const Timed timed(times_.line_search);
  return potential_.energy(state);
}

Newton::Best Newton::as_best(const State& state, double energy) {
  const Timed timed(times_.line_search);
  return {state, energy, potential_.inner_energy(state)};
}

double Newton::admitted(const State& state, const Eigen::VectorXd& step) {
  const Timed timed(times_.contact);
  return potential_.largest_step(state, step);
}

Eigen::VectorXd Newton::solve(const Eigen::VectorXd& right) {
  const Timed timed(times_.substitution);
  return cholesky_->solve(right);
}

bool Newton::factorise(const Eigen::SparseMatrix<double>& matrix) {
  const Timed timed(times_.factorisation);
  return cholesky_->factorise(matrix);
}

Eigen::VectorXd Newton::assemble(const State& state, HessianPart part) {
  Eigen::VectorXd gradient;
  {
    const Timed timed(times_.assembly);
    gradient = potential_.assemble(state, part);
  }
  follow_pattern();
  return gradient;
}

double Newton::relative_residual(const Eigen::VectorXd& free_gradient) const {
  return free_gradient.cwiseProduct(unit_).norm() / scale_;
}

double Newton::load_scale() const {
  const double load = potential_.load_scale(length_);
  if (load > 0) return load;
  // Without any load the stiffness sets the scale: a strain of 1e-9 over one edge.
  double stiffest = 0;
  for (const Section& section : potential_.model().sections) {
    stiffest = std::max(stiffest, section.A.maxCoeff());
  }
  return 1e-9 * stiffest * length_;
}

bool Newton::factorise_blend(double blend) {
  ++result_.factorisations;
  if (blend == 0) return factorise(potential_.hessian());
  const Eigen::Map<const Eigen::VectorXd> positive(potential_.hessian().valuePtr(),
                                                   potential_.hessian().nonZeros());
  Eigen::Map<Eigen::VectorXd> blended(blended_.valuePtr(), blended_.nonZeros());
  if (blend < 1) {
    blended = blend * positive + (1 - blend) * exact_values_;
  } else {
    blended = positive;
  }
  for (Eigen::Index c = 0; c < blended_.cols(); ++c) {
    blended_.valuePtr()[blended_.outerIndexPtr()[c]] += blend * shift_ * metric_[c];
  }
  return factorise(blended_);
}

void Newton::update_scale(const State& state, const Eigen::VectorXd& gradient) {
  if (scale_is_given_) return;
  const bool unloaded = potential_.load_scale(length_) == 0;
  scale_ =
      std::max(load_, potential_.support_scale(state, gradient, kMovedSupport * length_, unloaded));
}

double Newton::relative_round_off(const State& state) const {
  return relative_residual(potential_.restrict_to_free(potential_.round_off(state)));
}

Eigen::VectorXd Newton::assemble_next(const State& state) {
  holds_exact_ = positive_left_ == 0 && blend_ < 1;
  positive_left_ = std::max(0, positive_left_ - 1);
  const Eigen::VectorXd gradient =
      assemble(state, holds_exact_ ? HessianPart::kExact : HessianPart::kPositive);
  update_scale(state, gradient);
  return potential_.restrict_to_free(gradient);
}

bool Newton::factorise_somehow(const State& state) {
  if (holds_exact_) {
    if (blend_ < kSmallestBlend) {
      if (factorise_blend(0)) {
        blend_ = 0;
        positive_run_ = 1;
        return true;
      }
      blend_ = 4 * kSmallestBlend;
    }
    exact_values_ = Eigen::Map<const Eigen::VectorXd>(potential_.hessian().valuePtr(),
                                                      potential_.hessian().nonZeros());
    assemble(state, HessianPart::kPositive);
  } else {
    blend_ = std::max(blend_, 1.0);
  }
  while (blend_ < kLargestBlend && !factorise_blend(blend_)) {
    blend_ = blend_ < 1 ? std::min(1.0, 4 * blend_) : 10 * blend_;
  }
  if (holds_exact_) {
    const bool needs_positive = blend_ >= 1;
    positive_left_ = needs_positive ? positive_run_ : 0;
    positive_run_ = needs_positive ? std::min(2 * positive_run_, kLongestPositiveRun) : 1;
  }
  return false;
}

void Newton::correct_for_low_rank(const std::vector<RankOne>& parts, Eigen::VectorXd& solution) {
  // Sherman-Morrison, part by part: w solves the system with all parts before its own.
  std::vector<Eigen::VectorXd> solved;
  const auto correct = [&](std::size_t k, Eigen::VectorXd& x) {
    const auto& [factor, v] = parts[k];
    const Eigen::VectorXd& w = solved[k];
    x -= w * (factor * v.dot(x) / (1 + factor * v.dot(w)));
  };
  for (const RankOne& part : parts) {
    Eigen::VectorXd w = solve(part.v);
    for (std::size_t k = 0; k < solved.size(); ++k) correct(k, w);
    solved.push_back(std::move(w));
    correct(solved.size() - 1, solution);
  }
}

Newton::Step Newton::newton_step(const State& state, const Eigen::VectorXd& free_gradient) {
  Step step;
  step.positive_definite = factorise_somehow(state);
  if (blend_ >= kLargestBlend) return step;
  Eigen::VectorXd direction = -solve(free_gradient);
  correct_for_low_rank(potential_.low_rank(state), direction);
  step.slope = free_gradient.dot(direction);
  step.direction = potential_.expand(direction);
  return step;
}

void Newton::forget_the_way(State& state) {
  const Eigen::VectorXd gradient = potential_.restrict_to_free(potential_.gradient(state));
  Eigen::VectorXd direction = -solve(gradient);
  correct_for_low_rank(potential_.low_rank(state), direction);
  const Eigen::VectorXd step = potential_.expand(direction);
  if (!(largest_step(state, step) >= 1)) return;
  Move move = attempt(state, step, 1);
  const double residual =
      relative_residual(potential_.restrict_to_free(potential_.gradient(move.state)));
  if (!(residual < result_.residual_relative)) {
    prepare(state);
    return;
  }
  state = std::move(move.state);
  result_.residual_relative = residual;
  result_.energy_J = move.energy;
}

NewtonResult Newton::minimise(State& state, double load_factor, const SolveOptions& options) {
  result_ = {};
  const bool weighs = !potential_.model().permanent_force_N.isZero(0);
  shift_by(weighs ? kShiftOfWeight : kLeastShift);
  scale_is_given_ = options.load_scale_N > 0;
  scale_ = load_ = scale_is_given_ ? options.load_scale_N : load_scale();
  potential_.forget_prediction();
  prepare(state);
  double energy = energy_of(state);

  // Full steps follow the curved valleys of thin shells quickly but may climb; the best state is
  // kept, and returned to when they do not pay.
  Best best = as_best(state, energy);
  int without_gain = 0;
  int line_searches_left = 0;
  int n_line_searches = options.full_steps ? kMostLineSearches : 0;
  int saddles_left = kMostSaddles;
  blend_ = 0;
  positive_left_ = 0;
  positive_run_ = 1;
  Fall fall;
  bool stuck = false;  // no step along the line lowers the energy
  for (int i = 0;; ++i) {
    const Eigen::VectorXd gradient = assemble_next(state);
    result_.residual_relative = relative_residual(gradient);
    result_.energy_J = energy;
    result_.iterations = i;
    fall.note(result_.residual_relative * scale_);
    const bool in_balance = result_.residual_relative <= options.residual_tolerance;
    const bool ended = !in_balance && (fall.has_ended() || stuck);
    result_.round_off_relative = ended ? relative_round_off(state) : 0;
    result_.at_round_off = ended && result_.residual_relative <= result_.round_off_relative;
    const bool lost = result_.at_round_off && result_.round_off_relative > kMostRoundOff;
    if (lost || (stuck && ended && !result_.at_round_off)) {
      result_.failure = lost ? SolveFailure::kRoundOff : SolveFailure::kStalled;
      return result_;
    }
    if (in_balance || result_.at_round_off) {
      potential_.forget_prediction();
      assemble(state, HessianPart::kExact);
      result_.round_off_relative = relative_round_off(state);
      result_.stable = factorise_blend(0);
      result_.failure = SolveFailure::kNone;
      if (result_.stable) forget_the_way(state);
      if (result_.stable || saddles_left == 0) return result_;
      --saddles_left;
      Move move = leave_saddle(state, energy);
      if (!move.accepted) return result_;
      state = std::move(move.state);
      energy = move.energy;
      best = as_best(state, energy);
      without_gain = 0;
      fall = {};
      stuck = false;
      continue;
    }
    if (i >= options.max_iterations) {
      state = best.state;
      prepare(state);
      result_.failure = SolveFailure::kTooManyIterations;
      return result_;
    }
    const Step step = newton_step(state, gradient);
    if (step.direction.size() == 0) {
      state = best.state;
      prepare(state);
      result_.failure = SolveFailure::kStalled;
      return result_;
    }
    const bool early =
        -step.slope > kFullStepSlope * std::abs(energy) && n_line_searches < kMostLineSearches;
    const bool searching = line_searches_left > 0 || early;
    n_line_searches += searching ? 1 : 0;
    Move move = searching ? line_search(state, energy, step) : full_step(state, step, best);
    if (searching) {
      if (line_searches_left > 0) --line_searches_left;
      potential_.forget_prediction();
      if (!move.accepted) {
        stuck = true;
        prepare(state);
        continue;
      }
    }
    if (move.accepted && move.energy < best.energy) {
      best = as_best(move.state, move.energy);
      without_gain = 0;
    } else {
      ++without_gain;
    }
    if (!move.accepted || without_gain > kPatience) {
      state = best.state;
      energy = best.energy;
      prepare(state);
      potential_.forget_prediction();
      without_gain = 0;
      line_searches_left = kLineSearches;
      continue;
    }
    state = std::move(move.state);
    energy = move.energy;
    if (options.on_progress &&
        !options.on_progress({i + 1, load_factor, result_.residual_relative, energy, move.share})) {
      state = best.state;
      prepare(state);
      result_.failure = SolveFailure::kInterrupted;
      return result_;
    }
  }
}

}  // namespace totebench::solver
