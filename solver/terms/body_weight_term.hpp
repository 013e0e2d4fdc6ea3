// The weights of the bodies, times the load factor. One block a body.
#pragma once

#include <array>
#include <vector>

#include "solver/state/dof_map.hpp"
#include "solver/terms/energy_term.hpp"

namespace totebench::solver {

class BodyWeightTerm final : public EnergyTerm {
 public:
  BodyWeightTerm(const Model& model, const DofMap& dofs) : model_(model) {
    for (int b = 0; b < dofs.n_bodies; ++b) height_.push_back({dofs.body(b) + 2});
  }
  [[nodiscard]] std::string_view name() const override { return "body weight"; }
  [[nodiscard]] bool is_outer() const override { return true; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(height_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override { return height_[block]; }
  [[nodiscard]] double energy(const State& state, int block) const override {
    return weight_N(block) * state.bodies[static_cast<std::size_t>(block)].position.z();
  }
  double derivatives(const State& state, int block, HessianPart /*part*/, double* gradient,
                     double* hessian) const override {
    gradient[0] = weight_N(block);
    if (hessian != nullptr) hessian[0] = 0;
    return energy(state, block);
  }
  void set_load_factor(double factor) override { load_factor_ = factor; }
  [[nodiscard]] double load_scale() const override {
    double sum = 0;
    for (int b = 0; b < n_blocks(); ++b) sum += weight_N(b);
    return sum;
  }

 private:
  [[nodiscard]] double weight_N(int body) const {
    return load_factor_ * model_.bodies[static_cast<std::size_t>(body)].mass_kg *
           model_.gravity_m_per_s2;
  }
  const Model& model_;
  std::vector<std::array<int, 1>> height_;  // unknown of each body
  double load_factor_ = 1;
};

}  // namespace totebench::solver
