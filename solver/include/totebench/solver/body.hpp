// Rigid bodies of plain shapes, solid and even throughout, their middle at their own point 0.
#pragma once

#include "totebench/solver/model.hpp"

namespace totebench::solver {

// Sizes above zero, m.
[[nodiscard]] Body box_body(const Eigen::Vector3d& size_m, double mass_kg);
// Upright: its axis is z. As a prism of `sides` >= 3 with the cylinder's volume.
[[nodiscard]] Body cylinder_body(double diameter_m, double height_m, double mass_kg,
                                 int sides = 24);
// As an icosahedron with each face split in 16, of the sphere's volume.
[[nodiscard]] Body sphere_body(double diameter_m, double mass_kg);

// Volume under the skin, m3.
[[nodiscard]] double volume_of(const BodySkin& skin);

}  // namespace totebench::solver
