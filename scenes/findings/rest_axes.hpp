// The axes of a triangle's section, in the plane it was cut in.
#pragma once

#include <Eigen/Geometry>

#include "totebench/solver/mesh.hpp"

namespace totebench::scenes {

// Unit vectors along the warp and, turned from it about the normal, across it; columns, 3 x 2.
[[nodiscard]] inline Eigen::Matrix<double, 3, 2> rest_axes(const solver::ShellMesh& mesh,
                                                           int triangle) {
  const auto& rest = mesh.rest[triangle];
  const Eigen::Vector3d normal =
      (rest.col(1) - rest.col(0)).cross(rest.col(2) - rest.col(0)).normalized();
  Eigen::Matrix<double, 3, 2> axes;
  axes.col(0) = mesh.warp[triangle].normalized();
  axes.col(1) = normal.cross(axes.col(0));
  return axes;
}

}  // namespace totebench::scenes
