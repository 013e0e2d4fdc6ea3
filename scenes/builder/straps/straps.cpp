#include "scenes/builder/straps/straps.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <stdexcept>

#include "totebench/scenes/sewing.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

int face_called(const Pattern& pattern, const std::string& part) {
  for (std::size_t f = 0; f < pattern.faces.size(); ++f) {
    if (pattern.faces[f].part == part) return static_cast<int>(f);
  }
  throw std::logic_error("the pattern has no face called " + part);
}

// On pieces: in the middle of a side's own opening, or astride the seam at the end of the opening
// of the front. Seen from outside the front's left end lies at its lower u, beside the back's
// upper.
std::vector<StrapFootprint> piece_side_footprints(const Scene& scene, const Pattern& pattern,
                                                  bool left, double half_width) {
  const int side = piece_called(scene.bag, left ? "side left" : "side right");
  if (side >= 0) return {{side, 0, -half_width, half_width}};
  const int front = face_called(pattern, "front"), back = face_called(pattern, "back");
  const auto reach = [&](int f) {
    double most = 0;
    for (const Vector2d& p : pattern.faces[f].outline) {
      if (p.y() == pattern.height_m) most = std::max(most, std::abs(p.x()));
    }
    return most;
  };
  if (left) return {{front, -reach(front), 0, half_width}, {back, reach(back), -half_width, 0}};
  return {{front, reach(front), -half_width, 0}, {back, -reach(back), 0, half_width}};
}

// The end of a shoulder strap at one side: its halves on the faces that meet at the side seam, or
// the whole on a side cut in one piece.
std::vector<StrapFootprint> side_footprints(const Scene& scene, const Pattern& pattern, bool left,
                                            double half_width) {
  const double edge = scene.bag.width_m / 2;
  if (scene.bag.shape == BagShape::kRounded || scene.bag.shape == BagShape::kSack) {
    const int front = face_called(pattern, "front");
    const int back = face_called(pattern, "back");
    // Unrolled across the seam, seen from outside with up up: left has the back at low u.
    if (left) return {{front, -edge, 0, half_width}, {back, edge, -half_width, 0}};
    return {{front, edge, -half_width, 0}, {back, -edge, 0, half_width}};
  }
  if (scene.bag.shape == BagShape::kPieces)
    return piece_side_footprints(scene, pattern, left, half_width);
  std::vector<StrapFootprint> found;
  const std::string part = left ? "side left" : "side right";
  for (std::size_t f = 0; f < pattern.faces.size(); ++f) {
    if (pattern.faces[f].part != part) continue;
    double low = 1e300;
    double high = -1e300;
    for (const Vector2d& p : pattern.faces[f].outline) {
      low = std::min(low, p.x());
      high = std::max(high, p.x());
    }
    found.push_back(
        {static_cast<int>(f), 0, std::max(low, -half_width), std::min(high, half_width)});
  }
  return found;
}

// Start position of the ribbon's cross-section where it leaves the panel.
RibbonFrame frame_at_opening(const Pattern& pattern, const Ribbon& ribbon, const RibbonEnd& end) {
  Vector3d low = Vector3d::Zero();
  Vector3d high = Vector3d::Zero();
  Vector3d middle = Vector3d::Zero();
  const double half = ribbon.width_m / 2;
  for (const StrapFootprint& foot : end.footprints) {
    const PatternFace& face = pattern.faces[foot.face];
    const auto at = [&](double u) { return face.place({foot.u_centre + u, pattern.height_m}); };
    if (foot.from <= -half + 1e-9) low = at(-half);
    if (foot.to >= half - 1e-9) high = at(half);
    if (foot.from <= 0 && foot.to >= 0) middle = at(0);
  }
  RibbonFrame frame;
  frame.centre = 0.25 * (low + high) + 0.5 * middle;
  Vector3d across = high - low;
  across.z() = 0;
  across.normalize();
  const Vector3d d2 = end.first ? Vector3d(-across) : across;
  frame.axes.col(0) = Vector3d::UnitZ();
  frame.axes.col(1) = d2;
  frame.axes.col(2) = frame.axes.col(0).cross(d2);
  return frame;
}

}  // namespace

double held_length_m(const Support& support, double thickness_m) {
  return support.kind == SupportKind::kHook ? M_PI * 0.5 * (support.diameter_m + thickness_m)
                                            : support.grip_width_m;
}

Vector2d Ribbon::to_ribbon(const RibbonEnd& end, const StrapFootprint& foot,
                           const Vector2d& uv) const {
  const double up = uv.y() - (bag_height_m - overlap_m);
  const double across = uv.x() - foot.u_centre;
  return end.first ? Vector2d(up, -across) : Vector2d(length_m - up, across);
}

Vector2d Ribbon::to_face(const RibbonEnd& end, const StrapFootprint& foot,
                         const Vector2d& st) const {
  const double up = end.first ? st.x() : length_m - st.x();
  const double across = end.first ? -st.y() : st.y();
  return {foot.u_centre + across, bag_height_m - overlap_m + up};
}

