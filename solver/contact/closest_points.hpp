// Closest points of a point and a triangle, or of two edges.
//
// The vector between them is r = points * c. Where the closest points lie inside a triangle or an
// edge, c depends on parameters at which |r| is least; c is linear in each of them.
#pragma once

#include <Eigen/Core>

namespace totebench::solver {

enum class PairKind { kPointTriangle, kEdgeEdge };

// Columns, m: the point and the triangle's corners; or the ends of one edge and of the other.
using PairPoints = Eigen::Matrix<double, 3, 4>;

struct ClosestPoints {
  Eigen::Vector4d c = Eigen::Vector4d::Zero();
  // Free parameters: 2 inside the triangle or both edges, 1 along one edge, 0 between two corners.
  int n_interior = 0;
  // dc by each free parameter, in the first n_interior columns.
  Eigen::Matrix<double, 4, 2> slope = Eigen::Matrix<double, 4, 2>::Zero();
};

// Defined for every input: needle triangles, parallel edges and edges without length as well.
[[nodiscard]] ClosestPoints closest_points(PairKind kind, const PairPoints& points);

[[nodiscard]] double pair_distance(PairKind kind, const PairPoints& points);  // m
// No more than that, and quickly had: between the middles of both sides, less how far their points
// lie from them.
[[nodiscard]] double distance_at_least(PairKind kind, const PairPoints& points);  // m

}  // namespace totebench::solver
