// Triangles on all faces of a pattern, with the same points on both sides of every shared edge.
#pragma once

#include <array>
#include <vector>

#include "scenes/patterns/pattern.hpp"

namespace totebench::scenes {

struct PatternMesh {
  struct FaceTriangle {
    int face = 0;                         // into Pattern::faces
    std::array<int, 3> point{};           // into points, counter-clockwise in (u, v)
    std::array<Eigen::Vector2d, 3> uv{};  // of the corners, in the face's coordinates
  };
  struct Edge {
    int a = 0;  // into points
    int b = 0;
    int label = 0;
  };
  std::vector<Eigen::Vector3d> points;
  std::vector<FaceTriangle> triangles;
  std::vector<Edge> labelled_edges;
  double smallest_angle_deg = 180;
};

// Meshes every face at edges of about `size_m`. Throws std::invalid_argument where lines meet at
// too small an angle, and std::logic_error when the faces cannot be brought to agree on their
// shared points.
[[nodiscard]] PatternMesh mesh_pattern(const Pattern& pattern, double size_m);

}  // namespace totebench::scenes
