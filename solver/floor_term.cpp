#include "solver/floor_term.hpp"

#include <limits>

#include "solver/quadrature.hpp"

namespace totebench {

FloorTerm::FloorTerm(const ShellMesh& mesh, const Floor& floor)
    : mesh_(mesh), floor_(floor), height_m_(-std::numeric_limits<double>::max()) {
  for (const int t : floor.triangles) {
    std::array<int, 6> z{};
    for (std::size_t n = 0; n < 6; ++n) z[n] = 3 * mesh.triangles[t].node[n] + 2;
    unknowns_.push_back(z);
    area_m2_.push_back(rest_area(mesh, t) / 3);
  }
  for (std::size_t q = 0; q < 3; ++q) {
    shape_[q] = shape(kInteriorPoints[q].xi, kInteriorPoints[q].eta);
  }
}

FloorTerm::Push FloorTerm::push(double depth_m) const {
  if (depth_m <= 0) return {};
  const double k = floor_.stiffness_Pa_per_m;
  const double s = floor_.soften_m;
  if (depth_m < s) {
    return {k * depth_m * depth_m * depth_m / (6 * s), k * depth_m * depth_m / (2 * s),
            k * depth_m / s};
  }
  const double p = depth_m - 0.5 * s;
  return {0.5 * k * p * p + k * s * s / 24, k * p, k};
}

double FloorTerm::depth(const State& state, int block, int q) const {
  const auto& node = mesh_.triangles[floor_.triangles[block]].node;
  double z = 0;
  for (int n = 0; n < 6; ++n) z += shape_[q][n] * state.x(2, node[n]);
  return height_m_ - z;
}

double FloorTerm::energy(const State& state, int block) const {
  double energy = 0;
  for (int q = 0; q < 3; ++q) energy += area_m2_[block] * push(depth(state, block, q)).energy;
  return energy;
}

double FloorTerm::derivatives(const State& state, int block, Curving /*curving*/, double* gradient,
                              double* hessian) const {
  using Vector6d = Eigen::Matrix<double, 6, 1>;
  Eigen::Map<Vector6d> g(gradient);
  g.setZero();
  if (hessian != nullptr) Eigen::Map<Eigen::Matrix<double, 6, 6>>(hessian).setZero();
  double energy = 0;
  for (int q = 0; q < 3; ++q) {
    const Push p = push(depth(state, block, q));
    if (p.pressure == 0) continue;
    const double area = area_m2_[block];
    energy += area * p.energy;
    g -= area * p.pressure * shape_[q];
    if (hessian != nullptr) {
      Eigen::Map<Eigen::Matrix<double, 6, 6>>(hessian) +=
          area * p.stiffness * shape_[q] * shape_[q].transpose();
    }
  }
  return energy;
}

double FloorTerm::force_N(const State& state) const {
  double force = 0;
  for (int b = 0; b < n_blocks(); ++b) {
    for (int q = 0; q < 3; ++q) force += area_m2_[b] * push(depth(state, b, q)).pressure;
  }
  return force;
}

}  // namespace totebench
