// Continuous collision detection of a point and a triangle, or of two edges, whose points move
// along straight lines: additive advancement [Li et al. 2021, Codimensional incremental potential
// contact, algorithm 1], towards the distance to be kept; or further, while a plane across the
// closest points keeps both sides apart.
#pragma once

#include "solver/contact/closest_points.hpp"

namespace totebench::solver {

// Share of its distance that a pair keeps in one step.
inline constexpr double kKeptGap = 0.1;

// A share of `step` (m, as the points) over which the pair keeps kKeptGap of its distance: `most`,
// or one at which no more than twice that is left. 0 where the pair touches now.
[[nodiscard]] double collision_free_share(PairKind kind, const PairPoints& points,
                                          const PairPoints& step, double most);

}  // namespace totebench::solver
