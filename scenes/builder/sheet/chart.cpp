#include "scenes/builder/sheet/chart.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace totebench::scenes {
namespace {

constexpr double kFullTurn = 2 * M_PI;
constexpr double kOnSurface = 1e-6;  // share of the extent within which a point is on the sheet

void require(bool held, const std::string& sentence) {
  if (!held) throw std::invalid_argument(sentence);
}

void require_sector(const SheetGeometry& g) {
  const double turn = g.to_angle_rad - g.from_angle_rad;
  require(turn > 0 && turn <= kFullTurn * (1 + 1e-9),
          fmt::format("the sector of a sheet must run from a smaller to a larger angle, by at most "
                      "one full turn; it runs from {:.4g} to {:.4g} degrees",
                      g.from_angle_rad * 180 / M_PI, g.to_angle_rad * 180 / M_PI));
}

}  // namespace

SheetChart::SheetChart(const SheetGeometry& g) : geometry_(g) {
  switch (g.shape) {
    case SheetShape::kStrip:
    case SheetShape::kRectangle:
      require(g.length_m > 0 && g.width_m > 0, "a strip or rectangle needs a length and a width");
      side_names_ = {"y0", "x1", "y1", "x0"};
      high_ = {g.length_m, g.width_m};
      break;
    case SheetShape::kDisc:
      require(g.radius_m > 0, "a disc needs a radius");
      side_names_ = {"outer"};
      low_ = {-g.radius_m, -g.radius_m};
      high_ = {g.radius_m, g.radius_m};
      break;
    case SheetShape::kAnnulus:
      require(g.inner_radius_m > 0 && g.radius_m > g.inner_radius_m,
              "an annulus needs an inner radius above zero and a larger outer radius");
      require_sector(g);
      side_names_ = {"from", "outer", "to", "inner"};
      turn_radius_m_ = (g.inner_radius_m + g.radius_m) / 2;
      low_ = {g.inner_radius_m, g.from_angle_rad * turn_radius_m_};
      high_ = {g.radius_m, g.to_angle_rad * turn_radius_m_};
      break;
    case SheetShape::kCylinder:
      require(g.radius_m > 0 && g.length_m > 0, "a cylinder patch needs a radius and a length");
      require_sector(g);
      side_names_ = {"from", "x1", "to", "x0"};
      turn_radius_m_ = g.radius_m;
      low_ = {0, g.from_angle_rad * g.radius_m};
      high_ = {g.length_m, g.to_angle_rad * g.radius_m};
      break;
    case SheetShape::kSphere: {
      require(g.radius_m > 0, "a sphere patch needs a radius");
      require_sector(g);
      const double limit = 89 * M_PI / 180;
      require(-limit <= g.from_latitude_rad && g.from_latitude_rad < g.to_latitude_rad &&
                  g.to_latitude_rad <= limit,
              "a sphere patch must run from a lower to a higher latitude, both within 89 degrees "
              "of the equator (its mesh would shrink to a point at the pole)");
      side_names_ = {"inner", "to", "outer", "from"};
      const double middle = (g.from_latitude_rad + g.to_latitude_rad) / 2;
      turn_radius_m_ = g.radius_m * std::cos(middle);
      low_ = {g.from_angle_rad * turn_radius_m_, g.from_latitude_rad * g.radius_m};
      high_ = {g.to_angle_rad * turn_radius_m_, g.to_latitude_rad * g.radius_m};
      break;
    }
    case SheetShape::kFile:
      throw std::invalid_argument("a sheet read from a file has no chart");
  }
}

bool SheetChart::curved() const {
  return geometry_.shape == SheetShape::kCylinder || geometry_.shape == SheetShape::kSphere;
}

double SheetChart::extent_m() const { return (high_ - low_).norm(); }

double SheetChart::triangles(double size_m) const {
  const Eigen::Vector2d size = high_ - low_;
  const double edge = std::min(size_m, size.minCoeff());
  return size.prod() / (std::sqrt(3.0) / 4 * edge * edge);
}

Eigen::Vector3d SheetChart::place(const Eigen::Vector2d& uv) const {
  const double r = geometry_.radius_m;
  switch (geometry_.shape) {
    case SheetShape::kAnnulus: {
      const double a = uv.y() / turn_radius_m_;
      return {uv.x() * std::cos(a), uv.x() * std::sin(a), 0};
    }
    case SheetShape::kCylinder: {
      const double a = uv.y() / turn_radius_m_;
      return {uv.x(), r * std::sin(a), r * std::cos(a)};
    }
    case SheetShape::kSphere: {
      const double a = uv.x() / turn_radius_m_;
      const double b = uv.y() / r;
      return {r * std::cos(b) * std::cos(a), r * std::cos(b) * std::sin(a), r * std::sin(b)};
    }
    default:
      return {uv.x(), uv.y(), 0};
  }
}

Eigen::Vector3d SheetChart::tangent(const Eigen::Vector2d& uv) const {
  if (geometry_.shape != SheetShape::kSphere) return Eigen::Vector3d::UnitX();
  const double a = uv.x() / turn_radius_m_;
  return {-std::sin(a), std::cos(a), 0};
}

