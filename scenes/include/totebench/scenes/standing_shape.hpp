// How a bag that was put down stands, read off a solved state of a tote on a table
// (SupportKind::kTable).
#pragma once

#include <array>
#include <optional>

#include "totebench/scenes/build.hpp"

namespace totebench::scenes {

enum Wall : int { kWallFront, kWallBack, kWallLeft, kWallRight };

struct StandingShape {
  double rim_low_m = 0;  // the lowest point of the opening's edge, above the table
  double rim_m = 0;      // its mean height, by length
  double mouth_m = 0;    // from front to back in the middle of the opening
  // Of a wall's middle, from where it leaves the base to the opening, off the vertical and
  // outwards; by Wall.
  std::array<double, 4> lean_rad{};
  // Of what touches the table or stands on feet.
  double footprint_width_m = 0;
  double footprint_depth_m = 0;
  // Tilt of the table at which the weight comes to stand beyond the footprint, were the bag rigid.
  // Empty where the weight of loose contents has no place that is known.
  std::optional<double> tips_at_rad;
};

// Bags with a base of their own. `load_factor` of the payload in that state.
[[nodiscard]] StandingShape standing_shape(const Tote& tote, const solver::State& state,
                                           double load_factor);

}  // namespace totebench::scenes
