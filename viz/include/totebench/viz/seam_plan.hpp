// The fastenings of one strap's end as they lie on the panel, with the order in which they went.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

namespace totebench::viz {

struct SeamPlan {
  std::string title;
  double strap_width_m = 0;
  double top_offset_m = 0;                // of the first row below the bag's top edge
  std::vector<Eigen::Vector2d> points_m;  // below the first row, across from the centre line
  std::vector<int> order;                 // per point: 1 went first; 0 = it still holds
};
[[nodiscard]] std::string seam_plan_svg(const SeamPlan& plan);

}  // namespace totebench::viz
