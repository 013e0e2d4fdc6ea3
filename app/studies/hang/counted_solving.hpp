// Searches of equilibria whose work is counted and whose progress is told.
#pragma once

#include <chrono>
#include <mutex>
#include <string>

#include "totebench/studies/hang.hpp"

namespace totebench::studies {

class CountedSolving {
 public:
  // Both must outlive it.
  CountedSolving(HangEffort& effort, const OnHangProgress& on_progress)
      : effort_(effort), on_progress_(on_progress), begin_(std::chrono::steady_clock::now()) {}

  // One equilibrium; may run beside others. `options` are completed with progress reports under the
  // name `stage`.
  [[nodiscard]] solver::SolveReport solve(solver::EquilibriumSearch& search, double load_factor,
                                          solver::State& state, const std::string& stage,
                                          solver::SolveOptions options = {});

 private:
  HangEffort& effort_;
  const OnHangProgress& on_progress_;
  std::mutex mutex_;
  std::chrono::steady_clock::time_point begin_;
};

}  // namespace totebench::studies
