// Smaller triangles where they are wanted, the rest of the mesh left as it is.
#pragma once

#include <vector>

#include "totebench/solver/mesh.hpp"

namespace totebench::solver {

// Splits flagged triangles (`too_large`: one entry a triangle) in four, and neighbours in two,
// three or four so that the mesh stays conforming: a triangle with a split edge has its longest
// edge split too, which keeps repeated refinement from sharpening angles without end
// [Rivara1984]. Of equally long edges the higher counts as longer, then the one further out, then
// the one at larger y, so that a mesh that mirrors about the plane x = 0 keeps doing so.
// Sections, regions, labels, warp and shapes are inherited as by split(); nodes keep their indices.
// ShellMesh::child_of refers to `mesh`.
[[nodiscard]] ShellMesh refine(const ShellMesh& mesh, const std::vector<char>& too_large);

// Lineage over two generations: `young` refers to triangles that `old` describes.
[[nodiscard]] std::vector<ChildOf> compose(const std::vector<ChildOf>& old,
                                           const std::vector<ChildOf>& young);

// Follows material points of a mesh into one made from it.
class Descent {
 public:
  explicit Descent(const ShellMesh& fine);
  [[nodiscard]] SurfacePoint operator()(const SurfacePoint& point) const;

 private:
  const std::vector<ChildOf>& child_of_;
  std::vector<std::vector<int>> children_;  // per parent triangle
};

}  // namespace totebench::solver
