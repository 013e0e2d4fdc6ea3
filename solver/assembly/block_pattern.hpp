// Where the blocks of all terms go: into the gradient and into the sparse Hessian on the free
// unknowns. Sums run over the blocks in their order, whatever the number of threads.
#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <span>
#include <vector>

#include "solver/terms/energy_term.hpp"

namespace totebench::solver {

class BlockPattern {
 public:
  struct Entry {  // one term's block, and where its parts start
    const EnergyTerm* term;
    int block;
    std::span<const int> unknowns;
    std::size_t first_gradient;
    std::size_t first_hessian;  // of its lower triangle, column by column
  };

  // Throws std::invalid_argument where a block is larger than EnergyTerm::kLargestBlock.
  void list(const std::vector<const EnergyTerm*>& terms, int n_unknowns);
  [[nodiscard]] const std::vector<Entry>& entries() const { return entries_; }

  // Entries that hessian() holds whatever the blocks need, as it does its diagonal: lower triangle,
  // free unknowns.
  void keep(const Eigen::SparseMatrix<double>& lower);
  [[nodiscard]] const Eigen::SparseMatrix<double>& kept() const { return kept_; }

  // Sums of the blocks' gradients at a state, by all unknowns.
  [[nodiscard]] Eigen::VectorXd gradient(const State& state) const;
  // The same, and fills hessian(), plus `diagonal` (free unknowns) and `kept_values`, each unless
  // empty.
  Eigen::VectorXd assemble(const State& state, HessianPart part, const std::vector<int>& free_index,
                           int n_free, const Eigen::VectorXd& diagonal,
                           const Eigen::VectorXd& kept_values);
  // Pattern of hessian(), made anew if the blocks were listed anew since.
  void update_hessian(const std::vector<int>& free_index, int n_free);
  [[nodiscard]] const Eigen::SparseMatrix<double>& hessian() const { return hessian_; }
  // sum_e H_e y over the blocks of the last assemble(), by all unknowns; `y` by all unknowns.
  [[nodiscard]] Eigen::VectorXd product(const Eigen::VectorXd& y) const;
  // sum_e |H_e| |y|, likewise: nothing cancels, within blocks or between them.
  [[nodiscard]] Eigen::VectorXd magnitude(const Eigen::VectorXd& y) const;
  // Changes with the pattern of hessian().
  [[nodiscard]] int version() const { return version_; }

 private:
  template <typename Times>
  [[nodiscard]] Eigen::VectorXd hessians_times(const Eigen::VectorXd& y, const Times& times) const;
  [[nodiscard]] Eigen::VectorXd gathered(const std::vector<double>& gradients) const;

  std::vector<Entry> entries_;
  std::size_t n_hessian_ = 0;  // values of all blocks' lower triangles
  std::size_t n_gradient_ = 0;
  bool is_stale_ = false;  // hessian_ is of blocks listed before
  int version_ = 0;
  Eigen::SparseMatrix<double> kept_;
  std::vector<int> kept_place_;  // of each value of kept_: its place in hessian_

  Eigen::SparseMatrix<double> hessian_;  // lower triangle on free unknowns
  std::vector<double> local_;            // lower triangles of all block Hessians
  std::vector<int> gather_start_;        // per nonzero of hessian_: range in gather_
  std::vector<int> gather_;              // positions in local_ that sum to it
  std::vector<int> gradient_gather_start_;
  std::vector<int> gradient_gather_;
};

}  // namespace totebench::solver
