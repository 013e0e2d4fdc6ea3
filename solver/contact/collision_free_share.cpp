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

}  // namespace

double collision_free_share(PairKind kind, const PairPoints& points, const PairPoints& step,
                            double most) {
  const PairPoints relative = step.colwise() - step.rowwise().mean();
  const double speed = closing_speed(kind, relative);
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
