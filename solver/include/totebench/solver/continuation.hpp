// Continuation in the load factor: from an equilibrium at one load to another, up or down, by way
// of equilibria between.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "totebench/solver/equilibrium.hpp"

namespace totebench::solver {

// Lengths of the steps, as differences of load factors, > 0.
struct LoadStepping {
  double first = 1;
  double largest = 1;
  // A failed step is halved, but no shorter step than this is tried; one whose load is lost in
  // round-off is doubled.
  double least = 1.0 / 64;
  double growth = 1.5;    // of the step after each that succeeds, >= 1
  double jump_width = 0;  // to which the load of a jump is found; 0 = jumps are not looked for
};

// Between two loads this near each other the shape jumped: it snapped through, at the limit load of
// the shape it had.
struct Jump {
  double load_before = 0;    // the last equilibrium in the old shape
  double load_after = 0;     // the first one in the new shape
  double moved_m = 0;        // furthest that a node went
  double energy_drop_J = 0;  // set free at load_before
};

struct Continuation {
  SolveReport report;                  // of the last solve; its load factors are the whole way's
  std::optional<double> out_of_reach;  // the last load factor without equilibrium
  std::vector<Jump> jumps;             // in the order of the way
};

// Solves for the equilibrium at a load factor from the given state: EquilibriumSearch::find, with
// whatever the caller does around it.
using SolveAt = std::function<SolveReport(double load_factor, State& state)>;
// Potential energy of a state at a load: EquilibriumSearch::energy.
using EnergyAt = std::function<double(double load_factor, const State& state)>;

// Goes from `state` at load factor `from` to `to`; where they are equal, solves there once.
// `on_equilibrium`, unless empty, is told of every equilibrium, the last one too. Ends at `to`, on
// failure of the shortest step or on interruption, with `state` the last equilibrium reached
// (report.load_factor), or as given where there was none.
//
// With LoadStepping::jump_width and `energy`, jumps of the shape are found. Along stable equilibria
// energy at constant load is least where one stands: the shape of a higher load, brought back to a
// lower one, has no less energy there than the shape before (from d/dlambda of the displacement the
// load works through being positive). Where it has less, the shape jumped between. The first
// step, and those on which the shape moved out of proportion, are halved until that is decided, at
// `jump_width` at last; both ends of a jump are told to `on_equilibrium`, and the next step begins
// at the second of them.
[[nodiscard]] Continuation follow_load(
    const SolveAt& solve, double from, double to, State& state, const LoadStepping& stepping,
    const std::function<void(double load_factor, const State&)>& on_equilibrium = {},
    const EnergyAt& energy = {});

}  // namespace totebench::solver
