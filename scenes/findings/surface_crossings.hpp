// Do parts of a solved tote pass through each other? The solver's contact is to prevent it,
// where it is asked for; this judges every result without it.
#pragma once

#include <string>

#include "totebench/scenes/build.hpp"

namespace totebench::scenes {

struct SurfaceCrossings {
  int pairs = 0;      // of second-order triangles
  std::string where;  // "front through back (12), strap front through front (3)"
};

// Each triangle counts as its four flat parts. Left out: triangles that share a node, a strap's
// sewn end (and what borders it) against the panels, a sheet in a pocket against the base.
[[nodiscard]] SurfaceCrossings surface_crossings(const Scene& scene, const Tote& tote,
                                                 const solver::State& state);

}  // namespace totebench::scenes
