#include "solver/contact/barrier.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <limits>

#include "solver/linear/positive_part.hpp"

namespace totebench::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

// A function of one number and its first two derivatives.
struct Curve {
  double value = 0;
  double first = 0;
  double second = 0;
};

Curve phi(double s) {
  if (s >= 1) return {};
  const double less = s - 1;
  const double log = std::log(s);
  return {-less * less * log, -2 * less * log - less * less / s,
          -2 * log - 4 * less / s + less * less / (s * s)};
}

Curve mollifier(double c, double eps) {
  if (c >= eps) return {1, 0, 0};
  const double share = c / eps;
  return {(2 - share) * share, 2 * (1 - share) / eps, -2 / (eps * eps)};
}

double parallelism(const PairPoints& points) {
  return (points.col(1) - points.col(0)).cross(points.col(3) - points.col(2)).squaredNorm();
}

// Derivatives of c = |u x v|^2, u and v the edges.
void parallelism_derivatives(const PairPoints& points, Vector12d& gradient, Matrix12d& hessian) {
  const Vector3d u = points.col(1) - points.col(0);
  const Vector3d v = points.col(3) - points.col(2);
  const Vector3d across = u.cross(v);
  const Vector3d by_u = 2 * v.cross(across);
  const Vector3d by_v = -2 * u.cross(across);
  const Matrix3d one = Matrix3d::Identity();
  const Matrix3d uu = 2 * (v.squaredNorm() * one - v * v.transpose());
  const Matrix3d vv = 2 * (u.squaredNorm() * one - u * u.transpose());
  const Matrix3d uv = 2 * (2 * u * v.transpose() - v * u.transpose() - u.dot(v) * one);
  gradient << -by_u, by_u, -by_v, by_v;
  hessian << uu, -uu, uv, -uv,                   //
      -uu, uu, -uv, uv,                          //
      uv.transpose(), -uv.transpose(), vv, -vv,  //
      -uv.transpose(), uv.transpose(), -vv, vv;
}

}  // namespace

DistanceDerivatives distance_derivatives(const PairPoints& points, const ClosestPoints& closest) {
  const Vector3d r = points * closest.c;
  DistanceDerivatives out;
  out.distance = r.norm();
  const Vector3d n = r / out.distance;
  for (int k = 0; k < 4; ++k) out.gradient.segment<3>(3 * k) = closest.c[k] * n;

  Matrix12d& h = out.hessian;
  for (int j = 0; j < 4; ++j) {
    for (int i = 0; i < 4; ++i) {
      h.block<3, 3>(3 * i, 3 * j) = closest.c[i] * closest.c[j] * Matrix3d::Identity();
    }
  }
  h.noalias() -= out.gradient * out.gradient.transpose();
  Eigen::Matrix<double, 12, 2> K;
  Eigen::Matrix<double, 3, 2> r_l;
  for (int l = 0; l < closest.n_interior; ++l) {
    r_l.col(l) = points * closest.slope.col(l);
    for (int k = 0; k < 4; ++k) {
      K.col(l).segment<3>(3 * k) = closest.slope(k, l) * r + closest.c[k] * r_l.col(l);
    }
  }
  if (closest.n_interior == 1) {
    h.noalias() -= K.col(0) * K.col(0).transpose() / r_l.col(0).squaredNorm();
  } else if (closest.n_interior == 2) {
    // The determinant of M keeps its digits as the square of the cross product.
    const double determinant = r_l.col(0).cross(r_l.col(1)).squaredNorm();
    const double m01 = r_l.col(0).dot(r_l.col(1));
    Eigen::Matrix2d inverse;
    inverse << r_l.col(1).squaredNorm(), -m01, -m01, r_l.col(0).squaredNorm();
    inverse /= determinant;
    h.noalias() -= K * inverse * K.transpose();
  }
  h /= out.distance;
  h = (0.5 * (h + h.transpose())).eval();
  return out;
}

double barrier_energy(PairKind kind, const PairPoints& points, const Barrier& barrier) {
  const double d = pair_distance(kind, points);
  if (d >= barrier.gap_m) return 0;
  if (!(d > 0)) return std::numeric_limits<double>::infinity();
  const double m =
      barrier.parallel_m4 > 0 ? mollifier(parallelism(points), barrier.parallel_m4).value : 1;
  return barrier.stiffness_J * m * phi(d / barrier.gap_m).value;
}

double barrier_derivatives(PairKind kind, const PairPoints& points, const Barrier& barrier,
                           HessianPart part, Vector12d& gradient, Matrix12d* hessian) {
  gradient.setZero();
  if (hessian != nullptr) hessian->setZero();
  const ClosestPoints closest = closest_points(kind, points);
  if ((points * closest.c).norm() >= barrier.gap_m) return 0;

  const DistanceDerivatives d = distance_derivatives(points, closest);
  const Curve p = phi(d.distance / barrier.gap_m);
  const double by_d = p.first / barrier.gap_m;
  const double by_dd = p.second / (barrier.gap_m * barrier.gap_m);
  const double k = barrier.stiffness_J;
  const double c = barrier.parallel_m4 > 0 ? parallelism(points) : 0;
  const bool whole = barrier.parallel_m4 == 0 || c >= barrier.parallel_m4;
  const Curve m = whole ? Curve{1, 0, 0} : mollifier(c, barrier.parallel_m4);

  gradient = k * m.value * by_d * d.gradient;
  if (hessian != nullptr) {
    hessian->noalias() = k * m.value * by_dd * d.gradient * d.gradient.transpose();
    *hessian += k * m.value * by_d * d.hessian;
  }
  if (!whole) {
    Vector12d c_gradient;
    Matrix12d c_hessian;
    parallelism_derivatives(points, c_gradient, c_hessian);
    gradient += k * m.first * p.value * c_gradient;
    if (hessian != nullptr) {
      const Matrix12d mixed = c_gradient * d.gradient.transpose();
      *hessian +=
          k * (p.value * (m.second * c_gradient * c_gradient.transpose() + m.first * c_hessian) +
               m.first * by_d * (mixed + mixed.transpose()));
    }
  }
  if (hessian != nullptr && part == HessianPart::kPositive) *hessian = positive_part(*hessian);
  return k * m.value * p.value;
}

}  // namespace totebench::solver
