#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <numbers>

#include "solver/mesh/quadrature.hpp"
#include "solver/state/dof_map.hpp"
#include "solver/terms/make_terms.hpp"

namespace totebench::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;
using Vector6d = Eigen::Matrix<double, 6, 1>;

class ShellTerm final : public EnergyTerm {
 public:
  ShellTerm(const Model& model, const Topology& topology) : model_(model), topology_(topology) {
    const ShellMesh& mesh = model.mesh;
    const DofMap dofs = dof_map(topology, model.bodies.size());
    rest_.reserve(mesh.triangles.size());
    unknowns_.resize(mesh.triangles.size());
    for (int t = 0; t < mesh.n_triangles(); ++t) {
      rest_.push_back(make_shell_rest(mesh.rest[t], mesh.warp[t]));
      for (int n = 0; n < 6; ++n) {
        for (int c = 0; c < 3; ++c)
          unknowns_[t][3 * n + c] = dofs.node(mesh.triangles[t].node[n]) + c;
      }
      for (int e = 0; e < 6; ++e) {
        unknowns_[t][18 + e] = dofs.director(topology.edge_uses[t][e / 2].director[e % 2]);
      }
    }
  }
  [[nodiscard]] std::string_view name() const override { return "shell"; }
  [[nodiscard]] int n_blocks() const override { return model_.mesh.n_triangles(); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override { return unknowns_[block]; }
  [[nodiscard]] double energy(const State& state, int block) const override {
    return shell_energy(rest_[block], section(block), input(state, block));
  }
  double derivatives(const State& state, int block, HessianPart part, double* gradient,
                     double* hessian) const override {
    Vector24d g;
    if (hessian == nullptr) {
      const double energy =
          shell_derivatives(rest_[block], section(block), input(state, block), part, g, nullptr);
      Eigen::Map<Vector24d>{gradient} = g;
      return energy;
    }
    Matrix24d h;
    const double energy =
        shell_derivatives(rest_[block], section(block), input(state, block), part, g, &h,
                          predicted_.empty() ? nullptr : &predicted_[block]);
    Eigen::Map<Vector24d>{gradient} = g;
    Eigen::Map<Matrix24d>{hessian} = h;
    return energy;
  }
  void predict(const State* state, const Eigen::VectorXd& step) override {
    if (state == nullptr) {
      predicted_.clear();
      return;
    }
    predicted_.resize(rest_.size());
#pragma omp parallel for schedule(static)
    for (int t = 0; t < n_blocks(); ++t) {
      const ShellInput in = input(*state, t);
      const ShellStrainGradient by = shell_strain_gradient(rest_[t], in);
      Vector24d local;
      for (int i = 0; i < 24; ++i) local[i] = step[unknowns_[t][i]];
      predicted_[t] = shell_strain(rest_[t], in);
      predicted_[t].membrane += by.membrane * local;
      predicted_[t].curvature += by.curvature * local;
    }
  }

 private:
  [[nodiscard]] const Section& section(int block) const {
    return model_.sections[model_.mesh.triangles[block].section];
  }
  [[nodiscard]] ShellInput input(const State& state, int block) const {
    return shell_input(model_.mesh, topology_, state, block);
  }
  const Model& model_;
  const Topology& topology_;
  std::vector<ShellRest> rest_;
  std::vector<std::array<int, 24>> unknowns_;
  std::vector<ShellStrain> predicted_;
};

// E = k/2 (angle from first to second director - rest)^2; both turn with the edge, so only their
// own turns change it.
class HingeTerm final : public EnergyTerm {
 public:
  explicit HingeTerm(const Topology& topology) : topology_(topology) {
    const DofMap dofs = dof_map(topology, 0);
    for (const HingePair& hinge : topology.hinges) {
      unknowns_.push_back({dofs.director(hinge.first), dofs.director(hinge.second)});
    }
  }
  [[nodiscard]] std::string_view name() const override { return "hinges"; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(unknowns_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override { return unknowns_[block]; }
  [[nodiscard]] double energy(const State& state, int block) const override {
    const double a = angle(state, block);
    return 0.5 * topology_.hinges[block].stiffness_N_m * a * a;
  }
  double derivatives(const State& state, int block, HessianPart /*part*/, double* gradient,
                     double* hessian) const override {
    const double k = topology_.hinges[block].stiffness_N_m;
    const double a = angle(state, block);
    gradient[0] = -k * a;
    gradient[1] = k * a;
    if (hessian != nullptr) {
      hessian[0] = hessian[3] = k;
      hessian[1] = hessian[2] = -k;
    }
    return 0.5 * k * a * a;
  }

 private:
  [[nodiscard]] double angle(const State& state, int block) const {
    const HingePair& hinge = topology_.hinges[block];
    const Vector3d axis = site_tangent(topology_.sites[hinge.first], state.x).normalized();
    return std::remainder(
        angle_about(axis, state.director.col(hinge.first), state.director.col(hinge.second)) -
            hinge.rest_angle,
        2 * std::numbers::pi);
  }
  const Topology& topology_;
  std::vector<std::array<int, 2>> unknowns_;
};

}  // namespace

std::unique_ptr<EnergyTerm> make_shell_term(const Model& model, const Topology& topology) {
  return std::make_unique<ShellTerm>(model, topology);
}
std::unique_ptr<EnergyTerm> make_hinge_term(const Topology& topology) {
  return std::make_unique<HingeTerm>(topology);
}

}  // namespace totebench::solver
