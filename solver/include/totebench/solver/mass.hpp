// What a loaded model weighs, lumped at its nodes.
#pragma once

#include <Eigen/Core>

#include "totebench/solver/equilibrium.hpp"

namespace totebench::solver {

// Mass of each node, kg: the sheets' own by diagonal scaling of the consistent matrix
// ([HintonRockZienkiewicz1976]: corners 3/57 of a six-node triangle, midsides 16/57), what else the
// permanent forces weigh, and that of the contents, which at `load_factor` 1 rest on the nodes as
// their vertical forces do in `state` and move with them.
[[nodiscard]] Eigen::VectorXd nodal_masses(const Model& model, const State& state);

}  // namespace totebench::solver
