#include "app/studies/hang/counted_solving.hpp"

namespace totebench::studies {

solver::SolveReport CountedSolving::solve(solver::EquilibriumSearch& search, double load_factor,
                                          solver::State& state, const std::string& stage,
                                          solver::SolveOptions options) {
  options.on_progress = [&](const solver::Progress& progress) {
    const std::lock_guard lock(mutex_);
    return !on_progress_ || on_progress_({stage, progress});
  };
  // What was stopped before it began would else take a step of the search to hear of it.
  if (!options.on_progress({})) {
    solver::SolveReport stopped;
    stopped.status = solver::SolveStatus::kInterrupted;
    stopped.failure = solver::SolveFailure::kInterrupted;
    return stopped;
  }
  solver::SolveReport report = search.find(load_factor, state, options);
  const std::lock_guard lock(mutex_);
  effort_.newton_iterations += report.newton_iterations;
  effort_.factorisations += report.factorisations;
  effort_.stages.push_back({stage, report.degrees_of_freedom, report.newton_iterations,
                            report.factorisations, report.times});
  effort_.seconds =
      std::chrono::duration<double>(std::chrono::steady_clock::now() - begin_).count();
  return report;
}

}  // namespace totebench::studies
