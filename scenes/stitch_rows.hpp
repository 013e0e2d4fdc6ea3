// Where the stitches of a strap's attachment lie.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "scenes/scene.hpp"

namespace totebench {

// Stitching keeps this far from the strap's edges (an eighth of an inch; common practice, no
// source), or a sixth of the strap's width when that is less.
inline constexpr double kStitchEdgeDistance_m = 0.003175;

struct StitchRows {
  // x: distance below the first row (0 .. Attachment::length_m), y: across the strap, from its
  // centre line.
  std::vector<Eigen::Vector2d> points;
  double line_length_m = 0;  // of all stitching
};

// Box: once around the outline. Box with cross: and both diagonals. Rows: `rows` straight lines
// across, spread evenly over the length. Stitches are spaced evenly along each line, as near to the
// stitch length as a whole number of stitches allows; corners are counted once.
// Throws std::invalid_argument when a line is shorter than one stitch.
[[nodiscard]] StitchRows stitch_rows(const Attachment& attachment, double strap_width_m);

}  // namespace totebench
