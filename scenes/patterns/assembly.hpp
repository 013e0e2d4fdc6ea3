// Pattern pieces brought from flat into the shape of a bag, from which the solver starts.
//
// Sewn together the pieces are one disc whose border is the opening. Laid into a circle with every
// point in the middle of its neighbours no triangle overlaps another [Tutte1963]; the circle is
// bent to a bowl, and from there every triangle takes on its own flat shape as nearly as its
// neighbours let it: the minimum of
//   1/2 sum_t sum_e w_e |x_e - R_t u_e|^2   w = cot/2, R_t the best rotation [SorkineAlexa2007]
//   + k/2 x' Q x                            bending within a piece, none at seams [Bergou2006]
//   - p V                                   air that holds it open, let out
// by turns in R (exact for each triangle) and x (one linear system). This is no model of cloth: it
// only says where to begin.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "scenes/builder/mesh/pattern_mesh.hpp"

namespace totebench::scenes {

// Thickness of the plate whose bending rigidity over stretching stiffness (t^2/12) holds pieces
// smooth, as a share of the root of the area.
inline constexpr double kAssemblyThickness = 0.02;
// Air at first, as a breath, and as good as none: pressure times the root of the area over
// stretching stiffness. The breath leaves two equal faces some 3 % of their width apart; without it
// the pieces of a box come to stand as a box, its corners square to a tenth of a degree.
inline constexpr double kFirstAir = 0.3;
inline constexpr double kBreath = 1e-3;
inline constexpr double kNoAir = 1e-6;
// A bag that holds less than this without air, of the root of its area cubed, lies flat: it keeps
// its breath, since faces that lie on each other could not be told apart.
inline constexpr double kFlatVolume = 0.02;

// Positions for `mesh.points` (whose own are not read), opening upwards and level, its middle over
// the origin. `front`, one a face, says which are turned to +y. Throws std::invalid_argument when
// the triangles are no disc.
[[nodiscard]] std::vector<Eigen::Vector3d> assembled(const PatternMesh& mesh,
                                                     const std::vector<char>& front);

}  // namespace totebench::scenes
