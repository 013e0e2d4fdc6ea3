// Integrals over a surface triangle of F(z) n_z dA, whose variation is the work of a pressure
// F'(z) along the normal: the potential of weights of liquids and of constant pressure.
#pragma once

#include <Eigen/Core>

#include "solver/mesh/quadrature.hpp"
#include "totebench/solver/mesh.hpp"

namespace totebench::solver {

using Vector18d = Eigen::Matrix<double, 18, 1>;
using Matrix18d = Eigen::Matrix<double, 18, 18>;

// F and its first two derivatives at a height.
struct HeightFunction {
  double value = 0;
  double first = 0;
  double second = 0;
};

// Shape values at the quadrature points, the same for every triangle.
struct SurfaceQuadrature {
  Eigen::Matrix<double, 6, 12> n, d1, d2;
  SurfaceQuadrature() {
    for (int q = 0; q < 12; ++q) {
      n.col(q) = shape(kDegree6Points[q].xi, kDegree6Points[q].eta);
      const Eigen::Matrix<double, 6, 2> g =
          shape_gradient(kDegree6Points[q].xi, kDegree6Points[q].eta);
      d1.col(q) = g.col(0);
      d2.col(q) = g.col(1);
    }
  }
};

[[nodiscard]] inline const SurfaceQuadrature& surface_quadrature() {
  static const SurfaceQuadrature points;
  return points;
}

// Calls visit(weight, z, n_z dA per reference area, q) at each quadrature point.
template <typename Visit>
void visit_surface(const Matrix36d& x, Visit&& visit) {
  const SurfaceQuadrature& s = surface_quadrature();
  for (int q = 0; q < 12; ++q) {
    const Eigen::Vector3d g1 = x * s.d1.col(q);
    const Eigen::Vector3d g2 = x * s.d2.col(q);
    visit(kDegree6Points[q].weight, x.row(2).dot(s.n.col(q)), g1.x() * g2.y() - g1.y() * g2.x(), q);
  }
}

// Adds the gradient (and Hessian unless null) of the integral of F; returns its value.
template <typename Function>
double surface_integral(const Matrix36d& x, Function&& f, Vector18d* gradient, Matrix18d* hessian) {
  const SurfaceQuadrature& s = surface_quadrature();
  double value = 0;
  visit_surface(x, [&](double weight, double z, double area, int q) {
    const HeightFunction h = f(z);
    value += weight * h.value * area;
    if (gradient == nullptr) return;
    const Eigen::Vector3d g1 = x * s.d1.col(q);
    const Eigen::Vector3d g2 = x * s.d2.col(q);
    Eigen::Matrix<double, 6, 1> by_x = g2.y() * s.d1.col(q) - g1.y() * s.d2.col(q);
    Eigen::Matrix<double, 6, 1> by_y = -g2.x() * s.d1.col(q) + g1.x() * s.d2.col(q);
    for (int i = 0; i < 6; ++i) {
      (*gradient)[3 * i] += weight * h.value * by_x[i];
      (*gradient)[3 * i + 1] += weight * h.value * by_y[i];
      (*gradient)[3 * i + 2] += weight * h.first * area * s.n(i, q);
    }
    if (hessian == nullptr) return;
    for (int i = 0; i < 6; ++i) {
      for (int j = 0; j < 6; ++j) {
        const double mixed = s.d1(i, q) * s.d2(j, q) - s.d2(i, q) * s.d1(j, q);
        (*hessian)(3 * i, 3 * j + 1) += weight * h.value * mixed;
        (*hessian)(3 * j + 1, 3 * i) += weight * h.value * mixed;
        (*hessian)(3 * i + 2, 3 * j) += weight * h.first * s.n(i, q) * by_x[j];
        (*hessian)(3 * j, 3 * i + 2) += weight * h.first * s.n(i, q) * by_x[j];
        (*hessian)(3 * i + 2, 3 * j + 1) += weight * h.first * s.n(i, q) * by_y[j];
        (*hessian)(3 * j + 1, 3 * i + 2) += weight * h.first * s.n(i, q) * by_y[j];
        (*hessian)(3 * i + 2, 3 * j + 2) += weight * h.second * area * s.n(i, q) * s.n(j, q);
      }
    }
  });
  return value;
}

}  // namespace totebench::solver
