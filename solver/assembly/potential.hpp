// Total potential energy of a model at one load factor: the sum of its terms less the work of the
// dead loads; its gradient; and its Hessian on the free unknowns, assembled in the same order for
// any number of threads.
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <memory>
#include <utility>
#include <vector>

#include "solver/mesh/topology.hpp"
#include "solver/terms/energy_term.hpp"
#include "solver/terms/fill_term.hpp"
#include "solver/terms/floor_term.hpp"

namespace totebench::solver {

// Moves a state along a step in all unknowns: nodes by addition; each director is carried along
// with its edge without twisting, then turned about it.
[[nodiscard]] State retract(const Topology& topology, const State& state,
                            const Eigen::VectorXd& step);

// Extra energy 1/2 (y - centre)' Q (y - centre) in the coordinates y of coordinates(): inertia and
// damping over one time step. Q is a diagonal, plus a matrix with the pattern of hessian().
struct QuadraticEnergy {
  Eigen::VectorXd diagonal;        // all unknowns
  Eigen::VectorXd centre;          // all unknowns, of the diagonal
  Eigen::VectorXd coupled;         // the matrix's values; empty = no matrix
  Eigen::VectorXd coupled_centre;  // free unknowns, of the matrix
};

// Coordinates of the nodes, then turns of the directors: all unknowns in their order.
[[nodiscard]] Eigen::VectorXd coordinates(const State& state);

class Potential {
 public:
  explicit Potential(const Model& model);

  void set_load_factor(double factor);

  // Brings what depends on the whole state (the level of the contents) up to date. Call after the
  // state has changed and before the functions below.
  void prepare(const State& state);

  [[nodiscard]] double energy(const State& state) const;  // J
  // Gradient by all unknowns: minus the net force on each, supports not counted, N (and N m).
  [[nodiscard]] Eigen::VectorXd gradient(const State& state) const;
  // Fills hessian() and returns the gradient.
  Eigen::VectorXd assemble(const State& state, Curving curving);
  [[nodiscard]] const Eigen::SparseMatrix<double>& hessian() const { return hessian_; }

  // Stresses to expect after `step`, for the geometric stiffness of the assemble() calls to come.
  void predict(const State& state, const Eigen::VectorXd& step);
  void forget_prediction();

  // Low-rank part of the Hessian from the moving level: coupling() * v v^T on free unknowns.
  [[nodiscard]] double level_coupling(const State& state, Eigen::VectorXd& v_free) const;

  [[nodiscard]] const Model& model() const { return model_; }
  [[nodiscard]] const Topology& topology() const { return topology_; }
  [[nodiscard]] FillTerm* fill() { return fill_; }
  [[nodiscard]] FloorTerm* floor() { return floor_; }

  [[nodiscard]] int n_free() const { return static_cast<int>(free_.size()); }
  [[nodiscard]] Eigen::VectorXd restrict_to_free(const Eigen::VectorXd& all) const;
  [[nodiscard]] Eigen::VectorXd expand(const Eigen::VectorXd& free_values) const;

  // Dead vertical forces of a heap, renewed by the equilibrium search.
  void set_heap_forces(const Eigen::Matrix3Xd& force);

  // An extra quadratic energy; none to begin with.
  void set_quadratic(QuadraticEnergy quadratic) { quadratic_ = std::move(quadratic); }

  // The loads as applied at this state, by all unknowns, N (and N m); and their total.
  [[nodiscard]] Eigen::VectorXd applied_loads(const State& state) const;
  [[nodiscard]] Eigen::Vector3d applied_force(const State& state) const;
  // Sum of magnitudes of the loads: the scale of the residual, N. Moments count over `length_m`.
  [[nodiscard]] double load_scale(double length_m) const;

 private:
  struct Entry {  // one term's block, and where its lower triangle starts in local_
    const EnergyTerm* term;
    int block;
    std::size_t first;
    std::span<const int> unknowns;
  };
  void build_pattern();
  void update_dead_load();
  [[nodiscard]] double quadratic_energy(const State& state) const;
  [[nodiscard]] Eigen::VectorXd quadratic_gradient(const State& state) const;
  [[nodiscard]] Eigen::VectorXd coupled_product(const Eigen::VectorXd& z) const;

  const Model& model_;
  Topology topology_;
  std::vector<std::unique_ptr<EnergyTerm>> terms_;
  FillTerm* fill_ = nullptr;
  FloorTerm* floor_ = nullptr;
  std::vector<Entry> entries_;

  double factor_ = 1;
  Eigen::VectorXd dead_load_;  // all unknowns
  Eigen::VectorXd payload_;    // all unknowns, at factor 1
  Eigen::VectorXd permanent_;
  Eigen::VectorXd heap_;
  QuadraticEnergy quadratic_;

  std::vector<int> free_;                // free index -> unknown
  std::vector<int> free_index_;          // unknown -> free index or -1
  Eigen::SparseMatrix<double> hessian_;  // lower triangle on free unknowns
  std::vector<double> local_;            // lower triangles of all block Hessians
  std::vector<int> gather_start_;        // per nonzero of hessian_: range in gather_
  std::vector<int> gather_;              // positions in local_ that sum to it
  std::vector<double> gradients_;        // block gradients
  std::vector<std::size_t> gradient_first_;
  std::vector<int> gradient_gather_start_;
  std::vector<int> gradient_gather_;
};

}  // namespace totebench::solver
