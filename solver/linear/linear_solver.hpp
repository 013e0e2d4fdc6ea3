// Sparse Cholesky behind one small interface: CHOLMOD's supernodal factorisation where it was
// built in, Eigen's LDLT otherwise. The pattern is analysed once; values change at every step.
#pragma once

#include <Eigen/SparseCore>
#include <memory>

namespace totebench::solver {

class SparseCholesky {
 public:
  SparseCholesky() = default;
  SparseCholesky(const SparseCholesky&) = delete;
  SparseCholesky& operator=(const SparseCholesky&) = delete;
  SparseCholesky(SparseCholesky&&) = delete;
  SparseCholesky& operator=(SparseCholesky&&) = delete;
  virtual ~SparseCholesky() = default;

  // `lower` holds the lower triangle, compressed.
  virtual void analyse(const Eigen::SparseMatrix<double>& lower) = 0;
  // False when the matrix is not positive definite.
  [[nodiscard]] virtual bool factorise(const Eigen::SparseMatrix<double>& lower) = 0;
  [[nodiscard]] virtual Eigen::VectorXd solve(const Eigen::VectorXd& rhs) = 0;
};

[[nodiscard]] std::unique_ptr<SparseCholesky> make_sparse_cholesky();
// Always available; used where CHOLMOD is not, and to check it.
[[nodiscard]] std::unique_ptr<SparseCholesky> make_eigen_cholesky();

}  // namespace totebench::solver
