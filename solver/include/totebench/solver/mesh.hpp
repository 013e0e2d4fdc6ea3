// Mesh of second-order triangles for thin shells.
//
// A node is a corner or a mid-edge point. Triangle node order:
//
//        2
//       / \            edge k runs from corner k to corner (k+1)%3, counter-clockwise,
//      5   4           and its mid-edge node is node 3+k.
//     /     \          .
//    0 - 3 - 1
//
// Every triangle carries its own stress-free shape (`rest`, metres, any placement in space), so a
// mesh may start somewhere else (`position`): a flat panel placed as the wall of a box, a straight
// strap bent into a handle.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

namespace totebench::solver {

using Matrix36d = Eigen::Matrix<double, 3, 6>;

struct Triangle {
  std::array<int, 6> node{};  // indices into ShellMesh::position
  int section = 0;            // index into Model::sections
  int region = 0;             // label given by whoever built the mesh
};

// A corner-to-corner edge that carries a label (a seam, a border, a support line).
struct LabelledEdge {
  int a = 0;  // corner node indices
  int b = 0;
  int label = 0;
};

// Where a triangle of a finer mesh lies in the mesh it came from.
struct ChildOf {
  int parent = 0;
  Eigen::Matrix<double, 2, 3> corner;  // (xi, eta) of its corners in the parent
};

struct ShellMesh {
  Eigen::Matrix3Xd position;  // 3 x n_nodes, m: where each node starts
  std::vector<Triangle> triangles;
  std::vector<Matrix36d> rest;        // per triangle, m: stress-free node positions
  std::vector<Eigen::Vector3d> warp;  // per triangle: direction 1 of its section, in rest space
  std::vector<LabelledEdge> labelled_edges;
  std::vector<ChildOf> child_of;  // per triangle, of a mesh made by split() or refine(); else empty

  [[nodiscard]] int n_nodes() const { return static_cast<int>(position.cols()); }
  [[nodiscard]] int n_triangles() const { return static_cast<int>(triangles.size()); }
};

// A material point of the mesh: xi, eta are area coordinates of corners 1 and 2.
struct SurfacePoint {
  int triangle = 0;
  double xi = 0.0;
  double eta = 0.0;
};

// Second-order shape functions, and their derivatives by xi and eta, at (xi, eta).
[[nodiscard]] Eigen::Matrix<double, 6, 1> shape(double xi, double eta);
[[nodiscard]] Eigen::Matrix<double, 6, 2> shape_gradient(double xi, double eta);

// Splits every triangle in four. Children of triangle i are 4i .. 4i+3; labels, sections, regions
// and warp are inherited; rest shapes and positions are evaluated on the parent's quadratic shape.
// Node indices of the parent mesh stay valid in the child mesh (new nodes are appended).
[[nodiscard]] ShellMesh split(const ShellMesh& mesh);

// The child triangle and its area coordinates for a point of the parent mesh.
[[nodiscard]] SurfacePoint split(const SurfacePoint& point);

// Completes a corner-only mesh: `corners` per triangle (n x 3) over `position` (3 x n_corners) gets
// straight-edged mid nodes; rest = position. Used by builders and tests.
[[nodiscard]] ShellMesh second_order_mesh(const Eigen::Matrix3Xd& position,
                                          const std::vector<std::array<int, 3>>& corners);

}  // namespace totebench::solver
