#include "scenes/builder/tote/flat_placement.hpp"

#include <algorithm>
#include <cmath>

namespace totebench::scenes {
namespace {

// Length along the ellipse (cos a, ratio sin a) from a = 0, by Simpson's rule.
double ellipse_length(double angle, double ratio) {
  constexpr int kIntervals = 64;
  const auto speed = [ratio](double a) { return std::hypot(std::sin(a), ratio * std::cos(a)); };
  const double step = angle / kIntervals;
  double sum = speed(0) + speed(angle);
  for (int i = 1; i < kIntervals; ++i) sum += speed(i * step) * (i % 2 == 1 ? 4 : 2);
  return sum * step / 3;
}

// The angle at which that length is reached.
double ellipse_angle(double length, double ratio) {
  double low = 0;
  double high = M_PI;
  for (int i = 0; i < 50; ++i) {
    const double middle = 0.5 * (low + high);
    (ellipse_length(middle, ratio) < length ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

}  // namespace

double FlatOutline::half_width_at(double v) const {
  if (v >= corner_radius_m) return half_width_m;
  const double below = corner_radius_m - std::max(v, 0.0);
  const double reach = std::sqrt(std::max(0.0, corner_radius_m * corner_radius_m - below * below));
  return half_width_m - corner_radius_m + reach;
}

Placement bulged_face(const FlatOutline& outline, double amplitude_m, bool front) {
  const double side = front ? 1 : -1;
  return [=](const Eigen::Vector2d& uv) -> Eigen::Vector3d {
    const double half = std::max(outline.half_width_at(uv.y()), 1e-12);
    const double across = std::max(0.0, 1 - (uv.x() / half) * (uv.x() / half));
    const double up = std::sin(0.5 * M_PI * std::max(uv.y(), 0.0) / outline.height_m);
    return {-side * uv.x(), side * amplitude_m * across * up, uv.y()};
  };
}

Placement opened_face(const FlatOutline& outline, double ratio, bool front) {
  const double side = front ? 1 : -1;
  return [=](const Eigen::Vector2d& uv) -> Eigen::Vector3d {
    const double half = outline.half_width_at(uv.y());
    const double up = std::sin(0.5 * M_PI * std::max(uv.y(), 0.0) / outline.height_m);
    // Rounded corners narrow the face too fast to be opened there as well.
    const double r = ratio * up * up * half / outline.half_width_m;
    const double semi_axis = 2 * half / ellipse_length(M_PI, r);
    const double inside = std::clamp(uv.x(), -half, half);
    const double angle = half > 0 ? ellipse_angle((inside + half) / semi_axis, r) : 0;
    return {side * semi_axis * std::cos(angle), side * r * semi_axis * std::sin(angle), uv.y()};
  };
}

}  // namespace totebench::scenes
