#include "scenes/patterns/pattern.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>

#include "scenes/builder/mesh/mesher.hpp"
#include "scenes/builder/tote/flat_placement.hpp"
#include "scenes/patterns/piece_pattern.hpp"
#include "totebench/scenes/build.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

struct Side {
  int label = 0;
  bool sewn = false;
};

// Adds faces, and finds the corners and edges they share by where they are placed.
class PatternMaker {
 public:
  PatternMaker(const Scene& scene, double size_m)
      : scene_(scene), bag_(scene.bag), near_m_(kSameLineShare * size_m) {
    pattern_.height_m = bag_.height_m;
    plan_lines_across();
  }

  PatternFace& add(const std::string& part, bool wall, const std::vector<Vector2d>& outline,
                   const std::vector<Side>& sides,
                   std::function<Vector3d(const Vector2d&)> placement) {
    PatternFace face;
    face.part = part;
    face.wall = wall;
    face.outline = outline;
    // Walls: warp against the vertical (v). Base: against the width (u).
    face.warp_angle_rad = wall ? M_PI / 2 + bag_.warp_angle_rad : bag_.base_warp_angle_rad;
    face.place = std::move(placement);
    for (const Vector2d& uv : outline) face.corners.push_back(corner(face.place(uv)));
    for (std::size_t i = 0; i < outline.size(); ++i) {
      face.edges.push_back(edge(face.corners[i], face.corners[(i + 1) % outline.size()], sides[i]));
    }
    pattern_.faces.push_back(std::move(face));
    return pattern_.faces.back();
  }

  // Lines that run across a whole wall: hem, crosswise seam; lengthwise seams on the large faces.
  void add_wall_lines(PatternFace& face, bool lengthwise) const {
    double low = 1e300;
    double high = -1e300;
    for (const Vector2d& p : face.outline) {
      low = std::min(low, p.x());
      high = std::max(high, p.x());
    }
    const double top = bag_.height_m;
    if (hem_line_) face.lines.push_back({{low, top - bag_.hem_m}, {high, top - bag_.hem_m}});
    const double across = pattern_.crosswise_m;
    if (across > 0) face.lines.push_back({{low, across}, {high, across}, kEdgeCrosswise, true});
    for (int i = 1; lengthwise && i <= bag_.lengthwise_seams; ++i) {
      double u = low + (high - low) * i / (bag_.lengthwise_seams + 1);
      u = moved_onto(u, strap_edges(face));
      face.lines.push_back({{u, 0}, {u, top}, kEdgeLengthwise, true});
    }
  }

  Pattern take() { return std::move(pattern_); }
  Pattern& pattern() { return pattern_; }

 private:
  int corner(const Vector3d& x) {
    const double near = 1e-9 * (bag_.width_m + bag_.height_m);
    for (std::size_t i = 0; i < pattern_.corners.size(); ++i) {
      if ((pattern_.corners[i] - x).norm() < near) return static_cast<int>(i);
    }
    pattern_.corners.push_back(x);
    return static_cast<int>(pattern_.corners.size()) - 1;
  }

  int edge(int a, int b, const Side& side) {
    const std::pair<int, int> ends = std::minmax(a, b);
    // The two rims of an opening may run between the same corners, yet never meet.
    if (side.label != kEdgeOpening) {
      const auto found = edge_of_.find(ends);
      if (found != edge_of_.end()) return found->second;
    }
    const int index = static_cast<int>(pattern_.edges.size());
    if (side.label != kEdgeOpening) edge_of_[ends] = index;
    pattern_.edges.push_back({ends.first, ends.second, side.label, side.sewn});
    return index;
  }

  void plan_lines_across() {
    const double top = bag_.height_m;
    const double strap_end = scene_.straps.empty() ? top : top - scene_.straps.front().overlap_m;
    if (bag_.upper_height_m > 0) {
      pattern_.crosswise_m = moved_onto(top - bag_.upper_height_m, {strap_end});
    }
    const double hem = top - bag_.hem_m;
    hem_line_ = bag_.hem_m > near_m_ && std::abs(hem - strap_end) > near_m_ &&
                (pattern_.crosswise_m == 0 || std::abs(hem - pattern_.crosswise_m) > near_m_);
  }

