#include "totebench/solver/continuation.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "solver/search/jump_search.hpp"

namespace totebench::solver {
namespace {

constexpr double kRoundOff = 1e-12;  // of a step: so near the end, the end itself is solved for

}  // namespace

Continuation follow_load(const SolveAt& solve, double from, double to, State& state,
                         const LoadStepping& stepping,
                         const std::function<void(double, const State&)>& on_equilibrium,
                         const EnergyAt& energy) {
  Continuation way;
  const double sign = to < from ? -1 : 1;
  double done = from;
  double step = stepping.first;
  JumpSearch jumps(solve, energy, stepping.jump_width);
  while (true) {
    const double left = std::abs(to - done);
    const bool last = left <= step * (1 + kRoundOff);
    const double next = last ? to : done + sign * step;
    SolvedStep reached{{next, state}, {}};
    reached.report = solve(next, reached.state);
    const bool converged = reached.report.status == SolveStatus::kConverged;
    const bool lost = reached.report.failure == SolveFailure::kRoundOff;  // the load, in round-off
    if (converged) {
      step = std::min(stepping.growth * step, stepping.largest);
      if (const auto jump = jumps.find({done, state}, reached)) {
        way.jumps.push_back(jump->jump);
        // More may follow: from here in steps as short as it took to find this one.
        step = std::abs(jump->jump.load_after - jump->jump.load_before);
        if (on_equilibrium && jump->before.load_factor != done) {
          on_equilibrium(jump->before.load_factor, jump->before.state);
        }
      }
      state = std::move(reached.state);
      done = reached.load_factor;
      if (on_equilibrium) on_equilibrium(done, state);
    } else if (lost) {
      step *= 2;  // a smaller load is lost the more
    } else {
      if (reached.report.status != SolveStatus::kInterrupted) way.out_of_reach = next;
      step = 0.5 * std::min(step, left);
    }
    way.report = reached.report;
    const bool given_up = !converged && (way.report.status == SolveStatus::kInterrupted ||
                                         !(step > 0) || step < stepping.least || (lost && last));
    if ((converged && done == to) || given_up) break;
  }
  way.report.load_factor = done;
  way.report.wanted_load_factor = to;
  return way;
}

}  // namespace totebench::solver
