// Small free vibrations about an equilibrium.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "totebench/solver/equilibrium.hpp"

namespace totebench::solver {

struct Mode {
  double frequency_Hz = 0;
  Eigen::Matrix3Xd shape;  // 3 x n_nodes, largest displacement 1
  // Share of the whole mass that moves in this mode along x, y and z (effective modal mass).
  Eigen::Vector3d mass_share = Eigen::Vector3d::Zero();
};

// The lowest `count` modes of a stable equilibrium, by subspace iteration (Bathe, Finite Element
// Procedures, chapter 11) on the exact tangent stiffness; `mass` from nodal_masses(). Throws
// std::invalid_argument where the tangent is not positive definite.
[[nodiscard]] std::vector<Mode> lowest_modes(const Model& model, const State& state,
                                             double load_factor, const Eigen::VectorXd& mass,
                                             int count);

}  // namespace totebench::solver
