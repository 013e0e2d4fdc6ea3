// Pairs of a point and a triangle, and of two edges, of about a centimetre.
#pragma once

#include <Eigen/Geometry>
#include <random>
#include <string>
#include <vector>

#include "solver/contact/closest_points.hpp"

namespace totebench::test {

struct PairCase {
  std::string name;
  solver::PairKind kind;
  solver::PairPoints points;  // m
  int n_interior;             // of the closest points
};

inline solver::PairPoints from_mm(const Eigen::Matrix<double, 4, 3>& rows_mm) {
  return 1e-3 * rows_mm.transpose();
}

// Every way in which the closest points can lie, about half a millimetre apart.
inline std::vector<PairCase> closest_feature_cases() {
  using solver::PairKind;
  Eigen::Matrix<double, 3, 3> triangle;
  triangle << 0, 0, 0, 10, 1, 0.3, 2, 8, -0.2;
  const Eigen::RowVector3d a = triangle.row(0);
  const Eigen::RowVector3d b = triangle.row(1);
  const Eigen::RowVector3d c = triangle.row(2);
  const auto over = [&](const Eigen::RowVector3d& p) {
    Eigen::Matrix<double, 4, 3> rows;
    rows << p, triangle;
    return from_mm(rows);
  };
  const auto edges = [](std::initializer_list<double> mm) {
    Eigen::Matrix<double, 4, 3, Eigen::RowMajor> rows;
    std::copy(mm.begin(), mm.end(), rows.data());
    return from_mm(rows);
  };
  return {
      {"face", PairKind::kPointTriangle, over((a + b + c) / 3 + Eigen::RowVector3d(0, 0, 0.5)), 2},
      {"edge ab", PairKind::kPointTriangle, over({4, 0.1, 0.5}), 1},
      {"edge bc", PairKind::kPointTriangle, over({6.4, 4.9, 0.4}), 1},
      {"edge ca", PairKind::kPointTriangle, over({0.7, 4, -0.5}), 1},
      {"corner a", PairKind::kPointTriangle, over({-0.3, -0.3, 0.3}), 0},
      {"corner b", PairKind::kPointTriangle, over({10.4, 1.1, 0.6}), 0},
      {"corner c", PairKind::kPointTriangle, over({1.9, 8.4, 0.1}), 0},
      {"crossing edges", PairKind::kEdgeEdge,
       edges({-4, 0.2, 0, 5, -0.3, 0.1, 1, -5, 0.5, -0.5, 6, 0.6}), 2},
      {"end over edge", PairKind::kEdgeEdge,
       edges({-4, 0, 0, 5, 0.2, 0.1, 1, 0.2, 0.5, 1.3, 6, 0.9}), 1},
      {"edge under end", PairKind::kEdgeEdge,
       edges({1, 0.2, 0.5, 1.3, 6, 0.9, -4, 0, 0, 5, 0.2, 0.1}), 1},
      {"end to end", PairKind::kEdgeEdge, edges({0, 0, 0, 9, 1, 0, -0.4, 0.1, 0.3, -8, 3, 2}), 0},
      {"nearly parallel", PairKind::kEdgeEdge,
       edges({0, 0.05, 0, 10, -0.05, 0, 1, 0, 0.5, 9, 0.03, 0.502}), 2},
  };
}

inline solver::PairPoints random_points(std::mt19937& random, double size) {
  std::uniform_real_distribution<double> uniform(-size, size);
  solver::PairPoints points;
  for (int j = 0; j < 4; ++j) {
    for (int i = 0; i < 3; ++i) points(i, j) = uniform(random);
  }
  return points;
}

}  // namespace totebench::test
