#include "totebench/scenes/stitch_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

int stitches_in(double length_m, double stitch_length_m) {
  const int n = static_cast<int>(std::lround(length_m / stitch_length_m));
  if (n < 1) {
    throw std::invalid_argument(
        fmt::format("a line of the strap's stitching is {:.1f} mm long, less than one stitch of "
                    "{:.1f} mm; use a shorter stitch or a larger box",
                    1e3 * length_m, 1e3 * stitch_length_m));
  }
  return n;
}

}  // namespace

std::vector<FootPoint> footprint(const std::vector<Vector2d>& arms, double width_m) {
  const double gauss = 0.5 / std::sqrt(3.0);  // two points on an interval of length 1, about 0
  if (arms.empty()) {
    const double g = gauss * width_m;
    return {{{-g, -g}, 0.25}, {{g, -g}, 0.25}, {{g, g}, 0.25}, {{-g, g}, 0.25}};
  }
  std::vector<FootPoint> points;
  for (const Vector2d& arm : arms) {
    const Vector2d across = width_m * Vector2d(-arm.y(), arm.x()).normalized();
    for (const double along : {0.5 - gauss, 0.5 + gauss}) {
      for (const double aside : {-gauss, gauss}) {
        points.push_back({along * arm + aside * across, 0.25 / static_cast<double>(arms.size())});
      }
    }
  }
  return points;
}

StitchRows stitch_rows(const Attachment& attachment, double strap_width_m) {
  const double half = strap_width_m / 2 - std::min(kStitchEdgeDistance_m, strap_width_m / 6);
  const double length = attachment.length_m;
  StitchRows rows;
  // Stitches on the line from a to b; `first` and `last` say whether its ends get one.
  const auto line = [&](const Vector2d& a, const Vector2d& b, int n, bool first, bool last) {
    const Vector2d arm = (b - a) / (2 * n);
    for (int i = first ? 0 : 1; i <= (last ? n : n - 1); ++i) {
      rows.points.emplace_back(a + (b - a) * (static_cast<double>(i) / n));
      rows.arms.emplace_back();
      if (i > 0) rows.arms.back().push_back(-arm);
      if (i < n) rows.arms.back().push_back(arm);
    }
    rows.line_length_m += (b - a).norm();
  };

  if (attachment.pattern == AttachmentPattern::kRows) {
    const int n = stitches_in(2 * half, attachment.stitch_length_m);
    for (int r = 0; r < attachment.rows; ++r) {
      const double below = attachment.rows > 1 ? length * r / (attachment.rows - 1) : 0.0;
      line({below, -half}, {below, half}, n, true, true);
    }
    return rows;
  }
  const Vector2d corner[4] = {{0, -half}, {0, half}, {length, half}, {length, -half}};
  Vector2d before[4];  // from each corner to halfway to the last stitch of the side that ends there
  std::size_t at[4];
  for (int k = 0; k < 4; ++k) {
    const Vector2d& a = corner[k];
    const Vector2d& b = corner[(k + 1) % 4];
    const int n = stitches_in((b - a).norm(), attachment.stitch_length_m);
    before[(k + 1) % 4] = (a - b) / (2 * n);
    at[k] = rows.points.size();
    line(a, b, n, true, false);
  }
  for (int k = 0; k < 4; ++k) rows.arms[at[k]].push_back(before[k]);
  if (attachment.pattern == AttachmentPattern::kBoxCross) {
    const int n = stitches_in(std::hypot(length, 2 * half), attachment.stitch_length_m);
    line(corner[0], corner[2], n, false, false);
    line(corner[1], corner[3], n, false, false);
  }
  return rows;
}

}  // namespace totebench::scenes
