// Curved second-order triangles as flat facets and lines that can be drawn.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "totebench/solver/mesh.hpp"
#include "totebench/viz/picture.hpp"

namespace totebench::viz {

using CornerValues = std::vector<std::array<double, 3>>;  // per triangle of the mesh

// Values near the three corners (the interior points of ShellFields), averaged by rest area at each
// corner over the triangles of one `group` that meet there: smooth within a panel, free to jump at
// its seams.
[[nodiscard]] CornerValues smooth_to_corners(const solver::ShellMesh& mesh, const CornerValues& raw,
                                             const std::vector<int>& group);

// The triangles listed in `which`, each cut in 16 facets on its curved shape at node positions
// `x`. Facets share points within one group only. `value` (may be null) keeps what it is at the
// corners and bends between them so that few creases show, within one group.
[[nodiscard]] DrawnSurface tessellate(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                                      const std::vector<int>& which, const std::vector<int>& group,
                                      const CornerValues* value = nullptr);

// Curved edges of the triangles in `which` at which a panel ends: free edges, and edges between
// triangles of different group.
[[nodiscard]] std::vector<Eigen::Matrix3Xd> panel_outlines(const solver::ShellMesh& mesh,
                                                           const Eigen::Matrix3Xd& x,
                                                           const std::vector<int>& which,
                                                           const std::vector<int>& group);

// Where the plane {p : normal . p = offset} cuts the facets, joined to the longest polylines.
[[nodiscard]] std::vector<Eigen::Matrix3Xd> cut(const DrawnSurface& surface,
                                                const Eigen::Vector3d& normal, double offset_m);

// The same line as dashes.
[[nodiscard]] std::vector<Eigen::Matrix3Xd> dashed(const std::vector<Eigen::Matrix3Xd>& polylines,
                                                   double dash_m, double gap_m);

}  // namespace totebench::viz