  // Upright lines of a face that are there anyhow: edges of strap ends, corners of the outline.
  [[nodiscard]] std::vector<double> strap_edges(const PatternFace& face) const {
    std::vector<double> edges;
    for (const Vector2d& p : face.outline) edges.push_back(p.x());
    if (scene_.straps.empty()) return edges;
    const Strap& strap = scene_.straps.front();
    const double half = strap.width_m / 2;
    const bool handles = strap.style == StrapStyle::kTwoHandles;
    const double centre = handles ? strap.spacing_m / 2 : bag_.width_m / 2;
    for (const double side : {-1.0, 1.0}) {
      edges.push_back(side * (centre - half));
      if (handles) edges.push_back(side * (centre + half));
    }
    return edges;
  }

  [[nodiscard]] double moved_onto(double place, const std::vector<double>& others) const {
    double best = place;
    double distance = near_m_;
    for (const double other : others) {
      if (std::abs(other - place) >= distance) continue;
      distance = std::abs(other - place);
      best = other;
    }
    return best;
  }

  const Scene& scene_;
  const Bag& bag_;
  double near_m_;
  bool hem_line_ = false;
  Pattern pattern_;
  std::map<std::pair<int, int>, int> edge_of_;
};

std::function<Vector3d(const Vector2d&)> flat_at(const Vector3d& origin, const Vector3d& du,
                                                 const Vector3d& dv) {
  return [=](const Vector2d& uv) -> Vector3d { return origin + uv.x() * du + uv.y() * dv; };
}

std::vector<Vector2d> rectangle(double u0, double u1, double v0, double v1) {
  return {{u0, v0}, {u1, v0}, {u1, v1}, {u0, v1}};
}

// Two pieces, each front (or back), half of both sides and half of the base. Their vertical corners
// and the fold to the base are the same cloth bent; seams run down the middle of the sides, across
// the base, and across the ends of the base (the boxed corners).
Pattern boxed(const Scene& scene, double size_m) {
  const Bag& bag = scene.bag;
  PatternMaker maker(scene, size_m);
  const double w = bag.width_m / 2;
  const double d = bag.depth_m / 2;
  const double h = bag.height_m;
  const Vector3d x = Vector3d::UnitX();
  const Vector3d y = Vector3d::UnitY();
  const Vector3d z = Vector3d::UnitZ();
  const Side opening{kEdgeOpening, false};
  const Side crease{kEdgeCrease, false};
  const Side seam{kEdgeSeam, true};
  const Side base_seam{kEdgeBaseSeam, true};
  const Side fold{kEdgeBaseOutline, false};
  // rectangle sides: bottom, high u, top, low u
  maker.add_wall_lines(maker.add("front", true, rectangle(-w, w, 0, h),
                                 {fold, crease, opening, crease}, flat_at(d * y, -x, z)),
                       true);
  maker.add_wall_lines(maker.add("back", true, rectangle(-w, w, 0, h),
                                 {fold, crease, opening, crease}, flat_at(-d * y, x, z)),
                       true);
  for (const double side : {1.0, -1.0}) {  // left (+x), right (-x)
    const std::string part = side > 0 ? "side left" : "side right";
    const auto place = flat_at(side * w * x, side * y, z);
    maker.add_wall_lines(
        maker.add(part, true, rectangle(0, d, 0, h), {seam, crease, opening, seam}, place), false);
    maker.add_wall_lines(
        maker.add(part, true, rectangle(-d, 0, 0, h), {seam, seam, opening, crease}, place), false);
  }
  const auto base = flat_at(Vector3d::Zero(), x, -y);
  maker.add("base", false, rectangle(-w, w, -d, 0), {fold, seam, base_seam, seam}, base);
  maker.add("base", false, rectangle(-w, w, 0, d), {base_seam, seam, fold, seam}, base);
  return maker.take();
}

// Front, back, two sides and base cut apart and sewn along all edges of the box.
Pattern gusset(const Scene& scene, double size_m) {
  const Bag& bag = scene.bag;
  PatternMaker maker(scene, size_m);
  const double w = bag.width_m / 2;
  const double d = bag.depth_m / 2;
  const double h = bag.height_m;
  const Vector3d x = Vector3d::UnitX();
  const Vector3d y = Vector3d::UnitY();
  const Vector3d z = Vector3d::UnitZ();
  const Side opening{kEdgeOpening, false};
  const Side seam{kEdgeSeam, true};
  const Side outline{kEdgeBaseOutline, true};
  const std::vector<Side> sides{outline, seam, opening, seam};
  const auto wall = [&](const std::string& part, double half, const Vector3d& out, double distance,
                        bool lengthwise) {
    maker.add_wall_lines(maker.add(part, true, rectangle(-half, half, 0, h), sides,
                                   flat_at(distance * out, z.cross(out), z)),
                         lengthwise);
  };
  wall("front", w, y, d, true);
  wall("back", w, -y, d, true);
  wall("side left", d, x, w, false);
  wall("side right", d, -x, w, false);
  maker.add("base", false, rectangle(-w, w, -d, d), {outline, outline, outline, outline},
            flat_at(Vector3d::Zero(), x, -y));
  return maker.take();
}

