// Rectangles with masses, shared by the cases on motion and vibration.
#pragma once

#include <array>
#include <functional>
#include <vector>

#include "totebench/solver/model.hpp"

namespace totebench::verification {

inline constexpr int kHeldEdge = 1;
inline constexpr int kFreeEdge = 2;

// A rectangle from the origin along `along` (length) and `across` (width), in 2 n x m triangles.
inline solver::ShellMesh rectangle(const Eigen::Vector3d& along, const Eigen::Vector3d& across,
                                   int n, int m) {
  Eigen::Matrix3Xd p(3, (n + 1) * (m + 1));
  std::vector<std::array<int, 3>> t;
  for (int i = 0; i <= n; ++i) {
    for (int j = 0; j <= m; ++j) {
      p.col(i * (m + 1) + j) = along * i / n + across * j / m;
      if (i == n || j == m) continue;
      const int a = i * (m + 1) + j, b = a + m + 1;
      if ((i + j) % 2 == 0) {
        t.push_back({a, b, b + 1});
        t.push_back({a, b + 1, a + 1});
      } else {
        t.push_back({a, b, a + 1});
        t.push_back({b, b + 1, a + 1});
      }
    }
  }
  solver::ShellMesh mesh = solver::second_order_mesh(p, t);
  for (int j = 0; j < m; ++j) {
    mesh.labelled_edges.push_back({j, j + 1, kHeldEdge});
    mesh.labelled_edges.push_back({n * (m + 1) + j, n * (m + 1) + j + 1, kFreeEdge});
  }
  return mesh;
}

inline solver::Section plain(double stretch_N_per_m, double bend_N_m, double nu,
                             double mass_kg_per_m2) {
  Eigen::Matrix3d unit;
  unit << 1, nu, 0, nu, 1, 0, 0, 0, (1 - nu) / 2;
  solver::Section s;
  s.A = stretch_N_per_m * unit;
  s.D = bend_N_m * unit;
  s.areal_mass_kg_per_m2 = mass_kg_per_m2;
  return s;
}

inline void hold_where(solver::Model& model,
                       const std::function<bool(const Eigen::Vector3d&)>& where) {
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    if (!where(model.mesh.position.col(i))) continue;
    for (int c = 0; c < 3; ++c) model.fixed.push_back({i, c});
  }
}

}  // namespace totebench::verification
