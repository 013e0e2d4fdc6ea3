// The strap end whose stitches are pulled hardest, enlarged: how each stitch pulls on the cloth.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "viz/pictures/drafting.hpp"

namespace totebench::viz {

// Seen from outside the bag, with the strap running up.
struct StrapEndView {
  std::string name;                       // of the attachment, empty when there are no stitches
  std::vector<Eigen::Vector2d> places_m;  // of the stitches: to the right, up; about their middle
  std::vector<Eigen::Vector3d> pulls_N;   // on the cloth: to the right, up, out of the panel (peel)
  std::vector<Eigen::Matrix2Xd> strap_m;  // borders of the strap near the stitches
  [[nodiscard]] double largest_shear_N() const;
  [[nodiscard]] double largest_peel_N() const;  // 0 where every stitch is pressed on
};

// The attachment with the largest force on one stitch; `forces_N` from stitch_forces(). Each pull
// is split in the panel's frame at its own stitch.
[[nodiscard]] StrapEndView hardest_strap_end(const scenes::Tote& tote, const Eigen::Matrix3Xd& x_m,
                                             const Eigen::Matrix3Xd& forces_N);

inline constexpr double kInsetWidth_px = 310, kInsetHeight_px = 270;

// From outside with the shear and from the side with the peel, arrows at one scale; `corner_m` is
// the upper left one, in view coordinates.
void add_stitch_inset(const StrapEndView& seam, const Eigen::Vector2d& corner_m,
                      const std::string& units, Drafting& pen);

}  // namespace totebench::viz
