// Which layers lie where on a tote, as one section per triangle.
//
// A triangle takes its region's stack ("upper", "lower", "base"; a region not listed takes its
// neighbour's) and, by the share of its rest area they cover (16 samples), these sliding extras:
//   seam allowance  the stack's outer group (first ply and all fused or quilted to it) once more,
//                   within the allowance of a sewn edge or line. It hangs on one line of stitching,
//                   so it adds bending stiffness and mass and takes no share of the panel's
//                   tension.
//   hem             the outer group of "upper" turned down, and the plies of layers["hem"], within
//                   the hem's depth of the opening; held at fold and stitching, so tension as well.
//   foot patch      a square of the base's outer group at each foot; tension as well.
//   backing patch   the outer group of the wall behind a strap's end, kPatchMargin_m beyond it.
//   stitched base   the base sheet within its outline; tension as well.
#pragma once

#include <memory>
#include <vector>

#include "scenes/builder/tote/tote_mesh.hpp"
#include "totebench/materials/library.hpp"
#include "totebench/materials/stack.hpp"

namespace totebench::scenes {

inline constexpr double kPatchMargin_m = 0.010;

// One layer of a scene as a ply of `material`.
[[nodiscard]] materials::Ply ply_of(const Layer& layer, const materials::Material* material);

// Plies of a scene's layer list. Throws std::invalid_argument naming an unknown material.
[[nodiscard]] std::vector<materials::Ply> plies_of(const std::vector<Layer>& layers,
                                                   const materials::MaterialLibrary& library);
// The first ply and all that are fused or quilted to it.
[[nodiscard]] std::vector<materials::Ply> outer_group(const std::vector<materials::Ply>& plies);

[[nodiscard]] solver::Section to_solver_section(const materials::StackSection& stack);

// The layers of a region of the scene; walls and base stand in for one another when one is missing.
// Throws std::invalid_argument when the scene has no layers at all.
[[nodiscard]] const std::vector<Layer>& layers_of(const Scene& scene, int region);

// Finished strap.
[[nodiscard]] materials::StrapSection strap_section_of(const Scene& scene,
                                                       const materials::MaterialLibrary& library);

struct ToteSections {
  std::vector<solver::Section> sections;  // no two alike
  std::vector<int> of_triangle;
  std::vector<double> thickness_m;  // per triangle
  std::vector<double> strength_warp_N_per_m;
  std::vector<double> strength_weft_N_per_m;
  std::vector<double> sheet_share;                    // of a stitched-in base sheet, per triangle
  Eigen::Matrix3d sheet_A = Eigen::Matrix3d::Zero();  // its stretching stiffness, N/m,
  Eigen::Matrix3d sheet_D = Eigen::Matrix3d::Zero();  // and bending stiffness, N m
};

[[nodiscard]] ToteSections tote_sections(const Scene& scene,
                                         const materials::MaterialLibrary& library,
                                         const Pattern& pattern, const std::vector<Ribbon>& ribbons,
                                         const ToteMesh& tote);

// How panels meet at each labelled edge.
//   seams and a sewn base outline: hinges about the placed angle, as sewn and turned,
//       stiffness = mean(D11, D22) of the allowance's plies / (2 allowance): a strip of the
//       allowance's length on each side bends;
//   crosswise and lengthwise seams: hinges about the flat, both allowances folded to the panel:
//       stiffness = mean(D11, D22) of the wall / allowance;
//   folds of one cloth: continuous, except around a stitched-in sheet, where the wall's cloth
//       spans the clearance to the sheet's edge: hinge, wall's D / (2 clearance or allowance).
// SeamSpec::hinge_stiffness_N replaces the seams' value.
[[nodiscard]] std::vector<solver::EdgeRule> edge_rules(const Scene& scene,
                                                       const materials::MaterialLibrary& library);

// Feet in base coordinates (u, v).
[[nodiscard]] std::vector<Eigen::Vector2d> foot_places(const Scene& scene);

}  // namespace totebench::scenes
