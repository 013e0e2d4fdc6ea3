// n . m, the component of a vector m along the unit normal n of the plane spanned by g1 and g2,
// with derivatives by (g1, g2, m). Curvature (m = x,ab) and normal gaps (m = a difference of
// positions) are both of this form.
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>

namespace totebench::solver {

struct NormalForm {
  Eigen::Vector3d g1, g2, n;
  double rho = 0;  // |g1 x g2|

  NormalForm(const Eigen::Vector3d& first, const Eigen::Vector3d& second) : g1(first), g2(second) {
    const Eigen::Vector3d normal = g1.cross(g2);
    rho = normal.norm();
    n = normal / rho;
  }

  // Gradient by g1, g2, m as the columns of a 3 x 3 matrix.
  [[nodiscard]] Eigen::Matrix3d gradient(const Eigen::Vector3d& m) const {
    const Eigen::Vector3d by_normal = (m - n.dot(m) * n) / rho;
    Eigen::Matrix3d g;
    g.col(0) = g2.cross(by_normal);
    g.col(1) = by_normal.cross(g1);
    g.col(2) = n;
    return g;
  }

  // Hessian by (g1, g2, m), 9 x 9, symmetric.
  [[nodiscard]] Eigen::Matrix<double, 9, 9> hessian(const Eigen::Vector3d& m) const;
};

[[nodiscard]] inline Eigen::Matrix3d cross_matrix(const Eigen::Vector3d& v) {
  Eigen::Matrix3d m;
  m << 0, -v.z(), v.y(), v.z(), 0, -v.x(), -v.y(), v.x(), 0;
  return m;
}

inline Eigen::Matrix<double, 9, 9> NormalForm::hessian(const Eigen::Vector3d& m) const {
  using Eigen::Matrix3d;
  const double nm = n.dot(m);
  const Matrix3d nn = n * n.transpose();
  const Matrix3d mn = m * n.transpose();
  const Matrix3d by_normal =
      (-(mn + mn.transpose()) - nm * Matrix3d::Identity() + 3 * nm * nn) / (rho * rho);
  const Matrix3d by_m = (Matrix3d::Identity() - nn) / rho;
  // d(g1 x g2) = j1 dg1 + j2 dg2
  const Matrix3d j1 = -cross_matrix(g2);
  const Matrix3d j2 = cross_matrix(g1);
  Eigen::Matrix<double, 9, 9> h = Eigen::Matrix<double, 9, 9>::Zero();
  h.block<3, 3>(0, 0) = j1.transpose() * by_normal * j1;
  h.block<3, 3>(0, 3) = j1.transpose() * by_normal * j2 - cross_matrix((m - nm * n) / rho);
  h.block<3, 3>(3, 3) = j2.transpose() * by_normal * j2;
  h.block<3, 3>(0, 6) = j1.transpose() * by_m;
  h.block<3, 3>(3, 6) = j2.transpose() * by_m;
  h.block<3, 3>(3, 0) = h.block<3, 3>(0, 3).transpose();
  h.block<3, 3>(6, 0) = h.block<3, 3>(0, 6).transpose();
  h.block<3, 3>(6, 3) = h.block<3, 3>(3, 6).transpose();
  return h;
}

}  // namespace totebench::solver
