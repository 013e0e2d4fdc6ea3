#include "solver/terms/floor_term.hpp"

#include "solver/mesh/quadrature.hpp"

namespace totebench::solver {

FloorTerm::FloorTerm(const ShellMesh& mesh, const Floor& floor) : mesh_(mesh), floor_(floor) {
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

SoftOnset FloorTerm::push(const State& state, int block, int q) const {
  const auto& node = mesh_.triangles[floor_.triangles[block]].node;
  double z = 0;
  for (int n = 0; n < 6; ++n) z += shape_[q][n] * state.x(2, node[n]);
  return soft_onset(floor_.stiffness_Pa_per_m, floor_.soften_m, height_m_ - z);
}

double FloorTerm::energy(const State& state, int block) const {
  double energy = 0;
  for (int q = 0; q < 3; ++q) energy += area_m2_[block] * push(state, block, q).energy;
  return energy;
}

double FloorTerm::derivatives(const State& state, int block, HessianPart /*part*/, double* gradient,
                              double* hessian) const {
  using Vector6d = Eigen::Matrix<double, 6, 1>;
  Eigen::Map<Vector6d> g(gradient);
  g.setZero();
  if (hessian != nullptr) Eigen::Map<Eigen::Matrix<double, 6, 6>>(hessian).setZero();
  double energy = 0;
  for (int q = 0; q < 3; ++q) {
    const SoftOnset p = push(state, block, q);
    if (p.force == 0) continue;
    const double area = area_m2_[block];
    energy += area * p.energy;
    g -= area * p.force * shape_[q];
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
    for (int q = 0; q < 3; ++q) force += area_m2_[b] * push(state, b, q).force;
  }
  return force;
}

}  // namespace totebench::solver
