#include "solver/contact/closest_points.hpp"

#include <Eigen/Geometry>
#include <array>
#include <span>

namespace totebench::solver {
namespace {

using Eigen::Vector3d;
using Eigen::Vector4d;

// Squared sine below which two edges are parallel, or a triangle is a needle. Their closest points
// are then sought on the border; the true distance is shorter by less than 1e-8 of an edge.
constexpr double kParallel = 1e-16;

struct PointAndEdge {
  int point;
  int a, b;  // ends of the edge
};
// Where the closest points lie when they do not lie inside.
constexpr std::array<PointAndEdge, 3> kTriangleBorder{{{0, 1, 2}, {0, 2, 3}, {0, 3, 1}}};
constexpr std::array<PointAndEdge, 4> kEdgesBorder{{{0, 2, 3}, {1, 2, 3}, {2, 0, 1}, {3, 0, 1}}};

// Nearest place of the edge: a share of the way from a to b, an end where it is 0 or 1.
double nearest_share(const PairPoints& points, const PointAndEdge& pair) {
  const Vector3d edge = points.col(pair.b) - points.col(pair.a);
  const double along = (points.col(pair.point) - points.col(pair.a)).dot(edge);
  const double length_sq = edge.squaredNorm();
  if (along <= 0) return 0;
  return along < length_sq ? along / length_sq : 1;
}

ClosestPoints on_edge(const PointAndEdge& pair, double share) {
  ClosestPoints closest;
  closest.c[pair.point] = 1;
  closest.c[pair.a] = share - 1;
  closest.c[pair.b] = -share;
  if (share > 0 && share < 1) {
    closest.n_interior = 1;
    closest.slope(pair.a, 0) = 1;
    closest.slope(pair.b, 0) = -1;
  }
  return closest;
}

// Is the point of the plane, or are both points of the lines, inside? Fills `closest` if so.
bool inside_triangle(const PairPoints& points, ClosestPoints& closest) {
  const Vector3d u = points.col(2) - points.col(1);
  const Vector3d v = points.col(3) - points.col(1);
  const Vector3d w = points.col(0) - points.col(1);
  const Vector3d normal = u.cross(v);
  const double n = normal.squaredNorm();
  if (n <= kParallel * u.squaredNorm() * v.squaredNorm()) return false;
  const double b1 = w.cross(v).dot(normal) / n;
  const double b2 = u.cross(w).dot(normal) / n;
  if (!(b1 > 0 && b2 > 0 && b1 + b2 < 1)) return false;
  closest.c = Vector4d(1, b1 + b2 - 1, -b1, -b2);
  closest.n_interior = 2;
  closest.slope.col(0) = Vector4d(0, 1, -1, 0);
  closest.slope.col(1) = Vector4d(0, 1, 0, -1);
  return true;
}

bool inside_edges(const PairPoints& points, ClosestPoints& closest) {
  const Vector3d u = points.col(1) - points.col(0);
  const Vector3d v = points.col(3) - points.col(2);
  const Vector3d w = points.col(2) - points.col(0);
  const Vector3d normal = u.cross(v);
  const double n = normal.squaredNorm();
  if (n <= kParallel * u.squaredNorm() * v.squaredNorm()) return false;
  const double s = w.cross(v).dot(normal) / n;
  const double t = w.cross(u).dot(normal) / n;
  if (!(s > 0 && s < 1 && t > 0 && t < 1)) return false;
  closest.c = Vector4d(1 - s, s, t - 1, -t);
  closest.n_interior = 2;
  closest.slope.col(0) = Vector4d(-1, 1, 0, 0);
  closest.slope.col(1) = Vector4d(0, 0, 1, -1);
  return true;
}

ClosestPoints nearest(const PairPoints& points, std::span<const PointAndEdge> border) {
  const PointAndEdge* best = nullptr;
  double best_share = 0;
  double best_sq = 0;
  for (const PointAndEdge& pair : border) {
    const double share = nearest_share(points, pair);
    const double distance_sq =
        (points.col(pair.point) - (1 - share) * points.col(pair.a) - share * points.col(pair.b))
            .squaredNorm();
    if (best != nullptr && !(distance_sq < best_sq)) continue;
    best = &pair;
    best_share = share;
    best_sq = distance_sq;
  }
  return on_edge(*best, best_share);
}

}  // namespace

ClosestPoints closest_points(PairKind kind, const PairPoints& points) {
  ClosestPoints closest;
  if (kind == PairKind::kPointTriangle) {
    return inside_triangle(points, closest) ? closest : nearest(points, kTriangleBorder);
  }
  return inside_edges(points, closest) ? closest : nearest(points, kEdgesBorder);
}

double pair_distance(PairKind kind, const PairPoints& points) {
  return (points * closest_points(kind, points).c).norm();
}

double distance_at_least(PairKind kind, const PairPoints& points) {
  const int first = kind == PairKind::kPointTriangle ? 1 : 2;
  const Eigen::Vector3d a = points.leftCols(first).rowwise().mean();
  const Eigen::Vector3d b = points.rightCols(4 - first).rowwise().mean();
  const double around_a = (points.leftCols(first).colwise() - a).colwise().squaredNorm().maxCoeff();
  const double around_b =
      (points.rightCols(4 - first).colwise() - b).colwise().squaredNorm().maxCoeff();
  return (a - b).norm() - std::sqrt(around_a) - std::sqrt(around_b);
}

}  // namespace totebench::solver
