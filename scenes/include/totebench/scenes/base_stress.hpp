// Stress of a tote's base sheet.
#pragma once

#include "totebench/scenes/build.hpp"

namespace totebench::scenes {

// Largest principal stress at the faces of the base sheet, Pa; 0 without one. By bending alone, or
// with what the sheet carries in its plane added face by face.
//   loose in a pocket   its own moments and forces:  6 M / t^2, N / t
//   stitched in         it shares the section's curvature k and strain E:
//                       6 D_sheet k / t^2, A_sheet E / t
// Where a seam ends at the sheet's edge its pull is a point load, under which the stress of a thin
// plate has no bound as the mesh is refined; a seam is about kSeamWidth_m wide. The stress is
// therefore the mean over a disc of that diameter, whatever the mesh, of the covered part of the
// triangles whose centres lie in it (a triangle that is larger stands for itself).
inline constexpr double kSeamWidth_m = 0.025;  // two allowances of 1/2 in, pressed open
enum class SheetStress { kBending, kBendingAndStretching };
[[nodiscard]] double base_sheet_stress(const Scene& scene, const Tote& tote,
                                       const solver::ShellFields& fields, SheetStress of);

}  // namespace totebench::scenes
