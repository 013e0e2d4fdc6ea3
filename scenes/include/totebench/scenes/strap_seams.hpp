// What each strap end pulls on its panel, from the stitches' forces.
#pragma once

#include <vector>

#include "totebench/scenes/findings.hpp"

namespace totebench::scenes {

// Largest principal value of a membrane force (N11, N22, N12), N/m.
[[nodiscard]] double largest_principal(const Eigen::Vector3d& n);

// Mean membrane force of each triangle (N11, N22, N12 in its section's axes), N/m: columns of a
// 3 x n matrix. Averaging over a triangle keeps the figure from following the peak that any single
// stitch makes in a finer mesh.
[[nodiscard]] Eigen::Matrix3Xd triangle_mean(const std::vector<Eigen::Matrix3d>& at_points);

// The panel's triangles under a strap end's stitches and those that share a node with them.
[[nodiscard]] std::vector<int> panel_beside(const Tote& tote, const AttachmentSite& site);

// The force on the hardest pulled of all stitches, N; 0 where there are none.
[[nodiscard]] double hardest_stitch_N(const solver::Model& model, const solver::State& state);

// Per strap end. Shear along and across the strap and peel are means over its stitching of the size
// of each stitch's component: along the strap within the panel, across it within the panel, and out
// of the panel (pulling away only; pressing on opens no seam).
[[nodiscard]] std::vector<StrapSeamFinding> strap_seam_findings(
    const Tote& tote, const solver::State& state, const Eigen::Matrix3Xd& panel_force);

}  // namespace totebench::scenes
