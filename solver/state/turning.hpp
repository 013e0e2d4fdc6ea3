// How a point of a body moves as the body turns by a rotation vector w:
//   r -> r + w x r + 1/2 w x (w x r) + ...
// and what that adds to derivatives by w, r being the point seen from the body's own point 0.
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>

namespace totebench::solver {

// a x b = cross_matrix(a) b
[[nodiscard]] inline Eigen::Matrix3d cross_matrix(const Eigen::Vector3d& a) {
  Eigen::Matrix3d m;
  m << 0, -a.z(), a.y(), a.z(), 0, -a.x(), -a.y(), a.x(), 0;
  return m;
}

// Second derivative by w of the work of a force g (the gradient by the point's place) at the point:
// of g . (1/2 w x (w x r)).
[[nodiscard]] inline Eigen::Matrix3d turning(const Eigen::Vector3d& r, const Eigen::Vector3d& g) {
  return 0.5 * (g * r.transpose() + r * g.transpose()) - g.dot(r) * Eigen::Matrix3d::Identity();
}

}  // namespace totebench::solver
