#include <Eigen/Geometry>
#include <set>
#include <unordered_map>
#include <utility>

#include "solver/mesh/quadrature.hpp"
#include "totebench/solver/model.hpp"

namespace totebench::solver {
namespace {

// Rest area element at a point: |X,1 x X,2|.
double area_element(const Matrix36d& rest, double xi, double eta) {
  const Eigen::Matrix<double, 3, 2> tangent = rest * shape_gradient(xi, eta);
  return tangent.col(0).cross(tangent.col(1)).norm();
}

// Integrals of the six shape functions over a triangle's rest area, m2.
Eigen::Matrix<double, 6, 1> shape_integrals(const Matrix36d& rest) {
  Eigen::Matrix<double, 6, 1> integral = Eigen::Matrix<double, 6, 1>::Zero();
  for (const QuadraturePoint& q : kDegree4Points) {
    integral += q.weight * area_element(rest, q.xi, q.eta) * shape(q.xi, q.eta);
  }
  return integral;
}

}  // namespace

std::vector<StitchPoint> points_of(const Stitch& stitch) {
  if (stitch.spread.empty()) return {{stitch.a, stitch.b, 1.0}};
  return stitch.spread;
}

Eigen::Matrix3Xd own_weight(const ShellMesh& mesh, const std::vector<Section>& sections,
                            double gravity) {
  Eigen::Matrix3Xd force = Eigen::Matrix3Xd::Zero(3, mesh.n_nodes());
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Triangle& triangle = mesh.triangles[t];
    const double weight = sections[triangle.section].areal_mass_kg_per_m2 * gravity;
    const Eigen::Matrix<double, 6, 1> integral = shape_integrals(mesh.rest[t]);
    for (int n = 0; n < 6; ++n) force(2, triangle.node[n]) -= weight * integral[n];
  }
  return force;
}

Eigen::Matrix3Xd area_load(const ShellMesh& mesh, const std::vector<int>& triangles,
                           const Eigen::Vector3d& force_per_area_Pa) {
  Eigen::Matrix3Xd force = Eigen::Matrix3Xd::Zero(3, mesh.n_nodes());
  for (const int t : triangles) {
    const Eigen::Matrix<double, 6, 1> integral = shape_integrals(mesh.rest[t]);
    for (int n = 0; n < 6; ++n) {
      force.col(mesh.triangles[t].node[n]) += integral[n] * force_per_area_Pa;
    }
  }
  return force;
}

Eigen::Matrix3Xd edge_load(const ShellMesh& mesh, int label,
                           const Eigen::Vector3d& force_per_length_N_per_m) {
  Eigen::Matrix3Xd force = Eigen::Matrix3Xd::Zero(3, mesh.n_nodes());
  std::set<std::pair<int, int>> wanted;
  for (const LabelledEdge& edge : mesh.labelled_edges) {
    if (edge.label == label) wanted.emplace(std::minmax(edge.a, edge.b));
  }
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Triangle& triangle = mesh.triangles[t];
    for (int k = 0; k < 3; ++k) {
      const int a = triangle.node[k];
      const int b = triangle.node[(k + 1) % 3];
      // Each labelled edge is loaded once, from the first triangle that has it.
      if (wanted.erase(std::minmax(a, b)) == 0) continue;
      const Eigen::Vector3d xa = mesh.rest[t].col(k);
      const Eigen::Vector3d xb = mesh.rest[t].col((k + 1) % 3);
      const Eigen::Vector3d xm = mesh.rest[t].col(3 + k);
      for (const double s : kGauss2) {
        // Edge shape functions (1-s)(1-2s), s(2s-1), 4s(1-s).
        const Eigen::Vector3d tangent = (4 * s - 3) * xa + (4 * s - 1) * xb + (4 - 8 * s) * xm;
        const Eigen::Vector3d f = 0.5 * tangent.norm() * force_per_length_N_per_m;
        force.col(a) += (1 - s) * (1 - 2 * s) * f;
        force.col(b) += s * (2 * s - 1) * f;
        force.col(triangle.node[3 + k]) += 4 * s * (1 - s) * f;
      }
    }
  }
  return force;
}

double rest_area(const ShellMesh& mesh, int triangle) {
  return shape_integrals(mesh.rest[triangle]).sum();
}

}  // namespace totebench::solver
