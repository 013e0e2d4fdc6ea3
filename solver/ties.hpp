// Renewing the partners of normal ties while a sheet slides in its pocket.
#pragma once

#include "solver/equilibrium.hpp"

namespace totebench {

// Moves every tie's master to the point of its sheet (Model::tie_sheets) nearest to the slave in
// this state, found by walking from triangle to triangle from where it was: same state, same
// answer. At the border of the sheet the master stops. Ties without a sheet keep their master.
// Returns the largest distance a master moved along the surface, m.
double renew_ties(Model& model, const State& state);

// The point of a sheet (triangle numbers) nearest to `target`, from the triangle whose middle is
// nearest to it on.
[[nodiscard]] SurfacePoint nearest_point(const ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                                         const std::vector<int>& sheet,
                                         const Eigen::Vector3d& target);

}  // namespace totebench
