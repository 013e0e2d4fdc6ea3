// Continuation in the load factor: from an equilibrium at one load to another, up or down, by way
// of equilibria between.
#pragma once

#include <functional>
#include <optional>

#include "totebench/solver/equilibrium.hpp"

namespace totebench::solver {

// Lengths of the steps, as differences of load factors, > 0.
struct LoadStepping {
  double first = 1;
  double largest = 1;
  double least = 1.0 / 64;  // a failed step is halved, but no shorter step than this is tried
  double growth = 1.5;      // of the step after each that succeeds, >= 1
};

struct Continuation {
  SolveReport report;                  // of the last solve; its load factors are the whole way's
  std::optional<double> out_of_reach;  // the last load factor without equilibrium
};

// Solves for the equilibrium at a load factor from the given state: EquilibriumSearch::find, with
// whatever the caller does around it.
using SolveAt = std::function<SolveReport(double load_factor, State& state)>;

// Goes from `state` at load factor `from` to `to`; where they are equal, solves there once.
// `on_equilibrium`, unless empty, is told of every equilibrium, the last one too. Ends at `to`, on
// failure of the shortest step or on interruption, with `state` the last equilibrium reached
// (report.load_factor), or as given where there was none.
[[nodiscard]] Continuation follow_load(
    const SolveAt& solve, double from, double to, State& state, const LoadStepping& stepping,
    const std::function<void(double load_factor, const State&)>& on_equilibrium = {});

}  // namespace totebench::solver
