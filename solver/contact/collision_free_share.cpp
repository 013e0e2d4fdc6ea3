#include "solver/contact/collision_free_share.hpp"

#include <cmath>

namespace totebench::solver {
namespace {

// Enough for a point that slides along a surface for a thousand times its distance. A pair that
// needs more stops where it is, which is short of an impact.
constexpr int kMostAdvances = 2000;

// No pair closes faster: the largest speeds on either side, seen from the mean of all.
double closing_speed(PairKind kind, const PairPoints& relative) {
  const int first = kind == PairKind::kPointTriangle ? 1 : 2;
  return std::sqrt(relative.leftCols(first).colwise().squaredNorm().maxCoeff()) +
         std::sqrt(relative.rightCols(4 - first).colwise().squaredNorm().maxCoeff());
}

// No more than the distance, and quickly had: between the middles of both sides, less how far
// their points lie from them.
double distance_at_least(PairKind kind, const PairPoints& points) {
  const int first = kind == PairKind::kPointTriangle ? 1 : 2;
  const Eigen::Vector3d a = points.leftCols(first).rowwise().mean();
  const Eigen::Vector3d b = points.rightCols(4 - first).rowwise().mean();
  const double around_a = (points.leftCols(first).colwise() - a).colwise().squaredNorm().maxCoeff();
  const double around_b =
      (points.rightCols(4 - first).colwise() - b).colwise().squaredNorm().maxCoeff();
  return (a - b).norm() - std::sqrt(around_a) - std::sqrt(around_b);
}

}  // namespace

double collision_free_share(PairKind kind, const PairPoints& points, const PairPoints& step,
                            double most) {
  const PairPoints relative = step.colwise() - step.rowwise().mean();
  const double speed = closing_speed(kind, relative);
  if (speed * most <= (1 - kKeptGap) * distance_at_least(kind, points)) return most;
  double distance = pair_distance(kind, points);
  const double kept = kKeptGap * distance;
  if (!(distance > 0)) return 0;
  double share = 0;
  for (int i = 0; i < kMostAdvances && (i == 0 || distance > 2 * kept); ++i) {
    if (speed * (most - share) <= distance - kept) return most;
    share += (distance - kept) / speed;
    distance = pair_distance(kind, points + share * relative);
  }
  return share;
}

}  // namespace totebench::solver
