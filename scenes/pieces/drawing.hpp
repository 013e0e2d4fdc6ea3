// Outlines and marks of pattern pieces from a drawing.
#pragma once

#include <vector>

#include "totebench/scenes/sewing.hpp"

namespace totebench::scenes {

// A mark this near to an outline lies on it, and one this near to a sharp corner is that corner.
inline constexpr double kMarkReach_m = 3e-3;
// What is drawn no larger than this, and is no piece, is a mark.
inline constexpr double kLargestMark_m = 12e-3;
// Larger pieces are a slip of units.
inline constexpr double kLargestPiece_m = 2.5;
inline constexpr double kSmallestPiece_m = 0.01;

// Fills in outlines and marks of the bag's pieces from the file it names. What is wrong is
// returned, and then the pieces have none.
[[nodiscard]] std::vector<SewingFault> read_pieces(Bag& bag, const std::string& units);

// No two edges of the closed outline meet but at the corner they share.
[[nodiscard]] bool is_simple(const std::vector<Eigen::Vector2d>& outline);

// Is a corner of the closed outline sharp (more than 20 degrees)?
[[nodiscard]] bool is_sharp(const std::vector<Eigen::Vector2d>& outline, std::size_t corner);

}  // namespace totebench::scenes
