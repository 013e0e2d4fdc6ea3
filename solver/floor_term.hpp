// A level ground that pushes up what sinks into it (see Floor in model.hpp). Held at the interior
// points of each triangle, with a third of its rest area each:
//   E = sum A_q f(h - z_q),   f(p) = k p^3 / (6 s) up to s, then k/2 (p - s/2)^2 + k s^2 / 24
// for a depth p > 0; convex and twice differentiable. The ground does not hold what slides on it.
#pragma once

#include <array>
#include <vector>

#include "solver/energy_term.hpp"

namespace totebench {

class FloorTerm final : public EnergyTerm {
 public:
  // Far below everything until it is moved.
  FloorTerm(const ShellMesh& mesh, const Floor& floor);

  [[nodiscard]] int n_blocks() const override { return static_cast<int>(floor_.triangles.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override { return unknowns_[block]; }
  [[nodiscard]] double energy(const State& state, int block) const override;
  double derivatives(const State& state, int block, Curving curving, double* gradient,
                     double* hessian) const override;

  void move_to(double height_m) { height_m_ = height_m; }
  // On the model, upwards, N.
  [[nodiscard]] double force_N(const State& state) const;

 private:
  struct Push {
    double energy = 0;     // per area, J/m2
    double pressure = 0;   // Pa
    double stiffness = 0;  // Pa/m
  };
  [[nodiscard]] Push push(double depth_m) const;
  [[nodiscard]] double depth(const State& state, int block, int q) const;

  const ShellMesh& mesh_;
  const Floor& floor_;
  double height_m_;
  std::vector<std::array<int, 6>> unknowns_;  // z of the triangle's nodes
  std::vector<double> area_m2_;               // of one point
  std::array<Eigen::Matrix<double, 6, 1>, 3> shape_;
};

}  // namespace totebench
