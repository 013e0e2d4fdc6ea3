#include "totebench/solver/continuation.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace totebench::solver {
namespace {

constexpr double kRoundOff = 1e-12;  // of a step: so near the end, the end itself is solved for

}  // namespace

Continuation follow_load(const SolveAt& solve, double from, double to, State& state,
                         const LoadStepping& stepping,
                         const std::function<void(double, const State&)>& on_equilibrium) {
  Continuation way;
  const double sign = to < from ? -1 : 1;
  double done = from;
  double step = stepping.first;
  while (true) {
    const double left = std::abs(to - done);
    const bool last = left <= step * (1 + kRoundOff);
    const double next = last ? to : done + sign * step;
    State trial = state;
    way.report = solve(next, trial);
    const bool converged = way.report.status == SolveStatus::kConverged;
    if (converged) {
      state = std::move(trial);
      done = next;
      if (on_equilibrium) on_equilibrium(done, state);
      step = std::min(stepping.growth * step, stepping.largest);
    } else {
      if (way.report.status != SolveStatus::kInterrupted) way.out_of_reach = next;
      step = 0.5 * std::min(step, left);
    }
    const bool given_up = !converged && (way.report.status == SolveStatus::kInterrupted ||
                                         !(step > 0) || step < stepping.least);
    if ((converged && last) || given_up) break;
  }
  way.report.load_factor = done;
  way.report.wanted_load_factor = to;
  return way;
}

}  // namespace totebench::solver