Vector3d Ribbon::place(const Vector2d& st) const {
  const double s = st.x();
  if (s >= held_from_m && s <= held_to_m) {
    const Vector3d across = Vector3d::UnitZ().cross(along_);
    if (peg_radius_m_ > 0) {
      const double angle = M_PI * (s - held_from_m) / (held_to_m - held_from_m);
      return hold_ + st.y() * across +
             peg_radius_m_ * (-std::cos(angle) * along_ + std::sin(angle) * Vector3d::UnitZ());
    }
    return hold_ + st.y() * across + (s - 0.5 * length_m) * along_;
  }
  const bool first = s < held_from_m;
  const RibbonFrame frame =
      legs_[first ? 0 : 1].at(first ? s - overlap_m : length_m - overlap_m - s);
  Vector3d x = frame.centre + st.y() * frame.axes.col(1);
  if (!apart) return x;
  // Legs turn on their way from faces to hand. Each keeps to its own side of the middle, and each
  // of two handles to its own side of the bag, or they would start in each other.
  const auto aside = [&](int axis, double side) {
    const double low = side * frame.centre[axis] - 0.5 * width_m * std::abs(frame.axes(axis, 1));
    return side * std::max(0.0, kHandleGap_m / 2 - low);
  };
  x.x() += aside(0, first ? -along_.x() : along_.x());
  if (side_ != 0) x.y() += aside(1, side_);
  return x;
}

void Ribbon::lay(const Pattern& pattern, const Support& support, double hold_y_m,
                 double thickness_m) {
  side_ = hold_y_m > 0 ? 1 : (hold_y_m < 0 ? -1 : 0);
  const RibbonFrame start = frame_at_opening(pattern, *this, ends[0]);
  const RibbonFrame finish = frame_at_opening(pattern, *this, ends[1]);
  along_ = Vector3d(finish.centre.x() > start.centre.x() ? 1 : -1, 0, 0);
  const bool hook = support.kind == SupportKind::kHook;
  peg_radius_m_ = hook ? 0.5 * (support.diameter_m + thickness_m) : 0;
  const double held = held_length_m(support, thickness_m);
  const double reach = hook ? peg_radius_m_ : 0.5 * support.grip_width_m;  // middle to hold's end
  const double leg = 0.5 * (length_m - held) - overlap_m;
  held_from_m = 0.5 * (length_m - held);
  held_to_m = 0.5 * (length_m + held);
  const Vector3d across = Vector3d::UnitZ().cross(along_);
  double height[2];
  for (const bool first : {true, false}) {
    RibbonFrame end;
    const Vector3d outward = first ? Vector3d(-along_) : along_;
    end.centre = hold_y_m * Vector3d::UnitY() + reach * outward;
    end.axes.col(0) = hook ? Vector3d(Vector3d::UnitZ()) : Vector3d(-outward);
    end.axes.col(1) = across;
    end.axes.col(2) = end.axes.col(0).cross(across);
    legs_.emplace_back(first ? start : finish, end, leg);
    height[first ? 0 : 1] = legs_.back().end_height_m();
  }
  hold_ = hold_y_m * Vector3d::UnitY() + 0.5 * (height[0] + height[1]) * Vector3d::UnitZ();
}

std::vector<Ribbon> make_ribbons(const Scene& scene, const Pattern& pattern, double thickness_m) {
  std::vector<Ribbon> ribbons;
  if (scene.straps.empty()) throw std::invalid_argument("the bag has no strap to be held by");
  const Strap& strap = scene.straps.front();
  const bool handles = strap.style == StrapStyle::kTwoHandles;
  const double half = strap.width_m / 2;
  for (const std::string& face :
       handles ? std::vector<std::string>{"front", "back"} : std::vector<std::string>{"shoulder"}) {
    Ribbon ribbon;
    ribbon.part = handles ? "strap " + face : "strap";
    ribbon.width_m = strap.width_m;
    ribbon.overlap_m = strap.overlap_m;
    ribbon.length_m = strap.length_m + 2 * strap.overlap_m;
    ribbon.bag_height_m = pattern.height_m;
    ribbon.apart = scene.solve.contact;
    for (const bool first : {true, false}) {
      RibbonEnd& end = ribbon.ends[first ? 0 : 1];
      end.first = first;
      if (handles) {
        const int f = face_called(pattern, face);
        const double u = (first ? -0.5 : 0.5) * strap.spacing_m;
        end.footprints = {{f, u, -half, half}};
        const bool left = pattern.faces[f].place({u, 0.5 * pattern.height_m}).x() > 0;
        end.name = face + (left ? " left" : " right");
      } else {
        end.footprints = side_footprints(scene, pattern, first, half);
        end.name = first ? "left" : "right";
      }
    }
    ribbon.laid_aside = scene.support.kind == SupportKind::kTable;
    if (!ribbon.laid_aside) {
      const double aside = half + kHandleGap_m / 2;
      const double hold_y = !handles ? 0.0 : (face == "front" ? aside : -aside);
      ribbon.lay(pattern, scene.support, hold_y, thickness_m);
    }
    ribbons.push_back(std::move(ribbon));
  }
  return ribbons;
}

void add_footprint_lines(const std::vector<Ribbon>& ribbons, Pattern& pattern) {
  for (const Ribbon& ribbon : ribbons) {
    const double top = ribbon.bag_height_m;
    const double bottom = top - ribbon.overlap_m;
    for (const RibbonEnd& end : ribbon.ends) {
      for (const StrapFootprint& foot : end.footprints) {
        const double low = foot.u_centre + foot.from;
        const double high = foot.u_centre + foot.to;
        std::vector<PatternLine>& lines = pattern.faces[foot.face].lines;
        lines.push_back({{low, bottom}, {low, top}});
        lines.push_back({{high, bottom}, {high, top}});
        lines.push_back({{low, bottom}, {high, bottom}});
      }
    }
  }
}

}  // namespace totebench::scenes
