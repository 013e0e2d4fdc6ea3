// What to try where no equilibrium was found.
#pragma once

#include <string>

#include "totebench/solver/equilibrium.hpp"

namespace totebench::app {

// Half a sentence without a full stop; empty where nothing is to be done: an equilibrium was found,
// or somebody stopped the search. `empty_bag`: nothing was being loaded.
[[nodiscard]] std::string advice_for(solver::SolveFailure cause, bool empty_bag);
[[nodiscard]] std::string advice_for(const solver::SolveReport& report);

}  // namespace totebench::app
