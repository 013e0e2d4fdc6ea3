// The faces of a bag from pattern pieces of one's own.
#pragma once

#include "scenes/patterns/pattern.hpp"

namespace totebench::scenes {

// Chords of a curved edge turn by no more than this from one to the next: a disc loses 0.5 % of its
// area (1 - sin(a)/a) and 0.13 % of its length.
inline constexpr double kChordTurn_rad = 10 * M_PI / 180;

// As make_pattern. Both sides of a seam get the same chords, by share of their lengths, and a chord
// ends at every sharp corner of either.
[[nodiscard]] Pattern piece_pattern(const Scene& scene, double size_m);

}  // namespace totebench::scenes