// Two equal faces sewn along sides and bottom; lower corners square (radius 0) or rounded.
Pattern flat(const Scene& scene, double radius, double size_m) {
  const Bag& bag = scene.bag;
  PatternMaker maker(scene, size_m);
  const double w = bag.width_m / 2;
  const double h = bag.height_m;
  const double strip = std::max(bag.depth_m > 0 ? bag.depth_m / 2 : kBaseStripShare * h,
                                kBaseStripShareOfRadius * radius);
  maker.pattern().base_strip_m = strip;

  // Chords may cut off up to 0.2 % of the face in all, and are never coarser than 4 % of a corner.
  const double corners_share = M_PI / 2 * radius * radius / (2 * w * h);
  const double area_share = std::min(0.04, 0.002 / std::max(corners_share, 1e-6));
  std::vector<Vector2d> outline;
  const auto arc = [&](const Vector2d& centre, double from, double to) {
    // A border of the base strip that meets the arc must find a corner there.
    const double cut = -std::asin(std::clamp((radius - strip) / radius, 0.0, 1.0));
    std::vector<double> stops{from, to};
    if (strip < radius) stops = {from, from < -M_PI / 2 ? -M_PI - cut : cut, to};
    for (std::size_t i = 1; i < stops.size(); ++i) {
      for (const Vector2d& p : arc_points(centre, radius, stops[i - 1], stops[i], area_share)) {
        if (outline.empty() || (outline.back() - p).norm() > 1e-9 * w) outline.push_back(p);
      }
    }
  };
  if (radius > 0) {
    arc({-w + radius, radius}, -M_PI, -M_PI / 2);
    arc({w - radius, radius}, -M_PI / 2, 0);
  } else {
    outline = {{-w, 0}, {w, 0}};
  }
  outline.emplace_back(w, h);
  outline.emplace_back(-w, h);

  std::vector<Side> sides(outline.size(), Side{kEdgeSeam, true});
  sides[outline.size() - 2] = {kEdgeOpening, false};
  const bool shoulder =
      !scene.straps.empty() && scene.straps.front().style == StrapStyle::kShoulderStrap;
  for (const bool front : {true, false}) {
    const FlatOutline shape{w, h, radius};
    auto place = shoulder ? opened_face(shape, kShoulderOpeningRatio, front)
                          : bulged_face(shape, kOpeningBulge * std::min(bag.width_m, h), front);
    PatternFace& face = maker.add(front ? "front" : "back", true, outline, sides, place);
    maker.add_wall_lines(face, true);
    face.lines.push_back({{-w, strip}, {w, strip}});
  }
  return maker.take();
}

}  // namespace

double distance_to_segment(const Vector2d& p, const Vector2d& a, const Vector2d& b) {
  const Vector2d d = b - a;
  const double along = std::clamp((p - a).dot(d) / d.squaredNorm(), 0.0, 1.0);
  return (p - a - along * d).norm();
}

double Pattern::below_opening(const PatternFace& face, const Vector2d& uv) const {
  if (!curved_opening) return height_m - uv.y();
  double nearest = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < face.edges.size(); ++i) {
    if (edges[face.edges[i]].label != kEdgeOpening) continue;
    nearest = std::min(nearest, distance_to_segment(uv, face.outline[i],
                                                    face.outline[(i + 1) % face.outline.size()]));
  }
  return nearest;
}

Pattern make_pattern(const Scene& scene, double size_m) {
  const Bag& bag = scene.bag;
  switch (bag.shape) {
    case BagShape::kBoxed:
      return boxed(scene, size_m);
    case BagShape::kGusset:
      return gusset(scene, size_m);
    case BagShape::kRounded:
      return flat(scene, bag.corner_radius_m, size_m);
    case BagShape::kSack:
      return flat(scene, 0, size_m);
    case BagShape::kPieces:
      return piece_pattern(scene, size_m);
  }
  throw std::invalid_argument("unknown bag shape");
}

}  // namespace totebench::scenes
