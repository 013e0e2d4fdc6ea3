// One interface for everything that stores energy. A term is a set of blocks; each block knows the
// few unknowns it depends on and its energy, gradient and Hessian by them. The potential (see
// potential.hpp) sums the blocks.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "solver/mesh/topology.hpp"
#include "solver/shell/shell_element.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::solver {

class EnergyTerm {
 public:
  EnergyTerm() = default;
  EnergyTerm(const EnergyTerm&) = delete;
  EnergyTerm& operator=(const EnergyTerm&) = delete;
  EnergyTerm(EnergyTerm&&) = delete;
  EnergyTerm& operator=(EnergyTerm&&) = delete;
  virtual ~EnergyTerm() = default;

  [[nodiscard]] virtual int n_blocks() const = 0;
  // Global unknowns of a block (see topology.hpp for their order); no unknown twice.
  [[nodiscard]] virtual std::span<const int> unknowns(int block) const = 0;
  [[nodiscard]] virtual double energy(const State& state, int block) const = 0;  // J
  // Overwrites gradient (n) and, unless null, hessian (n x n, column by column). Returns the
  // energy.
  virtual double derivatives(const State& state, int block, Curving curving, double* gradient,
                             double* hessian) const = 0;
  // The term's loads at this share of the payload.
  virtual void set_load_factor(double /*factor*/) {}
  // Stresses to expect after `step` from `state`, for the geometric stiffness of the next Hessian;
  // null forgets them.
  virtual void predict(const State* /*state*/, const Eigen::VectorXd& /*step*/) {}
};

[[nodiscard]] std::unique_ptr<EnergyTerm> make_shell_term(const Model& model,
                                                          const Topology& topology);
[[nodiscard]] std::unique_ptr<EnergyTerm> make_hinge_term(const Topology& topology);
[[nodiscard]] std::unique_ptr<EnergyTerm> make_stitch_term(const ShellMesh& mesh,
                                                           const std::vector<Stitch>& stitches);
[[nodiscard]] std::unique_ptr<EnergyTerm> make_normal_tie_term(const ShellMesh& mesh,
                                                               const std::vector<NormalTie>& ties);
[[nodiscard]] std::unique_ptr<EnergyTerm> make_tether_term(const ShellMesh& mesh,
                                                           const std::vector<Tether>& tethers);
// Follower pressure as minus pressure times the volume under the surface, p * integral z n_z dA.
// Exact where the border is held or at height zero; elsewhere a border force p z remains.
[[nodiscard]] std::unique_ptr<EnergyTerm> make_pressure_term(const ShellMesh& mesh,
                                                             const Eigen::VectorXd& pressure_Pa);

// The shell triangle's view of a state.
[[nodiscard]] ShellInput shell_input(const ShellMesh& mesh, const Topology& topology,
                                     const State& state, int triangle);

}  // namespace totebench::solver
