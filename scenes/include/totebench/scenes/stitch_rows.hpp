// Where the stitches of a strap's attachment lie.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// Stitching keeps this far from the strap's edges (an eighth of an inch; common practice, no
// source), or a sixth of the strap's width when that is less.
inline constexpr double kStitchEdgeDistance_m = 0.003175;

struct StitchRows {
  // x: distance below the first row (0 .. Attachment::length_m), y: across the strap, from its
  // centre line.
  std::vector<Eigen::Vector2d> points;
  // Per point: the thread on either side of it, as vectors from the point to halfway to its
  // neighbours. A point at the end of a row has one, one at a corner has one along each row. Points
  // beyond the end of this list have none.
  std::vector<std::vector<Eigen::Vector2d>> arms;
  double line_length_m = 0;  // of all stitching
};

// Offset from a stitch, and its share of the stitch's force.
struct FootPoint {
  Eigen::Vector2d offset_m = Eigen::Vector2d::Zero();
  double share = 1;
};
// What a stitch grips: the cloth under its arms, `width_m` across them, evenly. Two Gauss points
// along each arm, two across. A fastening without arms grips a square.
[[nodiscard]] std::vector<FootPoint> footprint(const std::vector<Eigen::Vector2d>& arms,
                                               double width_m);

// Box: once around the outline. Box with cross: and both diagonals. Rows: `rows` straight lines
// across, spread evenly over the length. Stitches are spaced evenly along each line, as near to the
// stitch length as a whole number of stitches allows; corners are counted once.
// Throws std::invalid_argument when a line is shorter than one stitch.
[[nodiscard]] StitchRows stitch_rows(const Attachment& attachment, double strap_width_m);

}  // namespace totebench::scenes
