#include "solver/contact/collision_free_share.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace totebench::solver {
namespace {

// Some ten are needed as a rule. A pair that needs more stops where it is, which is short of an
// impact.
constexpr int kMostAdvances = 2000;

// No pair closes faster: the largest speeds on either side, seen from the mean of all.
double closing_speed(PairKind kind, const PairPoints& relative) {
  const int first = kind == PairKind::kPointTriangle ? 1 : 2;
  return std::sqrt(relative.leftCols(first).colwise().squaredNorm().maxCoeff()) +
         std::sqrt(relative.rightCols(4 - first).colwise().squaredNorm().maxCoeff());
}

// How far along the step (a share of it) the plane across the closest points holds the two sides
// apart by `kept`: where the points move along straight lines it is told at once, and sliding along
// each other costs nothing.
double held_apart(PairKind kind, const PairPoints& points, const PairPoints& step,
                  const Eigen::Vector3d& normal, double kept) {
  const int first = kind == PairKind::kPointTriangle ? 1 : 2;
  Eigen::RowVector4d place = normal.transpose() * points;
  Eigen::RowVector4d speed = normal.transpose() * step;
  if (place[0] < place[3]) {  // the normal leads from the first side to the second
    place *= -1;
    speed *= -1;
  }
  double share = std::numeric_limits<double>::infinity();
  for (int i = 0; i < first; ++i) {
    for (int j = first; j < 4; ++j) {
      const double nearing = speed[j] - speed[i];
      if (nearing > 0) share = std::min(share, (place[i] - place[j] - kept) / nearing);
    }
  }
  return std::max(0.0, share);
}

}  // namespace

double collision_free_share(PairKind kind, const PairPoints& points, const PairPoints& step,
                            double most) {
  const PairPoints relative = step.colwise() - step.rowwise().mean();
  const double speed = closing_speed(kind, relative);
  if (speed * most <= (1 - kKeptGap) * distance_at_least(kind, points)) return most;
  double kept = 0;
  double share = 0;
  for (int i = 0; i < kMostAdvances; ++i) {
    const PairPoints moved = points + share * relative;
    const Eigen::Vector3d apart = moved * closest_points(kind, moved).c;
    const double distance = apart.norm();
    if (i == 0) kept = kKeptGap * distance;
    if (!(distance > 2 * kept)) break;
    share += std::max((distance - kept) / speed,
                      held_apart(kind, moved, relative, apart / distance, kept));
    if (share >= most) return most;
  }
  return share;
}

}  // namespace totebench::solver
