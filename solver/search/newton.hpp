// Newton's method on the potential energy at a fixed load: exact Hessian while it is positive
// definite, a shifted positive part where it is not, and a line search on the energy.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "solver/assembly/potential.hpp"
#include "solver/linear/linear_solver.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::solver {

struct NewtonResult {
  SolveFailure failure = SolveFailure::kTooManyIterations;
  int iterations = 0;
  int factorisations = 0;
  double residual_relative = 0;
  double round_off_relative = 0;
  bool at_round_off = false;
  double energy_J = 0;
  bool stable = false;
  [[nodiscard]] bool converged() const { return failure == SolveFailure::kNone; }
};

class Newton {
 public:
  explicit Newton(Potential& potential);

  // Brings `state` to a minimum of the potential energy. On failure `state` is the best reached.
  // `load_factor` is told to options.on_progress.
  NewtonResult minimise(State& state, double load_factor, const SolveOptions& options);

  // Brings the supports to where they are at the potential's load factor, and the rest along by
  // linear steps. False where they do not get there.
  [[nodiscard]] bool move_supports(State& state);

  // Force on free unknowns against the load; moments count over a mean edge length.
  [[nodiscard]] double relative_residual(const Eigen::VectorXd& free_gradient) const;
  // Sum of magnitudes of the loads, N, at the present load factor; a small force where there are
  // none.
  [[nodiscard]] double load_scale() const;
  // Where the time went since forget_times(); `whole` is left at 0.
  [[nodiscard]] const WorkTimes& times() const { return times_; }
  void forget_times() { times_ = {}; }
  // What residuals were last measured against, N: the loads, or where supports drive the model or
  // nothing pulls on it, the forces of the supports if they are larger.
  [[nodiscard]] double scale() const { return scale_; }

 private:
  static constexpr double kSmallestBlend = 0.02;
  // N/m3, times the blend: keeps loose folds from being singular.
  static constexpr double kLeastShift = 1e-3;
  // Of what hangs by its weight: cloth of 3 N/m2 that nothing else holds moves by 10 cm in a step
  // under the whole of it. By much more, and where it comes to rest hangs on the last digit. (A
  // film without weight may be of any scale; a line search throws nothing far.)
  static constexpr double kShiftOfWeight = 30;

  struct Step {
    Eigen::VectorXd direction;  // all unknowns; empty where the matrix holds no numbers
    double slope = 0;           // gradient . direction, J, negative
    bool positive_definite = false;
  };
  struct Move {
    State state;
    double energy = 0;
    double share = 0;
    bool accepted = false;
  };
  struct Best {  // the lowest state of a search
    State state;
    double energy = 0;
    double inner_energy = 0;
  };
  // Of a state that is prepared.
  [[nodiscard]] Best as_best(const State& state, double energy);
  // The potential and the factor, with a clock beside them.
  void prepare(const State& state);
  [[nodiscard]] double energy_of(const State& state);
  [[nodiscard]] double admitted(const State& state, const Eigen::VectorXd& step);
  [[nodiscard]] Eigen::VectorXd solve(const Eigen::VectorXd& right);
  [[nodiscard]] bool factorise(const Eigen::SparseMatrix<double>& matrix);
  // Every assembly of the Hessian: what is kept on its pattern follows it. Returns the gradient.
  Eigen::VectorXd assemble(const State& state, HessianPart part);
  void follow_pattern();
  void update_scale(const State& state, const Eigen::VectorXd& gradient);
  // What round-off may leave of the residual. The Hessian must be assembled.
  [[nodiscard]] double relative_round_off(const State& state) const;
  // Gradient on free unknowns; the potential then holds the exact Hessian, or while that is of no
  // use its positive part.
  Eigen::VectorXd assemble_next(const State& state);
  // True if it is the exact Hessian that was factorised.
  [[nodiscard]] bool factorise_somehow(const State& state);
  Step newton_step(const State& state, const Eigen::VectorXd& free_gradient);
  // Adds the Hessian's low-rank parts to a system solved without them.
  void correct_for_low_rank(const std::vector<RankOne>& parts, Eigen::VectorXd& solution);
  // Share of a step, at most 1, that turns nothing by more than one step may; and that the terms
  // admit too. Holds for every move.
  [[nodiscard]] double turn_limit(const State& state, const Eigen::VectorXd& step) const;
  [[nodiscard]] double largest_step(const State& state, const Eigen::VectorXd& step);
  // The state a share of a step further, prepared, and its energy; not accepted yet.
  [[nodiscard]] Move attempt(const State& state, const Eigen::VectorXd& step, double share);
  // Line search on the energy.
  Move line_search(const State& state, double energy, const Step& step);
  // The whole step as far as it is admitted and does not climb far above the best state, with the
  // stresses it predicts kept for the next Hessian.
  Move full_step(const State& state, const Step& step, const Best& best);
  // From an equilibrium that is not a minimum: a move downhill along its softest mode. Not accepted
  // where there is none. The potential must hold the exact Hessian.
  Move leave_saddle(const State& state, double energy);
  // One more step from an equilibrium, with the factors of its exact Hessian, which the last
  // factorisation must have been of: steps square the error, so that what is left no longer depends
  // on where the search came from.
  void forget_the_way(State& state);
  // From now on the whole blend adds `shift`, N/m3, times the metric.
  void shift_by(double shift);
  [[nodiscard]] bool factorise_blend(double blend);

  Potential& potential_;
  std::unique_ptr<SparseCholesky> cholesky_;
  Eigen::SparseMatrix<double> blended_;
  Eigen::VectorXd exact_values_;
  int pattern_version_ = -1;       // of the potential's Hessian that the three above are made for
  Eigen::VectorXd unit_;           // on free unknowns: 1 for a force, 1 / length for a moment
  Eigen::VectorXd metric_of_all_;  // what a unit shift adds to the diagonal
  Eigen::VectorXd metric_;         // that on free unknowns
  double shift_ = kLeastShift;
  double length_ = 1;  // mean edge length, m
  double load_ = 1;    // scale of the loads, N
  double scale_ = 1;   // of the residual, N
  bool scale_is_given_ = false;
  double blend_ = 0;         // share of the positive part in the matrix: 0 = exact
  bool holds_exact_ = true;  // what the potential's Hessian is
  int positive_left_ = 0;    // steps to go before the exact Hessian is tried again
  int positive_run_ = 1;     // length of the next such run
  NewtonResult result_;
  WorkTimes times_;
};

}  // namespace totebench::solver
