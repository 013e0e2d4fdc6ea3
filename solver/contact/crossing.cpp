#include "solver/contact/crossing.hpp"

#include <Eigen/Geometry>
#include <cmath>

namespace totebench::solver {
namespace {

// Share of the volume that its edges could span: coordinates may be a hundred times the edges,
// which then keep 14 digits.
constexpr double kFlat = 1e-12;

}  // namespace

bool edge_passes_through(const Eigen::Matrix<double, 3, 5>& points) {
  // Signed volumes of tetrahedra: the ends lie on two sides of the part, and the line through them
  // runs round its three sides the same way. What round-off may leave of a flat one is none.
  const auto volume = [&](int a, int b, int c, int d) {
    const Eigen::Vector3d ab = points.col(b) - points.col(a);
    const Eigen::Vector3d ac = points.col(c) - points.col(a);
    const Eigen::Vector3d ad = points.col(d) - points.col(a);
    const double six = ab.cross(ac).dot(ad);
    const double noise = kFlat * std::sqrt(ab.squaredNorm() * ac.squaredNorm() * ad.squaredNorm());
    return std::abs(six) > noise ? six : 0;
  };
  if (volume(2, 3, 4, 0) * volume(2, 3, 4, 1) >= 0) return false;
  const double first = volume(0, 1, 2, 3);
  const double second = volume(0, 1, 3, 4);
  const double third = volume(0, 1, 4, 2);
  return (first > 0 && second > 0 && third > 0) || (first < 0 && second < 0 && third < 0);
}

}  // namespace totebench::solver
