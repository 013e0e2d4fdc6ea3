#include "scenes/patterns/cut_outline.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "scenes/pieces/drawing.hpp"
#include "totebench/scenes/sewing.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

constexpr double kArcStep_rad = M_PI / 180;
// A corner of the allowances further out than so many of them is cut off.
constexpr double kLongestMitre = 3;

// Of edge i, a unit vector.
Vector2d outwards(const Outline& outline, std::size_t i) {
  const std::size_t n = outline.points.size();
  const Vector2d way = (outline.points[(i + 1) % n] - outline.points[i]).normalized();
  return {way.y(), -way.x()};
}

double added(Border border, double allowance_m, double hem_m) {
  switch (border) {
    case Border::kSewn:
      return allowance_m;
    case Border::kOpening:
      return hem_m;
    case Border::kFold:
      break;
  }
  return 0;
}

}  // namespace

void Outline::add(const Vector2d& p, Border border) {
  points.push_back(p);
  borders.push_back(border);
}

Outline left_of(const Outline& whole, const Vector2d& at, const Vector2d& along) {
  Outline part;
  const std::size_t n = whole.points.size();
  const auto side = [&](const Vector2d& p) {
    return along.x() * (p.y() - at.y()) - along.y() * (p.x() - at.x());
  };
  for (std::size_t i = 0; i < n; ++i) {
    const Vector2d &a = whole.points[i], &b = whole.points[(i + 1) % n];
    const double sa = side(a), sb = side(b);
    if (sa >= 0) part.add(a, whole.borders[i]);
    if ((sa > 0 && sb < 0) || (sa < 0 && sb > 0)) {
      const Vector2d crossing = a + (b - a) * (sa / (sa - sb));
      part.add(crossing, sa > 0 ? Border::kSewn : whole.borders[i]);
    } else if (sa == 0 && sb < 0) {
      part.borders.back() = Border::kSewn;
    }
  }
  return part;
}

std::vector<Vector2d> with_allowances(const Outline& sewn, double allowance_m, double hem_m) {
  const std::size_t n = sewn.points.size();
  std::vector<Vector2d> cut;
  for (std::size_t i = 0; i < n; ++i) {
    const std::size_t before = (i + n - 1) % n;
    const Vector2d a = outwards(sewn, before), b = outwards(sewn, i);
    const double da = added(sewn.borders[before], allowance_m, hem_m);
    const double db = added(sewn.borders[i], allowance_m, hem_m);
    const double cross = a.x() * b.y() - a.y() * b.x();
    if (std::abs(cross) < 1e-9) {
      cut.push_back(sewn.points[i] + std::max(da, db) * b);
      continue;
    }
    // p . a = da and p . b = db
    const Vector2d off = Vector2d(da * b.y() - db * a.y(), db * a.x() - da * b.x()) / cross;
    if (off.norm() <= kLongestMitre * std::max(da, db)) {
      cut.push_back(sewn.points[i] + off);
      continue;
    }
    cut.push_back(sewn.points[i] + da * a);
    cut.push_back(sewn.points[i] + db * b);
  }
  return cut;
}

std::vector<Notch> notches(const Outline& sewn, double allowance_m, double hem_m) {
  std::vector<Notch> cut;
  const std::size_t n = sewn.points.size();
  for (const Outline::Mark& mark : sewn.marks) {
    const std::size_t before = (mark.point + n - 1) % n;
    const double out = std::max(added(sewn.borders[before], allowance_m, hem_m),
                                added(sewn.borders[mark.point], allowance_m, hem_m));
    const Vector2d normal = (outwards(sewn, before) + outwards(sewn, mark.point)).normalized();
    const Vector2d& at = sewn.points[mark.point];
    if (out > 0) cut.push_back({mark.name, {at + out * normal, at}});
  }
  return cut;
}

Outline rectangle(double width_m, double height_m, Border low, Border right, Border top,
                  Border left) {
  Outline r;
  r.add({0, 0}, low);
  r.add({width_m, 0}, right);
  r.add({width_m, height_m}, top);
  r.add({0, height_m}, left);
  return r;
}

Outline boxed_panel(const Bag& bag) {
  const double w = bag.width_m / 2, d = bag.depth_m / 2;
  Outline p;
  p.add({-w, -d}, Border::kSewn);  // seam across the base
  p.add({w, -d}, Border::kSewn);   // end of the base: the boxed corner
  p.add({w, 0}, Border::kSewn);
  p.add({w + d, 0}, Border::kSewn);
  p.add({w + d, bag.height_m}, Border::kOpening);
  p.add({-w - d, bag.height_m}, Border::kSewn);
  p.add({-w - d, 0}, Border::kSewn);
  p.add({-w, 0}, Border::kSewn);
  return p;
}

Outline flat_face(const Bag& bag) {
  const double w = bag.width_m / 2, r = bag.shape == BagShape::kRounded ? bag.corner_radius_m : 0;
  Outline p;
  const int steps = r > 0 ? static_cast<int>(std::ceil(M_PI / 2 / kArcStep_rad)) : 0;
  const auto corner = [&](double centre_u, double from) {
    for (int i = 0; i <= steps; ++i) {
      const double angle = from + M_PI / 2 * i / std::max(1, steps);
      p.add({centre_u + r * std::cos(angle), r + r * std::sin(angle)}, Border::kSewn);
    }
  };
  corner(-w + r, -M_PI);
  corner(w - r, -M_PI / 2);
  p.add({w, bag.height_m}, Border::kOpening);
  p.add({-w, bag.height_m}, Border::kSewn);
  return p;
}

Outline piece_outline(const Bag& bag, int piece) {
  const std::vector<Vector2d>& points = bag.pieces[static_cast<std::size_t>(piece)].outline_m;
  const Sewing sewing = sew(bag, "cm");
  std::vector<Border> borders(points.size(), Border::kSewn);
  const auto set_border = [&](const Stretch& stretch, Border border) {
    if (stretch.piece != piece) return;
    const std::vector<PieceMark>& marks = bag.pieces[static_cast<std::size_t>(piece)].marks;
    const std::size_t n = points_of(bag, stretch).size() - 1;
    const auto from = static_cast<std::size_t>(marks[static_cast<std::size_t>(stretch.from)].at);
    for (std::size_t i = 0; i < n; ++i) borders[(from + i) % points.size()] = border;
  };
  for (const Joint& joint : sewing.joints) {
    if (joint.use == EdgeUse::kSeam) continue;
    const Border border = joint.is_opening() ? Border::kOpening : Border::kFold;
    set_border(joint.a, border);
    if (!joint.is_opening()) set_border(joint.b, border);
  }
  std::map<std::size_t, std::string> marked;
  for (const PieceMark& mark : bag.pieces[static_cast<std::size_t>(piece)].marks) {
    const auto at = static_cast<std::size_t>(mark.at);
    if (!is_sharp(points, at)) marked[at] = mark.name;
  }
  // Of the points of a curve only those that the eye sees, and marks.
  Outline outline;
  double turned = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    const std::size_t before = (i + points.size() - 1) % points.size();
    const Vector2d in = points[i] - points[before];
    const Vector2d out = points[(i + 1) % points.size()] - points[i];
    turned += std::atan2(in.x() * out.y() - in.y() * out.x(), in.dot(out));
    const auto mark = marked.find(i);
    if (mark != marked.end()) outline.marks.push_back({mark->second, outline.points.size()});
    if (borders[i] == borders[before] && std::abs(turned) < kArcStep_rad && mark == marked.end()) {
      continue;
    }
    outline.add(points[i], borders[i]);
    turned = 0;
  }
  return outline;
}

}  // namespace totebench::scenes
