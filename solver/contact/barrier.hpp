// The barrier between a point and a triangle, or between two edges, at distance d:
//   E = stiffness * m * phi(d / gap),   phi(s) = -(s - 1)^2 ln s for s < 1, else 0
// [Li et al. 2020, Incremental potential contact, eq. (6), with the gap as unit of length]. It has
// continuous second derivatives, and no end as d goes to zero.
//
// Two edges that become parallel have closest points that jump; m takes them out of account:
//   m = (2 - c/eps) c/eps for c < eps, else 1;   c = |e0 x e1|^2,   eps = 1e-3 |e0|^2 |e1|^2 at
//   rest
// [the same, section 4.5]. The points at the ends of such edges still count.
//
// Derivatives of the distance, with r = sum c_k x_k between the closest points, n = r / d, and l
// the parameters free to move:
//   grad d = c_k n
//   hess d = (c c^T (x) I - K M^-1 K^T - grad d grad d^T) / d
//   K = dc/dl (x) r + c (x) dr/dl,   M = dr/dl . dr/dl
// by differentiating d^2/2 = min over l of |r|^2/2 twice.
#pragma once

#include <Eigen/Core>

#include "solver/contact/closest_points.hpp"
#include "solver/shell/shell_element.hpp"

namespace totebench::solver {

using Vector12d = Eigen::Matrix<double, 12, 1>;
using Matrix12d = Eigen::Matrix<double, 12, 12>;

struct DistanceDerivatives {
  double distance = 0;  // m
  Vector12d gradient;   // by the columns of the points, one after the other
  Matrix12d hessian;    // 1/m
};
// The points must be apart.
[[nodiscard]] DistanceDerivatives distance_derivatives(const PairPoints& points,
                                                       const ClosestPoints& closest);

struct Barrier {
  double stiffness_J = 0;
  double gap_m = 0;
  double parallel_m4 = 0;  // eps of two edges; 0: they count whole
};

// eps of the mollifier, from the squared lengths of the edges at rest.
[[nodiscard]] inline double parallel_limit(double length_a_sq, double length_b_sq) {
  return 1e-3 * length_a_sq * length_b_sq;
}

// J; without end where the pair touches.
[[nodiscard]] double barrier_energy(PairKind kind, const PairPoints& points,
                                    const Barrier& barrier);

// Overwrites the gradient and, unless null, the Hessian: with HessianPart::kPositive its positive
// part, without the eigenvalues below zero [Higham1988]. (That of moving straight apart alone is
// not enough: of two edges that all but touch, a step that only turns them would be cut to
// nothing.) The points must be apart.
double barrier_derivatives(PairKind kind, const PairPoints& points, const Barrier& barrier,
                           HessianPart part, Vector12d& gradient, Matrix12d* hessian);

}  // namespace totebench::solver
