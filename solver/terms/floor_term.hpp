// A level ground that pushes up what sinks into it (see Floor in model.hpp). Held at the interior
// points of each triangle, with a third of its rest area each:
//   E = sum A_q f(h - z_q),   f as in soft_onset.hpp, by the depth.
// The ground does not hold what slides on it.
#pragma once

#include <array>
#include <vector>

#include "solver/terms/energy_term.hpp"
#include "solver/terms/soft_onset.hpp"

namespace totebench::solver {

class FloorTerm final : public EnergyTerm {
 public:
  FloorTerm(const ShellMesh& mesh, const Floor& floor);

  [[nodiscard]] std::string_view name() const override { return "floor"; }
  [[nodiscard]] bool is_outer() const override { return true; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(floor_.triangles.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override { return unknowns_[block]; }
  [[nodiscard]] double energy(const State& state, int block) const override;
  double derivatives(const State& state, int block, HessianPart part, double* gradient,
                     double* hessian) const override;

  void move_to(double height_m) { height_m_ = height_m; }
  // On the model, upwards, N.
  [[nodiscard]] double force_N(const State& state) const;

 private:
  // Per area: J/m2, Pa, Pa/m.
  [[nodiscard]] SoftOnset push(const State& state, int block, int q) const;

  const ShellMesh& mesh_;
  const Floor& floor_;
  double height_m_ = kNoFloor_m;
  std::vector<std::array<int, 6>> unknowns_;  // z of the triangle's nodes
  std::vector<double> area_m2_;               // of one point
  std::array<Eigen::Matrix<double, 6, 1>, 3> shape_;
};

}  // namespace totebench::solver
