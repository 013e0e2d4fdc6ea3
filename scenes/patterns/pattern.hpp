// The sewn shape of a tote as flat faces that share corners and edges, before any triangle.
//
// A face has its own rest coordinates (u, v) in metres and a placement into space. z is up, the
// opening is at the top, the front looks along +y; "left" is the left hand of someone who faces
// the front, which is +x. On walls u runs along the opening (centred on the face) and v upwards
// from the bottom (0) to the opening (height). On the base u = x and v = -y. Corners run
// counter-clockwise in (u, v), and the normal du x dv points out of the bag.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// A straight border between two corners. Faces that list the same edge meet there.
struct PatternEdge {
  int a = 0;  // corner indices
  int b = 0;
  int label = 0;      // EdgeLabel
  bool sewn = false;  // has seam allowances
};

// A straight line inside a face that the triangles follow.
struct PatternLine {
  Eigen::Vector2d a;
  Eigen::Vector2d b;
  int label = 0;  // EdgeLabel, 0 = only a border of something
  bool sewn = false;
};

struct PatternFace {
  std::string part;  // "front", "side left", ...; faces cut as one cloth may share a name
  bool wall = true;  // false: the base
  std::vector<int> corners;
  std::vector<Eigen::Vector2d> outline;  // (u, v) of the corners
  std::vector<int> edges;                // edge i runs from corner i to corner i + 1
  std::vector<PatternLine> lines;
  double warp_angle_rad = 0;  // from u towards v
  std::function<Eigen::Vector3d(const Eigen::Vector2d&)> place;
  bool lower = false;  // a wall all of the lower section's layers
};

struct Pattern {
  std::vector<Eigen::Vector3d> corners;  // start positions
  std::vector<PatternEdge> edges;
  std::vector<PatternFace> faces;
  double height_m = 0;
  // Height of the strip of the walls that carries the contents of a bag without a base; else 0.
  double base_strip_m = 0;
  double crosswise_m = 0;       // height of the crosswise seam on the walls; 0 = none
  bool curved_opening = false;  // not everywhere at the height

  // How far a place on a wall is from the opening; infinite where the wall has none.
  [[nodiscard]] double below_opening(const PatternFace& face, const Eigen::Vector2d& uv) const;
};

[[nodiscard]] double distance_to_segment(const Eigen::Vector2d& p, const Eigen::Vector2d& a,
                                         const Eigen::Vector2d& b);

// A bag without a base rests its contents on the lowest part of its faces: half the depth the
// scene gives, or this share of the height.
inline constexpr double kBaseStripShare = 0.08;
// With rounded corners the strip is at least this share of their radius, or its border would meet
// the arc at so small an angle that no good triangle fits.
inline constexpr double kBaseStripShareOfRadius = 0.12;
// Lines nearer to each other than this share of the coarsest mesh's size become one, since slivers
// between them cost much and tell nothing: a lengthwise seam moves onto the edge of a strap's end
// or a corner of the outline, the crosswise seam onto the lower end of the straps. The border of
// the hem is then not followed by triangles (its layers still count by the area they cover).
inline constexpr double kSameLineShare = 0.12;
// How far a bag that lies flat is opened at the start, in the middle of the opening, as a share of
// the smaller of width and height. The faces bulge by
//   amplitude (1 - (u / half width at v)^2) sin(pi v / (2 height)),
// front towards +y, back towards -y, zero at the seams; strains stay of the order of its square.
inline constexpr double kOpeningBulge = 0.03;
// A shoulder strap straddles the side seams, where faces that lie on each other would fold it in
// two: the opening then starts as an ellipse of this ratio of axes, flattening to the bottom.
inline constexpr double kShoulderOpeningRatio = 0.32;

// `size_m` is the edge length of the coarsest mesh. Throws std::invalid_argument when the sizes
// cannot be a bag.
[[nodiscard]] Pattern make_pattern(const Scene& scene, double size_m);

}  // namespace totebench::scenes
