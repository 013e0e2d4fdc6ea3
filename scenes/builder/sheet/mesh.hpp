// Unstructured second-order mesh of a coupon, with its sides labelled and its named points found.
#pragma once

#include <Eigen/Core>
#include <map>
#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"
#include "totebench/solver/mesh.hpp"

namespace totebench::scenes {

struct SheetMesh {
  solver::ShellMesh shell;
  std::map<std::string, int> side_labels;  // side name -> LabelledEdge::label
  int crease_label = 0;  // of the inner edges of a curved rest shape; 0 = the sheet is flat
  double facing = 1;     // -1 when the triangles face against the shape's own normal
  std::vector<Eigen::Vector3d> named;  // the points asked for, and the node each became
  std::vector<int> named_node;

  // Node of one of the points given to mesh_sheet.
  [[nodiscard]] int node_at(const Eigen::Vector3d& point) const;
};

// Triangles of a mesh file once each is split in four until the mean edge is no longer than
// sqrt(2) `size_m`.
[[nodiscard]] double triangles_when_split(const solver::ShellMesh& file, double size_m);

// `named` points of a charted shape become nodes exactly; of a mesh file, the nearest node is
// taken. Edge lengths are about `size_m`; a mesh file is split in four until it is that fine.
// Mid-edge nodes of curved shapes and of curved borders lie on the true surface.
// Throws std::invalid_argument with a sentence a person can act on.
[[nodiscard]] SheetMesh mesh_sheet(const SheetGeometry& geometry, double size_m,
                                   double warp_angle_rad, const std::vector<Eigen::Vector3d>& named,
                                   bool face_down);

}  // namespace totebench::scenes
