// Small triangles where strap seams are pulled hardest.
//
// A stitched strap hands its pull over within a length of sqrt(EA/k) of the corners of its
// stitching, a few millimetres (EA: of a strip of cloth, k: stiffness of the stitches a length), so
// triangles that are fine enough for a whole bag are far too large there. The force on the hardest
// pulled stitch then comes out too high by half or more. With the sizes below it is within 5 % of
// that on a mesh of half the size (scenes/examples/demo.json: 2.79 N and 2.70 N).
// Where a seam ends at the edge of a stiff base it pulls on it at one place, and the base bends
// there within some centimetres.
#pragma once

#include "scenes/builder/tote/tote_mesh.hpp"

namespace totebench::scenes {

// Triangle sizes as shares of the mesh's size: at the corner away from which a strap leans, in the
// row nearest to the opening (both of that row's ends where it hardly leans), and at the other
// corners of its stitching; and at the ends of seams on a base's outline. Away from a corner the
// size wanted grows by kSeamGrowth times the distance.
inline constexpr double kLeadCornerShare = 1.0 / 13;
inline constexpr double kOtherCornerShare = 4.0 / 13;
inline constexpr double kSeamEndShare = 1.0 / 3;
inline constexpr double kSeamGrowth = 1.0;
inline constexpr double kSeamEndGrowth = 1.0 / 2;  // away from a seam's end

// `fine` with smaller triangles around the corners of every strap's stitching, in strap and panel,
// and where the base is stiff around the seam ends on its outline; elsewhere edges stay as they are
// (about `size_m`). ShellMesh::child_of of the result refers to the mesh that `fine` came from, to
// `fine` itself where that came from none.
[[nodiscard]] ToteMesh refine_seams(const ToteMesh& fine, double size_m, bool stiff_base);

}  // namespace totebench::scenes
