// One interface for everything that stores energy or pulls on a model. A term is a set of blocks;
// each block knows the few unknowns it depends on and its energy, gradient and Hessian by them. The
// potential (solver/assembly/potential.hpp) sums the blocks of all terms, whatever they are.
#pragma once

#include <Eigen/Core>
#include <limits>
#include <span>
#include <string_view>
#include <vector>

#include "solver/shell/shell_element.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::solver {

// A part factor * v v^T of a Hessian that would fill the sparse matrix.
struct RankOne {
  double factor = 0;  // > 0
  Eigen::VectorXd v;
};

class EnergyTerm {
 public:
  // Unknowns of the largest block there may be: a pair of triangles.
  static constexpr int kLargestBlock = 36;

  EnergyTerm() = default;
  EnergyTerm(const EnergyTerm&) = delete;
  EnergyTerm& operator=(const EnergyTerm&) = delete;
  EnergyTerm(EnergyTerm&&) = delete;
  EnergyTerm& operator=(EnergyTerm&&) = delete;
  virtual ~EnergyTerm() = default;

  [[nodiscard]] virtual std::string_view name() const = 0;

  // Blocks. `state` is the one last prepared.
  [[nodiscard]] virtual int n_blocks() const = 0;
  // Global unknowns of a block (solver/state/dof_map.hpp); no unknown twice, and no more than
  // kLargestBlock.
  [[nodiscard]] virtual std::span<const int> unknowns(int block) const = 0;
  [[nodiscard]] virtual double energy(const State& state, int block) const = 0;  // J
  // Overwrites gradient (n) and, unless null, hessian (n x n, column by column). Returns the
  // energy.
  virtual double derivatives(const State& state, int block, HessianPart part, double* gradient,
                             double* hessian) const = 0;

  // Brings what depends on the whole state up to date, the list of blocks included.
  virtual void prepare(const State& /*state*/) {}
  // Changes whenever prepare() has changed the number of blocks or their unknowns.
  [[nodiscard]] virtual int pattern_version() const { return 0; }
  // Energy of no single block, J, and its part of the Hessian; v by `n_unknowns` unknowns.
  [[nodiscard]] virtual double whole_energy() const { return 0; }
  virtual void add_low_rank(const State& /*state*/, int /*n_unknowns*/,
                            std::vector<RankOne>& /*parts*/) const {}
  // Share of `step` (all unknowns) that the state may go; 1 or more: all of it. The state need not
  // be the one last prepared.
  [[nodiscard]] virtual double largest_step(const State& /*state*/,
                                            const Eigen::VectorXd& /*step*/) const {
    return std::numeric_limits<double>::infinity();
  }
  // Stresses to expect after `step` from `state`, for the geometric stiffness of the next Hessian;
  // null forgets them.
  virtual void predict(const State* /*state*/, const Eigen::VectorXd& /*step*/) {}

  // Loads. The term's at this share of the payload.
  virtual void set_load_factor(double /*factor*/) {}
  // A force from outside the model, rather than one within it.
  [[nodiscard]] virtual bool is_outer() const { return false; }
  // Sum of the magnitudes of its loads, N.
  [[nodiscard]] virtual double load_scale() const { return 0; }

  // A search for an equilibrium begins at this state, which the term was prepared for.
  virtual void begin(const State& /*state*/) {}

  // Lagged part: forces (or limits of such) held dead while the energy is minimised, and renewed
  // between.
  [[nodiscard]] virtual bool is_lagged() const { return false; }
  virtual void renew_lagged(const State& /*state*/) {}
  virtual void add_lagged_force(Eigen::VectorXd& /*force*/) const {}  // N, by all unknowns
  // Why there is no equilibrium however well the minimum is found; kNone: nothing known.
  [[nodiscard]] virtual SolveFailure obstacle() const { return SolveFailure::kNone; }
};

}  // namespace totebench::solver
