#include <array>
#include <cmath>

#include "solver/terms/make_terms.hpp"
#include "solver/terms/surface_integral.hpp"

namespace totebench::solver {
namespace {

// Pressure p along +n does the work p dV: potential -p z per projected area.
auto pressure_function(double p) {
  return [p](double z) { return HeightFunction{-p * z, -p, 0}; };
}

class PressureTerm final : public EnergyTerm {
 public:
  PressureTerm(const ShellMesh& mesh, const Eigen::VectorXd& pressure) : mesh_(mesh) {
    for (int t = 0; t < mesh.n_triangles(); ++t) {
      if (pressure[t] == 0) continue;
      triangles_.push_back(t);
      pressure_.push_back(pressure[t]);
      std::array<int, 18> unknowns{};
      for (int n = 0; n < 6; ++n) {
        for (int c = 0; c < 3; ++c) unknowns[3 * n + c] = 3 * mesh.triangles[t].node[n] + c;
      }
      unknowns_.push_back(unknowns);
      area_m2_.push_back(rest_area(mesh, t));
    }
  }
  [[nodiscard]] std::string_view name() const override { return "pressure"; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(triangles_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override { return unknowns_[block]; }
  [[nodiscard]] double energy(const State& state, int block) const override {
    return surface_integral(positions(state, block), pressure_function(factor_ * pressure_[block]),
                            nullptr, nullptr);
  }
  double derivatives(const State& state, int block, HessianPart part, double* gradient,
                     double* hessian) const override {
    Vector18d g = Vector18d::Zero();
    Matrix18d h = Matrix18d::Zero();
    const bool full = hessian != nullptr && part == HessianPart::kExact;
    const double energy =
        surface_integral(positions(state, block), pressure_function(factor_ * pressure_[block]), &g,
                         full ? &h : nullptr);
    Eigen::Map<Vector18d>{gradient} = g;
    if (hessian != nullptr) Eigen::Map<Matrix18d>{hessian} = h;
    return energy;
  }
  void set_load_factor(double factor) override { factor_ = factor; }
  [[nodiscard]] bool is_outer() const override { return true; }
  [[nodiscard]] double load_scale() const override {
    double scale = 0;
    for (std::size_t b = 0; b < pressure_.size(); ++b) {
      scale += std::abs(factor_ * pressure_[b]) * area_m2_[b];
    }
    return scale;
  }

 private:
  [[nodiscard]] Matrix36d positions(const State& state, int block) const {
    Matrix36d x;
    for (int n = 0; n < 6; ++n) x.col(n) = state.x.col(mesh_.triangles[triangles_[block]].node[n]);
    return x;
  }
  const ShellMesh& mesh_;
  double factor_ = 1;
  std::vector<int> triangles_;
  std::vector<double> pressure_;
  std::vector<double> area_m2_;  // at rest
  std::vector<std::array<int, 18>> unknowns_;
};

}  // namespace

std::unique_ptr<EnergyTerm> make_pressure_term(const ShellMesh& mesh,
                                               const Eigen::VectorXd& pressure_Pa) {
  return std::make_unique<PressureTerm>(mesh, pressure_Pa);
}

}  // namespace totebench::solver