Eigen::Vector3d SheetChart::normal(const Eigen::Vector2d& uv) const {
  if (geometry_.shape == SheetShape::kSphere) return place(uv).normalized();
  if (geometry_.shape == SheetShape::kCylinder) {
    const double a = uv.y() / turn_radius_m_;
    return {0, std::sin(a), std::cos(a)};
  }
  return Eigen::Vector3d::UnitZ();
}

std::optional<Eigen::Vector2d> SheetChart::parameters_of(const Eigen::Vector3d& point) const {
  const SheetGeometry& g = geometry_;
  const double near = kOnSurface * extent_m();
  // The angle within the sector; on a slit the larger of the two.
  const auto sector_angle = [&](double y, double x) {
    double a = std::atan2(y, x);
    const double slack = near / turn_radius_m_;
    while (a < g.from_angle_rad - slack) a += kFullTurn;
    while (a + kFullTurn <= g.to_angle_rad + slack) a += kFullTurn;
    while (a > g.to_angle_rad + slack && a - kFullTurn >= g.from_angle_rad - slack) a -= kFullTurn;
    return a;
  };
  Eigen::Vector2d uv;
  switch (g.shape) {
    case SheetShape::kAnnulus:
      uv = {point.head<2>().norm(), turn_radius_m_ * sector_angle(point.y(), point.x())};
      break;
    case SheetShape::kCylinder:
      uv = {point.x(), turn_radius_m_ * sector_angle(point.y(), point.z())};
      break;
    case SheetShape::kSphere:
      uv = {turn_radius_m_ * sector_angle(point.y(), point.x()),
            g.radius_m * std::asin(std::clamp(point.z() / g.radius_m, -1.0, 1.0))};
      break;
    default:
      uv = point.head<2>();
  }
  const bool inside = g.shape == SheetShape::kDisc ? uv.norm() <= g.radius_m + near
                                                   : (uv.array() >= low_.array() - near).all() &&
                                                         (uv.array() <= high_.array() + near).all();
  if (!inside || (place(uv) - point).norm() > near) return std::nullopt;
  if (g.shape != SheetShape::kDisc) uv = uv.cwiseMax(low_).cwiseMin(high_);
  return uv;
}

double SheetChart::side_length_m(int side) const {
  if (geometry_.shape == SheetShape::kDisc) return kFullTurn * geometry_.radius_m;
  return side % 2 == 0 ? high_.x() - low_.x() : high_.y() - low_.y();
}

Eigen::Vector2d SheetChart::border_point(int side, double t) const {
  if (geometry_.shape == SheetShape::kDisc) {
    const double a = kFullTurn * t;
    return {geometry_.radius_m * std::cos(a), geometry_.radius_m * std::sin(a)};
  }
  const Eigen::Vector2d size = high_ - low_;
  switch (side) {
    case 0:
      return {low_.x() + t * size.x(), low_.y()};
    case 1:
      return {high_.x(), low_.y() + t * size.y()};
    case 2:
      return {high_.x() - t * size.x(), high_.y()};
    default:
      return {low_.x(), high_.y() - t * size.y()};
  }
}

double SheetChart::border_parameter(int side, const Eigen::Vector2d& uv) const {
  if (geometry_.shape == SheetShape::kDisc) {
    const double t = std::atan2(uv.y(), uv.x()) / kFullTurn;
    return t < 0 ? t + 1 : t;
  }
  const Eigen::Vector2d along = (uv - low_).cwiseQuotient(high_ - low_);
  const double t = side % 2 == 0 ? along.x() : along.y();
  return std::clamp(side < 2 ? t : 1 - t, 0.0, 1.0);
}

SheetChart::OnSide SheetChart::on_side(int side, const Eigen::Vector2d& uv) const {
  OnSide result;
  result.side = side;
  result.foot = border_point(side, border_parameter(side, uv));
  result.distance_m = (result.foot - uv).norm();
  return result;
}

SheetChart::OnSide SheetChart::nearest_side(const Eigen::Vector2d& uv) const {
  OnSide best = on_side(0, uv);
  for (int side = 1; side < static_cast<int>(side_names_.size()); ++side) {
    const OnSide other = on_side(side, uv);
    if (other.distance_m < best.distance_m) best = other;
  }
  return best;
}

std::vector<Eigen::Vector2d> SheetChart::outline(double size_m,
                                                 const std::vector<Eigen::Vector2d>& fixed) const {
  std::vector<Eigen::Vector2d> polygon;
  const double near = kOnSurface * extent_m();
  for (int side = 0; side < static_cast<int>(side_names_.size()); ++side) {
    std::vector<double> stops = {0.0, 1.0};
    for (const Eigen::Vector2d& point : fixed) {
      if (on_side(side, point).distance_m <= near) stops.push_back(border_parameter(side, point));
    }
    std::sort(stops.begin(), stops.end());
    const double length = side_length_m(side);
    // A circle needs a few corners however coarse the mesh is asked to be.
    const double step =
        geometry_.shape == SheetShape::kDisc ? std::min(size_m, length / 12) : size_m;
    for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
      const double span = stops[i + 1] - stops[i];
      if (span * length <= near) continue;
      const int n = std::max(1, static_cast<int>(std::ceil(span * length / step - 1e-9)));
      for (int k = 0; k < n; ++k) polygon.push_back(border_point(side, stops[i] + span * k / n));
    }
  }
  return polygon;
}

}  // namespace totebench::scenes
