// Where a tote hangs lowest against the outline of its base.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <vector>

#include "totebench/scenes/build.hpp"

namespace totebench::scenes {

[[nodiscard]] bool has_flat_base(const Bag& bag);  // boxed, gusset, pieces with a base among them
[[nodiscard]] double base_width_m(const Bag& bag);
// The base is cut by itself and sewn to the walls all round.
[[nodiscard]] bool base_is_sewn_on(const Bag& bag);

// An edge between base and walls.
struct OutlineEdge {
  int a = 0, b = 0;  // corner nodes
  int mid = 0;
  double length_m = 0;  // at rest
};
[[nodiscard]] std::vector<OutlineEdge> base_outline(const solver::ShellMesh& mesh);

struct BaseShape {
  bool has_base = false;
  // Mean height of the edges between base and walls, weighted by rest length. Heights along an edge
  // are quadratic; Simpson's rule is exact.
  double outline_m = 0;
  Eigen::Vector3d lowest = Eigen::Vector3d::Zero();  // of the base, or of the bag without one
  [[nodiscard]] double below_outline_m() const { return outline_m - lowest.z(); }
};
[[nodiscard]] BaseShape base_shape(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& x_m);

// Lowest point of the triangles whose region is chosen, looked for at their nodes and centres;
// infinitely high where there are none.
[[nodiscard]] Eigen::Vector3d lowest_point(const solver::ShellMesh& mesh,
                                           const Eigen::Matrix3Xd& x_m,
                                           const std::function<bool(int)>& region);

}  // namespace totebench::scenes
