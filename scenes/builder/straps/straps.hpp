// Where the straps of a tote lie: ribbons with rest coordinates (s, t) in metres, s along the
// ribbon from one sewn end to the other, t across it. s in [0, overlap] lies on the panel, outside
// of it; then the ribbon is free, is held in its middle, and comes down to the other end.
//
// Two handles: one ribbon on the front, one on the back, held side by side along y over the same
// hold. Shoulder strap: one ribbon from side seam to side seam, its ends astride the seams' tops.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "scenes/builder/straps/strap_curve.hpp"
#include "scenes/patterns/pattern.hpp"

namespace totebench::scenes {

// Distance between the edges of two handles held together.
inline constexpr double kHandleGap_m = 0.002;

// Length of a strap of this thickness that lies in the hand, or half around the peg.
[[nodiscard]] double held_length_m(const Support& support, double thickness_m);

// Part of a strap's end on one face: u - u_centre in [from, to], v in [height - overlap, height].
// First end:  s = v - (height - overlap),            t = -(u - u_centre)
// Last end:   s = length - (v - (height - overlap)), t =   u - u_centre
struct StrapFootprint {
  int face = 0;
  double u_centre = 0;
  double from = 0;
  double to = 0;
};

struct RibbonEnd {
  std::string name;  // "front left", ...
  bool first = true;
  std::vector<StrapFootprint> footprints;
};

class Ribbon {
 public:
  std::string part;  // "strap front", ...
  double width_m = 0;
  double overlap_m = 0;
  double grip_m = 0;       // width of what a stitch holds, across its row
  double length_m = 0;     // whole, both overlaps included
  double held_from_m = 0;  // s between which it is held
  double held_to_m = 0;
  double bag_height_m = 0;
  std::array<RibbonEnd, 2> ends;
  bool apart = false;       // starts clear of the other ribbon and of itself, for contact
  bool laid_aside = false;  // nothing of it but its sewn ends is there

  [[nodiscard]] Eigen::Vector2d to_ribbon(const RibbonEnd& end, const StrapFootprint& foot,
                                          const Eigen::Vector2d& uv) const;
  [[nodiscard]] Eigen::Vector2d to_face(const RibbonEnd& end, const StrapFootprint& foot,
                                        const Eigen::Vector2d& st) const;
  [[nodiscard]] bool is_end_of_hold(double s) const { return s == held_from_m || s == held_to_m; }
  // Start position of the free and the held part.
  [[nodiscard]] Eigen::Vector3d place(const Eigen::Vector2d& st) const;

  // Lays the free part from both ends to the hold. Throws std::invalid_argument when it
  // does not reach.
  void lay(const Pattern& pattern, const Support& support, double hold_y_m, double thickness_m);

 private:
  std::vector<StrapCurve> legs_;                      // first, last (counted from its end)
  Eigen::Vector3d along_ = Eigen::Vector3d::UnitX();  // direction of s at the middle of the hold
  Eigen::Vector3d hold_ = Eigen::Vector3d::Zero();    // middle of the grip, or axis of the peg
  int side_ = 0;                                      // +1 front, -1 back handle, 0 the only strap
  double peg_radius_m_ = 0;                           // of the strap's mid-surface; 0 = a hand
};

// `thickness_m` of the finished strap. Throws std::invalid_argument when it does not reach from its
// ends to the hold.
[[nodiscard]] std::vector<Ribbon> make_ribbons(const Scene& scene, const Pattern& pattern,
                                               double thickness_m);

// Adds the outlines of the strap ends to the faces they lie on.
void add_footprint_lines(const std::vector<Ribbon>& ribbons, Pattern& pattern);

}  // namespace totebench::scenes
