// Where things are put into a bag before they settle: in rows along the base, layer upon layer, in
// the order of the scene.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

struct PackedItem {
  std::size_t item = 0;                           // place in Contents::items
  Eigen::Vector3d low = Eigen::Vector3d::Zero();  // lower corner of its box: from the middle of the
  Eigen::Vector3d high = Eigen::Vector3d::Zero();  // base, above it, m
  bool turned = false;                             // by a quarter about the vertical, to fit
};

// All of them beside and above each other, a little apart, none beyond the base. Those that are
// longer or wider than the base are left out; see too_large().
[[nodiscard]] std::vector<PackedItem> pack_items(const Scene& scene);

// Does a thing of this extent not go between the walls, however it is turned about the vertical?
[[nodiscard]] bool too_large(const Bag& bag, const Eigen::Vector3d& extent_m);

}  // namespace totebench::scenes
