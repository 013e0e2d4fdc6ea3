// Good triangles inside plane outlines: the one place that talks to the mesh generator
// (CGAL Mesh_2: constrained Delaunay refinement; the inner points are smoothed afterwards).
//
// Lengths in metres, but nothing depends on it. Same input, same output.
#pragma once

#include <Eigen/Core>
#include <array>
#include <functional>
#include <vector>

namespace totebench::scenes {

// A straight line the triangles must follow, between two of PlanarRegion::points.
struct PlanarSegment {
  int a = 0;
  int b = 0;
};

// What to fill: every part of the plane that the segments close off from the outside, less holes.
// Segments may touch, cross and lie on one another; they are cut at all meeting points first.
struct PlanarRegion {
  std::vector<Eigen::Vector2d> points;
  std::vector<PlanarSegment> segments;       // outlines and inner lines, any order and direction
  std::vector<Eigen::Vector2d> hole_points;  // one point inside each hole
};

struct MeshingOptions {
  double size_m = 0;  // edge length aimed at
  // Edge length aimed at near a point, where it differs from size_m; may be empty.
  std::function<double(const Eigen::Vector2d&)> local_size_m;
  int smoothing_passes = 12;
};

struct PlanarMesh {
  // A piece of an input segment: from point `a` to point `b`, at shares 0 <= from < to <= 1 of it.
  struct SegmentPiece {
    int segment = 0;
    int a = 0;
    int b = 0;
    double from = 0;
    double to = 0;
  };
  std::vector<Eigen::Vector2d> points;
  std::vector<std::array<int, 3>> triangles;  // counter-clockwise
  std::vector<SegmentPiece> pieces;           // sorted by segment, then along it

  // Smallest angle of all triangles, degrees.
  [[nodiscard]] double smallest_angle_deg() const;
};

// Throws std::invalid_argument when there is nothing to fill (outline not closed, zero size).
[[nodiscard]] PlanarMesh mesh_region(const PlanarRegion& region, const MeshingOptions& options);

// Chords of a circular arc, both ends included, from angle `from` to `to` (rad, either direction),
// enough of them that the area between arc and chords is below `area_share` of the sector
// (1 - sin(2u)/(2u) = 2/3 u^2 with u half the angle of a chord).
[[nodiscard]] std::vector<Eigen::Vector2d> arc_points(const Eigen::Vector2d& centre, double radius,
                                                      double from, double to,
                                                      double area_share = 2e-3);

}  // namespace totebench::scenes
