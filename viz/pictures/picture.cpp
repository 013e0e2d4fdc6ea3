#include "totebench/viz/picture.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace totebench::viz {

View view_from(double turn_rad, double lift_rad) {
  View view;
  view.towards_viewer = {std::sin(turn_rad) * std::cos(lift_rad),
                         -std::cos(turn_rad) * std::cos(lift_rad), std::sin(lift_rad)};
  view.right = {std::cos(turn_rad), std::sin(turn_rad), 0};
  view.up = view.towards_viewer.cross(view.right);
  return view;
}

Colour map_colour(double share) {
  // Every 32nd entry of the published table of 256.
  static const double kTable[9][3] = {
      {0.267004, 0.004874, 0.329415}, {0.278826, 0.175490, 0.483397},
      {0.229739, 0.322361, 0.545706}, {0.172719, 0.448791, 0.557885},
      {0.127568, 0.566949, 0.550556}, {0.157851, 0.683765, 0.501686},
      {0.369214, 0.788888, 0.382914}, {0.678489, 0.863742, 0.189503},
      {0.993248, 0.906157, 0.143936}};
  const double place = 8 * std::clamp(share, 0.0, 1.0);
  const int first = std::min(7, static_cast<int>(place));
  const double t = place - first;
  Colour colour;
  for (int c = 0; c < 3; ++c) colour[c] = (1 - t) * kTable[first][c] + t * kTable[first + 1][c];
  return colour;
}

}  // namespace totebench::viz
