#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <cmath>
#include <numbers>

#include "totebench/solver/equilibrium.hpp"

namespace totebench::solver {
namespace {

// Bending stiffness for a cylinder bent along unit direction `t` (section axes), stretching free.
double bending_along(const Section& section, const Eigen::Vector2d& t) {
  const Eigen::Matrix3d free = section.D - section.B.transpose() * section.A.inverse() * section.B;
  const Eigen::Vector3d curvature(t.x() * t.x(), t.y() * t.y(), 2 * t.x() * t.y());
  return curvature.dot(free * curvature);
}

}  // namespace

double unseen_wrinkles(const Model& model, const ShellFields& fields) {
  double area = 0;
  double unseen = 0;
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    const Section& section = model.sections[model.mesh.triangles[t].section];
    const double its = rest_area(model.mesh, t);
    area += its;
    if (section.tension_field) continue;
    const Eigen::Vector3d n = fields.membrane_force[static_cast<std::size_t>(t)].rowwise().mean();
    Eigen::Matrix2d force;
    force << n[0], n[2], n[2], n[1];
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> principal(force);
    const double pressed = -principal.eigenvalues()[0];
    if (!(pressed > 0)) continue;
    // Edge of the even-sided triangle of this area, squared.
    const double edge2 = 4 * its / std::numbers::sqrt3;
    const double borne = std::numbers::pi * std::numbers::pi / edge2 *
                         bending_along(section, principal.eigenvectors().col(0));
    if (pressed > borne) unseen += its;
  }
  return area > 0 ? unseen / area : 0;
}

}  // namespace totebench::solver
