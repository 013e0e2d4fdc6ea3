// How hard the contents press on the cloth, read back from the load that is solved.
//
//   heap, liquid   p = gamma d (K + (1 - K) n_z^2): the part along the normal n of the stress in
//                  solver/terms/fill_term.hpp, gamma its specific weight, d the depth below its
//                  level
//   even           p = |n_z| F / A: weight F on the base's rest area A, straight down
#pragma once

#include <array>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::scenes {

// Pa, at the three corners of each triangle; 0 on straps, loose sheets and above the contents.
// `load_factor` is the one the state was solved at.
[[nodiscard]] std::vector<std::array<double, 3>> contents_pressure(const Tote& tote,
                                                                   const solver::State& state,
                                                                   double load_factor);

}  // namespace totebench::scenes
