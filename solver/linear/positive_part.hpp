// The positive part of a small symmetric matrix: the nearest one without eigenvalues below zero
// [Higham1988].
#pragma once

#include <Eigen/Eigenvalues>

namespace totebench::solver {

// `symmetric`: n x n, n fixed when compiled.
template <typename Matrix>
[[nodiscard]] Matrix positive_part(const Matrix& symmetric) {
  const Eigen::SelfAdjointEigenSolver<Matrix> eigen(symmetric);
  return eigen.eigenvectors() * eigen.eigenvalues().cwiseMax(0).asDiagonal() *
         eigen.eigenvectors().transpose();
}

}  // namespace totebench::solver
