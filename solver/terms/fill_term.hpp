// Contents that rest against the inside of a surface: a liquid, or a loose heap.
//
// With the outward normal n, height z and specific weight gamma, the part of the inside below a
// level has volume V = -int (level - z)+ n_z dA, and the liquid's own energy is the stationary
// value over the level of
//   U = gamma level V0 + 1/2 gamma int (level - z)+^2 n_z dA,        V0 = mass / bulk density,
// a maximum, reached where V = V0. Its forces are the hydrostatic pressure and sum to the weight.
//
// A heap carries K U (the isotropic part of its stress) and, as a dead load renewed between solves,
// the vertical rest (1 - K) gamma (level - z)+ n_z dA. Both together hold up the whole weight.
#pragma once

#include <array>
#include <vector>

#include "solver/terms/energy_term.hpp"

namespace totebench::solver {

class FillTerm final : public EnergyTerm {
 public:
  FillTerm(const ShellMesh& mesh, const Fill& fill, double gravity);

  [[nodiscard]] std::string_view name() const override { return "contents"; }
  [[nodiscard]] int n_blocks() const override;
  [[nodiscard]] std::span<const int> unknowns(int block) const override;
  [[nodiscard]] double energy(const State& state, int block) const override;
  double derivatives(const State& state, int block, HessianPart part, double* gradient,
                     double* hessian) const override;
  void set_load_factor(double factor) override;
  [[nodiscard]] bool is_outer() const override { return true; }
  [[nodiscard]] double load_scale() const override { return factor_ * fill_.mass_kg * gravity_; }

  // Finds the level for these positions.
  void prepare(const State& state) override;
  [[nodiscard]] double level() const { return level_; }
  // gamma level V0 part of the energy (times K), J.
  [[nodiscard]] double whole_energy() const override;
  // Second derivative through the level.
  void add_low_rank(const State& state, int n_unknowns, std::vector<RankOne>& parts) const override;

  // Contents do not fit under the highest point of the surface; the level was capped there.
  [[nodiscard]] bool overflows() const { return overflows_; }
  [[nodiscard]] SolveFailure obstacle() const override {
    return overflows_ ? SolveFailure::kContentsOverflow : SolveFailure::kNone;
  }
  // The cap, and the vertical forces of a heap.
  [[nodiscard]] bool is_lagged() const override { return is_heap() || overflows_; }
  void renew_lagged(const State& state) override;
  void add_lagged_force(Eigen::VectorXd& force) const override;

 private:
  [[nodiscard]] bool is_heap() const { return fill_.lateral_ratio_K < 1; }
  // At the present level; 3 x n_nodes, N.
  [[nodiscard]] Eigen::Matrix3Xd heap_forces(const State& state) const;
  [[nodiscard]] Matrix36d positions(const State& state, int block) const;
  [[nodiscard]] double gamma() const { return fill_.bulk_density_kg_per_m3 * gravity_; }
  [[nodiscard]] double target_volume() const {
    return factor_ * fill_.mass_kg / fill_.bulk_density_kg_per_m3;
  }
  const ShellMesh& mesh_;
  const Fill& fill_;
  double gravity_;
  double factor_ = 1;
  double level_ = 0;
  double cap_ = 0;
  bool overflows_ = false;
  double surface_area_ = 0;  // of the free surface, m2
  Eigen::Matrix3Xd heap_;    // lagged vertical forces, N; empty = none
  std::vector<std::array<int, 18>> unknowns_;
};

}  // namespace totebench::solver
