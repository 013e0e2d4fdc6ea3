// The end of a strap as it is sewn on, drawn to scale: strap, stitching, rivets, patch, hem.
#pragma once

#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"

namespace totebench::viz {

struct StrapEndPlan {
  std::string title;
  std::vector<std::string> lines;  // below the title
  scenes::Strap strap;
  double hem_m = 0;     // of the bag, 0 = none
  bool marked = false;  // stands out among the others
};

// Where several are drawn, at one scale.
struct StrapEndScale {
  double px_per_m = 0;
  double tallest_m = 0;  // of a strap's end below the opening; a longer one is broken
};
[[nodiscard]] StrapEndScale scale_for(const std::vector<StrapEndPlan>& plans);

// Throws std::invalid_argument as scenes::attachment_points() does.
[[nodiscard]] std::string strap_end_svg(const StrapEndPlan& plan, const StrapEndScale& scale,
                                        const std::string& units);
// All in one picture, four in a row.
[[nodiscard]] std::string strap_ends_svg(const std::vector<StrapEndPlan>& plans,
                                         const std::string& units);

}  // namespace totebench::viz
