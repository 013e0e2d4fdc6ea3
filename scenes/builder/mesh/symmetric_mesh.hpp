// Triangles that mirror where the outline does: a bag with equal halves gets equal meshes on them,
// so that its left and right strap seams come out the same.
#pragma once

#include "scenes/builder/mesh/mesher.hpp"

namespace totebench::scenes {

// As mesh_region. A region that mirrors about x = 0 (about y = 0) is meshed on its positive half
// and mirrored; one that lies mostly on the negative side is meshed as its mirror image, so that
// the two halves of something cut in two match. Holes are not supported.
[[nodiscard]] PlanarMesh mesh_symmetric_region(const PlanarRegion& region,
                                               const MeshingOptions& options);

}  // namespace totebench::scenes
