#include "scenes/findings/hook_grip.hpp"

#include <algorithm>
#include <cmath>

namespace totebench::scenes {
double friction_to_hold(double a_N, double b_N, double contact_angle_rad) {
  return std::abs(std::log(a_N / b_N)) / contact_angle_rad;
}

double hook_friction_needed(const Scene& scene, const std::vector<StrapSeamFinding>& seams) {
  if (scene.support.kind != SupportKind::kHook) return 0;
  double needed = 0;
  for (std::size_t i = 0; i + 1 < seams.size(); i += 2) {  // the two ends of each strap
    const double a = seams[i].force_N.norm(), b = seams[i + 1].force_N.norm();
    if (a > 0 && b > 0) needed = std::max(needed, friction_to_hold(a, b, M_PI));
  }
  return needed;
}

}  // namespace totebench::scenes
