// Total potential energy of a model at one load factor: the sum of its terms less the work of the
// dead loads; its gradient; and its Hessian on the free unknowns, assembled in the same order for
// any number of threads.
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <memory>
#include <utility>
#include <vector>

#include "solver/assembly/block_pattern.hpp"
#include "solver/mesh/topology.hpp"
#include "solver/state/dof_map.hpp"
#include "solver/state/retraction.hpp"
#include "solver/terms/energy_term.hpp"
#include "solver/terms/make_terms.hpp"

namespace totebench::solver {

// Extra energy 1/2 (y - centre)' Q (y - centre) in the coordinates y of coordinates(): inertia and
// damping over one time step. Q is a diagonal, plus a matrix with a pattern of its own, handed to
// Potential::keep_in_pattern() before.
struct QuadraticEnergy {
  Eigen::VectorXd diagonal;        // all unknowns
  Eigen::VectorXd centre;          // all unknowns, of the diagonal
  Eigen::VectorXd coupled;         // the matrix's values; empty = no matrix
  Eigen::VectorXd coupled_centre;  // free unknowns, of the matrix
};

class Potential {
 public:
  // With the terms that the model asks for (make_terms). `model` must outlive it.
  explicit Potential(const Model& model);

  // One term more. Throws std::invalid_argument where it has a block that is too large.
  void add(std::unique_ptr<EnergyTerm> term);
  // The first term of a kind; null when there is none.
  template <typename Term>
  [[nodiscard]] Term* find() const {
    for (const auto& term : terms_) {
      if (auto* found = dynamic_cast<Term*>(term.get())) return found;
    }
    return nullptr;
  }

  void set_load_factor(double factor);

  // Brings what depends on the whole state (the level of the contents, lists of blocks) up to date.
  // Call after the state has changed and before the functions below.
  void prepare(const State& state);
  // The share of `step`, all unknowns, that the state may go: at most 1. Holds for whatever moves a
  // state.
  [[nodiscard]] double largest_step(const State& state, const Eigen::VectorXd& step) const;

  [[nodiscard]] double energy(const State& state) const;  // J
  // The part of it that is stored within the model, J: without weights and other forces from
  // outside, whose potential depends on where heights are counted from.
  [[nodiscard]] double inner_energy(const State& state) const;
  // Gradient by all unknowns: minus the net force on each, supports not counted, N (and N m).
  [[nodiscard]] Eigen::VectorXd gradient(const State& state) const;
  // Fills hessian() and returns the gradient.
  Eigen::VectorXd assemble(const State& state, HessianPart part);
  [[nodiscard]] const Eigen::SparseMatrix<double>& hessian() const { return pattern_.hessian(); }
  // Changes whenever assemble() has changed the pattern of hessian(): what holds values on it has
  // to be made anew.
  [[nodiscard]] int pattern_version() const { return pattern_.version(); }
  // What round-off leaves of the gradient where the true one is zero, by all unknowns, N (and N m).
  // Newton's method ends at a residual of about u |J| |y| plus the error of the residual as it is
  // evaluated [Tisseur2001] [Higham2002], chapter 25; u = 2^-53, y the positions as stored, 1 for a
  // direction. A block's gradient, evaluated backward stably, is the exact one of unknowns off by a
  // few u |y|, so both are of the size of
  //   u sum_e |H_e| |y|.
  // The rounding of the sum over the blocks is less: forces are stiffness times a part of y. On
  // strips from steel to cloth, at the origin and far from it, coarse and fine, Newton ends at 0.3
  // to 0.5 of that. Of the blocks as last assembled; inertia and damping over a time step are left
  // out.
  [[nodiscard]] Eigen::VectorXd round_off(const State& state) const;
  // By all unknowns: what is left to move of the supports at the present load factor; and the
  // blocks' Hessian as last assembled times a step.
  [[nodiscard]] Eigen::VectorXd support_step(const State& state) const;
  [[nodiscard]] Eigen::VectorXd hessian_times(const Eigen::VectorXd& step) const {
    return pattern_.product(step);
  }
  // Parts of the Hessian that would fill it, on free unknowns; not in hessian().
  [[nodiscard]] std::vector<RankOne> low_rank(const State& state) const;

  // Stresses to expect after `step`, for the geometric stiffness of the assemble() calls to come.
  void predict(const State& state, const Eigen::VectorXd& step);
  void forget_prediction();

  [[nodiscard]] const Model& model() const { return model_; }
  [[nodiscard]] const Topology& topology() const { return topology_; }
  [[nodiscard]] const DofMap& dofs() const { return dofs_; }

  [[nodiscard]] int n_free() const { return static_cast<int>(free_.size()); }
  [[nodiscard]] Eigen::VectorXd restrict_to_free(const Eigen::VectorXd& all) const;
  [[nodiscard]] Eigen::VectorXd expand(const Eigen::VectorXd& free_values) const;

  // The lagged parts of the terms, dead while the energy is minimised: whether there are any, and
  // their renewal at a state.
  [[nodiscard]] bool is_lagged() const;
  void renew_lagged(const State& state);
  // A search for an equilibrium begins at this state.
  void begin(const State& state);
  // Why there is no equilibrium as things stand; kNone: nothing known.
  [[nodiscard]] SolveFailure obstacle() const;

  // An extra quadratic energy; none to begin with.
  void set_quadratic(QuadraticEnergy quadratic) { quadratic_ = std::move(quadratic); }
  // hessian() holds the entries of this matrix (lower triangle, free unknowns), whatever the terms
  // need; QuadraticEnergy::coupled then holds values on its pattern.
  void keep_in_pattern(const Eigen::SparseMatrix<double>& lower);

  // The loads as applied at this state, by all unknowns, N (and N m); and their total.
  [[nodiscard]] Eigen::VectorXd applied_loads(const State& state) const;
  [[nodiscard]] Eigen::Vector3d applied_force(const State& state) const;
  // Sum of magnitudes of the loads: the scale of the residual, N. Moments count over `length_m`.
  [[nodiscard]] double load_scale(double length_m) const;
  // Sum of magnitudes of the forces by which supports drive the model, N: those on supports that
  // stand away from their nodes' places in the mesh (all, with `all_supports`). `gradient` is that
  // of this state.
  [[nodiscard]] double support_scale(const State& state, const Eigen::VectorXd& gradient,
                                     double least_move_m, bool all_supports) const;

 private:
  void find_free();
  void update_dead_load();
  void list_blocks();
  [[nodiscard]] std::vector<int> term_versions() const;
  // Of every entry of the pattern, J; 0 where the term is not `wanted`.
  template <typename Wanted>
  [[nodiscard]] std::vector<double> block_energies(const State& state, Wanted wanted) const;
  [[nodiscard]] double quadratic_energy(const State& state) const;
  [[nodiscard]] Eigen::VectorXd quadratic_gradient(const State& state) const;
  [[nodiscard]] Eigen::VectorXd coupled_product(const Eigen::VectorXd& z) const;

  const Model& model_;
  Topology topology_;
  DofMap dofs_;
  EnergyTerms terms_;
  std::vector<int> versions_;  // of the terms' patterns, as listed

  double factor_ = 1;
  Eigen::VectorXd dead_load_;  // all unknowns
  Eigen::VectorXd payload_;    // all unknowns, at factor 1
  Eigen::VectorXd permanent_;
  QuadraticEnergy quadratic_;

  std::vector<int> free_;        // free index -> unknown
  std::vector<int> free_index_;  // unknown -> free index or -1
  BlockPattern pattern_;
};

}  // namespace totebench::solver
