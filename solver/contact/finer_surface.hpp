// How a shape moves to a finer mesh without passing through itself.
#pragma once

#include <Eigen/Core>

#include "totebench/solver/model.hpp"

namespace totebench::solver {

// Positions (3 x n_nodes of `fine`, m) of a shape x of `coarse`: on its flat parts, which pass
// through nothing, and from there towards `curved` as far as nothing is in the way. Bodies stay.
[[nodiscard]] Eigen::Matrix3Xd onto_finer_surface(const Model& coarse, const Eigen::Matrix3Xd& x,
                                                  const Model& fine, const Eigen::Matrix3Xd& curved,
                                                  const std::vector<BodyPose>& bodies);

}  // namespace totebench::solver
