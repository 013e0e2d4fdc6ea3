// What keeps a strap in place on a hook. The strap is held fast where it lies on it; a real one is
// held there by friction, which can carry a difference between the pulls of its two ends of
//   T2 / T1 = e^(mu beta)    (Euler and Eytelwein; beta: angle of contact, rad)
#pragma once

#include <vector>

#include "totebench/scenes/findings.hpp"

namespace totebench::scenes {

// The least coefficient of friction that holds pulls `a_N`, `b_N` > 0 apart over an angle.
[[nodiscard]] double friction_to_hold(double a_N, double b_N, double contact_angle_rad);

// Of the straps over a hook (half a turn of contact) the one that needs most; 0 when held by hand.
[[nodiscard]] double hook_friction_needed(const Scene& scene,
                                          const std::vector<StrapSeamFinding>& seams);

}  // namespace totebench::scenes
