#include "solver/shell/tension_field.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <numbers>

namespace totebench::solver {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

constexpr int kDirections = 16;  // tried before the best is refined
constexpr int kMostRefinements = 30;
constexpr double kSettled = 1e-14;  // rad

// Neither principal value of [a c/2; c/2 b] (of a strain), or of [a c; c b] (of a force), below 0.
bool nowhere_negative(double a, double b, double off) {
  return a + b >= 0 && a * b - off * off >= 0;
}

// f(angle) = 1/2 u^2 / v with u = t.E t and v = t.c t, for t at an angle to axis 1; its derivatives
// by the angle, by the strain, and by both.
struct AlongDirection {
  AlongDirection(const Matrix3d& c, const Vector3d& strain, double angle) {
    const double cos = std::cos(2 * angle), sin = std::sin(2 * angle);
    a = {0.5 * (1 + cos), 0.5 * (1 - cos), 0.5 * sin};
    const Vector3d a1(-sin, sin, cos);
    const Vector3d a2(-2 * cos, 2 * cos, -2 * sin);
    const Vector3d ca = c * a;
    u = a.dot(strain);
    v = a.dot(ca);
    const double u1 = a1.dot(strain), u2 = a2.dot(strain);
    const double v1 = 2 * a1.dot(ca), v2 = 2 * (a2.dot(ca) + a1.dot(c * a1));
    value = u > 0 ? 0.5 * u * u / v : 0;
    slope = u * u1 / v - 0.5 * u * u * v1 / (v * v);
    curvature = (u1 * u1 + u * u2) / v - 2 * u * u1 * v1 / (v * v) - 0.5 * u * u * v2 / (v * v) +
                u * u * v1 * v1 / (v * v * v);
    mixed = (u1 / v - u * v1 / (v * v)) * a + (u / v) * a1;
  }
  Vector3d a;  // t t^T
  double u, v;
  double value, slope, curvature;
  Vector3d mixed;
};

// The direction of the largest value of those that are extended, which lie about that of the
// largest strain: the best of some, then Newton's method, or where the value is not curved
// downwards a step towards it that keeps between the neighbours.
AlongDirection best_direction(const Matrix3d& c, const Vector3d& strain) {
  const double mean = 0.5 * (strain[0] + strain[1]);
  const double radius = std::hypot(0.5 * (strain[0] - strain[1]), 0.5 * strain[2]);
  const double middle = 0.5 * std::atan2(strain[2], strain[0] - strain[1]);
  // t.E t = mean + radius cos(2 off) is above zero less than `reach` off the middle.
  const double reach = 0.5 * std::acos(std::clamp(-mean / radius, -1.0, 1.0));
  const double step = 2 * reach / kDirections;
  double angle = middle;
  double largest = -1;
  for (int i = 0; i < kDirections; ++i) {
    const double tried = middle - reach + (i + 0.5) * step;
    const double value = AlongDirection(c, strain, tried).value;
    if (value > largest) {
      largest = value;
      angle = tried;
    }
  }
  double low = std::max(angle - step, middle - reach);
  double high = std::min(angle + step, middle + reach);
  for (int i = 0; i < kMostRefinements; ++i) {
    const AlongDirection at(c, strain, angle);
    if (at.curvature < 0 && std::abs(at.slope) < -kSettled * at.curvature) break;
    (at.slope > 0 ? low : high) = angle;
    const double next = at.curvature < 0 ? angle - at.slope / at.curvature : low;
    angle = next > low && next < high ? next : 0.5 * (low + high);
  }
  return {c, strain, angle};
}

}  // namespace

MembraneResponse tension_field(const Matrix3d& A, const Vector3d& strain) {
  const Vector3d whole = A * strain;
  MembraneResponse response{0.5 * strain.dot(whole), whole, A};
  if (nowhere_negative(whole[0], whole[1], whole[2])) return response;
  response.energy *= kLeftInCompression;
  response.force *= kLeftInCompression;
  response.stiffness *= kLeftInCompression;
  if (nowhere_negative(-strain[0], -strain[1], 0.5 * strain[2])) return response;
  const AlongDirection t = best_direction(A.inverse(), strain);
  constexpr double kShare = 1 - kLeftInCompression;
  response.energy += kShare * t.value;
  response.force += kShare * (t.u / t.v) * t.a;
  response.stiffness += kShare / t.v * t.a * t.a.transpose();
  if (t.curvature < 0) {
    response.stiffness -= kShare / t.curvature * t.mixed * t.mixed.transpose();
  }
  return response;
}

}  // namespace totebench::solver
