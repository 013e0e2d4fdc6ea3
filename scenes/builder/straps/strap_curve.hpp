// The start shape of the free part of a strap: from where it leaves the panel to where it is held.
//
// A ribbon hardly bends in its own plane, so a curve drawn freely would start with large membrane
// strains. This one is the smoothest ribbon of the given length between both ends: the centre line
// and its frame (tangent d1, width direction d2, normal d3 = d1 x d2) follow from three rates,
//   dx/ds = d1,   dd_i/ds = (twist d1 + bend d2 + side d3) x d_i,
// and the rates minimise the integral of
//   twist^2 kTwistWeight + bend^2 + side^2 kSideWeight
// among those that end where they should, with the height of the end left free. Bending in the
// ribbon's plane (`side`) costs much, as it does in a real one.
#pragma once

#include <Eigen/Core>
#include <vector>

namespace totebench::scenes {

struct RibbonFrame {
  Eigen::Vector3d centre = Eigen::Vector3d::Zero();
  Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  // columns d1, d2, d3
};

// Ratio of bending stiffness in the plane of the ribbon to that across it, for the start shape
// only: (width / thickness)^2 would be some 150; less lets awkward ends be reached.
inline constexpr double kSideWeight = 100.0;
inline constexpr double kTwistWeight = 2.0;

class StrapCurve {
 public:
  // From `start` to `end`, of which the height (z) is ignored: it follows from the length.
  // Throws std::invalid_argument when the length cannot reach.
  StrapCurve(const RibbonFrame& start, const RibbonFrame& end, double length_m);

  [[nodiscard]] double end_height_m() const { return frames_.back().centre.z(); }
  [[nodiscard]] RibbonFrame at(double s_m) const;  // 0 <= s <= length

 private:
  double length_m_ = 0;
  std::vector<RibbonFrame> frames_;  // evenly spaced along the length
};

}  // namespace totebench::scenes
