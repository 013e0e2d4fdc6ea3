// From a solved model to what is written and drawn: fields per triangle and per point.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "totebench/solver/equilibrium.hpp"
#include "totebench/viz/dataset.hpp"
#include "totebench/viz/tessellate.hpp"

namespace totebench::viz {

// Principal values of a symmetric tensor (11, 22, 12) of the section's axes.
struct Principal {
  double high = 0;
  double low = 0;
  Eigen::Vector2d direction_high{1, 0};  // in the section's axes, unit
};
[[nodiscard]] Principal principal_of(const Eigen::Vector3d& tensor);

// The larger principal membrane force (N/m) at the interior points of each triangle.
[[nodiscard]] CornerValues largest_membrane_force(const solver::ShellFields& fields);

// Share of the cloth's strength used, from the mean membrane force of each triangle: the larger of
// N11 / warp strength and N22 / weft strength, not below 0; kNotKnown where a strength is missing.
inline constexpr double kNotKnown = -1;
[[nodiscard]] std::vector<double> cloth_utilisation(const scenes::Tote& tote,
                                                    const solver::ShellFields& fields);

// Arrays every shell gets. `displacement_from_m` is where displacements are counted from.
[[nodiscard]] SurfaceData surface_data(const solver::Model& model, const Eigen::Matrix3Xd& x_m,
                                       const Eigen::Matrix3Xd& displacement_from_m,
                                       const solver::ShellFields& fields);

// The same with what only a tote knows: thickness, region, part, utilisation.
[[nodiscard]] SurfaceData tote_data(const scenes::Tote& tote, const Eigen::Matrix3Xd& x_m,
                                    const Eigen::Matrix3Xd& displacement_from_m,
                                    const solver::ShellFields& fields);

// The frame of the panel under a stitch, in columns: along the strap, across it, out of the panel.
[[nodiscard]] Eigen::Matrix3d stitch_frame(const solver::ShellMesh& mesh,
                                           const Eigen::Matrix3Xd& x_m,
                                           const solver::Stitch& stitch);

// One point a stitch, at the strap's side; `forces_N` from stitch_forces(). The force is split in
// the panel's frame: along the strap, across it, and out of the panel (peel, positive when it
// lifts the strap off).
[[nodiscard]] PointCloudData stitch_data(const scenes::Tote& tote, const Eigen::Matrix3Xd& x_m,
                                         const Eigen::Matrix3Xd& forces_N);

}  // namespace totebench::viz
