#include "totebench/viz/tessellate.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <map>
#include <optional>
#include <tuple>

#include "totebench/solver/model.hpp"

namespace totebench::viz {
namespace {

constexpr int kCuts = 4;  // facets along an edge

Eigen::Vector3d curved_point(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& x, int triangle,
                             double xi, double eta) {
  const Eigen::Matrix<double, 6, 1> weight = solver::shape(xi, eta);
  Eigen::Vector3d p = Eigen::Vector3d::Zero();
  for (int i = 0; i < 6; ++i) p += weight[i] * x.col(mesh.triangles[triangle].node[i]);
  return p;
}

// One grid point of a triangle, named so that neighbours of the same group find it again.
using PointName = std::tuple<int, int, int, int>;  // group, then corner pair and place, or interior

PointName point_name(const solver::Triangle& triangle, int index, int group, int i, int j) {
  const int k = kCuts - i - j;  // grid weights of corners 0, 1, 2 are k, i, j
  const int weight[3] = {k, i, j};
  for (int c = 0; c < 3; ++c) {
    if (weight[c] == kCuts) return {group, triangle.node[c], -1, 0};
  }
  for (int c = 0; c < 3; ++c) {
    const int d = (c + 1) % 3;
    if (weight[3 - c - d] != 0) continue;
    const int a = triangle.node[c], b = triangle.node[d];
    return a < b ? PointName{group, a, b, weight[d]} : PointName{group, b, a, weight[c]};
  }
  return {group, -1 - index, i, j};
}

Eigen::Matrix3Xd matrix_of(const std::vector<Eigen::Vector3d>& points) {
  Eigen::Matrix3Xd matrix(3, static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i)
    matrix.col(static_cast<Eigen::Index>(i)) = points[i];
  return matrix;
}

// How steeply a value that is linear between the corners rises, and which way; per metre.
Eigen::Vector3d slope_of(const solver::Triangle& triangle, const Eigen::Matrix3Xd& x,
                         const std::array<double, 3>& corner) {
  const Eigen::Vector3d p = x.col(triangle.node[0]);
  const Eigen::Vector3d to1 = x.col(triangle.node[1]) - p, to2 = x.col(triangle.node[2]) - p;
  const Eigen::Vector3d normal = to1.cross(to2);
  if (!(normal.squaredNorm() > 0)) return Eigen::Vector3d::Zero();
  return ((corner[1] - corner[0]) * to2.cross(normal) +
          (corner[2] - corner[0]) * normal.cross(to1)) /
         normal.squaredNorm();
}

// What lifts a value half way along each edge off the straight line between the edge's ends, so
// that it bends as the slopes at these do, times 4.
CornerValues bends(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                   const std::vector<int>& which, const std::vector<int>& group,
                   const CornerValues& value) {
  std::map<std::pair<int, int>, std::pair<Eigen::Vector3d, double>> sums;  // (group, node)
  for (const int t : which) {
    const double area = solver::rest_area(mesh, t);
    const Eigen::Vector3d slope = slope_of(mesh.triangles[t], x, value[t]);
    for (int c = 0; c < 3; ++c) {
      auto& [sum, weight] =
          sums.try_emplace({group[t], mesh.triangles[t].node[c]}, Eigen::Vector3d::Zero(), 0.0)
              .first->second;
      sum += area * slope;
      weight += area;
    }
  }
  CornerValues bend(value.size(), {0, 0, 0});
  for (const int t : which) {
    const auto& node = mesh.triangles[t].node;
    const auto slope = [&](int n) -> Eigen::Vector3d {
      const auto& [sum, weight] = sums.at({group[t], n});
      return sum / weight;
    };
    for (int c = 0; c < 3; ++c) {
      const int a = node[c], b = node[(c + 1) % 3];
      bend[t][c] = 0.5 * (slope(a) - slope(b)).dot(x.col(b) - x.col(a));
    }
  }
  return bend;
}

}  // namespace

CornerValues smooth_to_corners(const solver::ShellMesh& mesh, const CornerValues& raw,
                               const std::vector<int>& group) {
  std::map<std::pair<int, int>, std::pair<double, double>> sums;  // (group, node) -> value, weight
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const double area = solver::rest_area(mesh, t);
    for (int c = 0; c < 3; ++c) {
      auto& [value, weight] = sums[{group[t], mesh.triangles[t].node[c]}];
      value += area * raw[t][c];
      weight += area;
    }
  }
  CornerValues corners(mesh.triangles.size());
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    for (int c = 0; c < 3; ++c) {
      const auto& [value, weight] = sums.at({group[t], mesh.triangles[t].node[c]});
      corners[t][c] = weight > 0 ? value / weight : raw[t][c];
    }
  }
  return corners;
}

DrawnSurface tessellate(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                        const std::vector<int>& which, const std::vector<int>& group,
                        const CornerValues* value) {
  DrawnSurface surface;
  std::map<PointName, int> known;
  std::vector<Eigen::Vector3d> points;
  const CornerValues bend =
      value == nullptr ? CornerValues() : bends(mesh, x, which, group, *value);
  for (const int t : which) {
    int grid[kCuts + 1][kCuts + 1] = {};
    for (int j = 0; j <= kCuts; ++j) {
      for (int i = 0; i + j <= kCuts; ++i) {
        const auto [place, is_new] = known.try_emplace(
            point_name(mesh.triangles[t], t, group[t], i, j), static_cast<int>(points.size()));
        grid[i][j] = place->second;
        if (!is_new) continue;
        const double xi = double(i) / kCuts, eta = double(j) / kCuts;
        points.push_back(curved_point(mesh, x, t, xi, eta));
        if (value != nullptr) {
          const auto& corner = (*value)[t];
          const double zeta = 1 - xi - eta;
          surface.value.push_back(zeta * corner[0] + xi * corner[1] + eta * corner[2] +
                                  zeta * xi * bend[t][0] + xi * eta * bend[t][1] +
                                  eta * zeta * bend[t][2]);
        }
      }
    }
    for (int j = 0; j < kCuts; ++j) {
      for (int i = 0; i + j < kCuts; ++i) {
        surface.triangles.push_back({grid[i][j], grid[i + 1][j], grid[i][j + 1]});
        if (i + j + 1 < kCuts) {
          surface.triangles.push_back({grid[i + 1][j], grid[i + 1][j + 1], grid[i][j + 1]});
        }
      }
    }
  }
  surface.points = matrix_of(points);
  return surface;
}

std::vector<Eigen::Matrix3Xd> panel_outlines(const solver::ShellMesh& mesh,
                                             const Eigen::Matrix3Xd& x,
                                             const std::vector<int>& which,
                                             const std::vector<int>& group) {
  struct Side {
    int triangle, edge, group, count;
    bool differs;
  };
  std::map<std::pair<int, int>, Side> sides;
  for (const int t : which) {
    for (int k = 0; k < 3; ++k) {
      const auto ends = std::minmax(mesh.triangles[t].node[k], mesh.triangles[t].node[(k + 1) % 3]);
      const auto [place, is_new] = sides.try_emplace(ends, Side{t, k, group[t], 0, false});
      ++place->second.count;
      if (!is_new && group[t] != place->second.group) place->second.differs = true;
    }
  }
  static const double kCorner[3][2] = {{0, 0}, {1, 0}, {0, 1}};
  std::vector<Eigen::Matrix3Xd> lines;
  for (const auto& [ends, side] : sides) {
    if (side.count > 1 && !side.differs) continue;
    Eigen::Matrix3Xd line(3, kCuts + 1);
    const double* from = kCorner[side.edge];
    const double* to = kCorner[(side.edge + 1) % 3];
    for (int i = 0; i <= kCuts; ++i) {
      const double s = double(i) / kCuts;
      line.col(i) = curved_point(mesh, x, side.triangle, (1 - s) * from[0] + s * to[0],
                                 (1 - s) * from[1] + s * to[1]);
    }
    lines.push_back(line);
  }
  return lines;
}

std::vector<Eigen::Matrix3Xd> cut(const DrawnSurface& surface, const Eigen::Vector3d& normal,
                                  double offset_m) {
  using Edge = std::pair<int, int>;
  const auto height = [&](int i) {
    const double h = normal.dot(surface.points.col(i)) - offset_m;
    return h == 0 ? 1e-12 : h;  // a point exactly in the plane counts as just above it
  };
  std::map<Edge, Eigen::Vector3d> crossing;
  std::map<Edge, std::vector<Edge>> next;
  for (const auto& triangle : surface.triangles) {
    std::vector<Edge> crossed;
    for (int k = 0; k < 3; ++k) {
      const Edge edge = std::minmax(triangle[k], triangle[(k + 1) % 3]);
      const double a = height(edge.first), b = height(edge.second);
      if ((a > 0) == (b > 0)) continue;
      crossing.try_emplace(
          edge,
          surface.points.col(edge.first) +
              a / (a - b) * (surface.points.col(edge.second) - surface.points.col(edge.first)));
      crossed.push_back(edge);
    }
    if (crossed.size() != 2) continue;
    next[crossed[0]].push_back(crossed[1]);
    next[crossed[1]].push_back(crossed[0]);
  }
  std::vector<Eigen::Matrix3Xd> lines;
  const auto walk = [&](Edge at) {
    std::vector<Eigen::Vector3d> line{crossing.at(at)};
    while (!next[at].empty()) {
      const Edge to = next[at].back();
      next[at].pop_back();
      auto& back = next[to];
      back.erase(std::find(back.begin(), back.end(), at));
      line.push_back(crossing.at(to));
      at = to;
    }
    if (line.size() > 1) lines.push_back(matrix_of(line));
  };
  std::vector<Edge> ends;
  for (const auto& [edge, neighbours] : next) {
    if (neighbours.size() == 1) ends.push_back(edge);
  }
  for (const Edge& edge : ends) walk(edge);
  for (const auto& [edge, point] : crossing) walk(edge);  // closed curves
  return lines;
}

std::vector<Eigen::Matrix3Xd> dashed(const std::vector<Eigen::Matrix3Xd>& polylines, double dash_m,
                                     double gap_m) {
  std::vector<Eigen::Matrix3Xd> dashes;
  for (const Eigen::Matrix3Xd& line : polylines) {
    std::vector<Eigen::Vector3d> current{line.col(0)};
    bool drawing = true;
    double left = dash_m;
    for (Eigen::Index i = 1; i < line.cols(); ++i) {
      Eigen::Vector3d at = line.col(i - 1);
      double length = (line.col(i) - at).norm();
      if (!(length > 0)) continue;
      const Eigen::Vector3d along = (line.col(i) - at) / length;
      while (length > left) {
        at += left * along;
        length -= left;
        if (drawing) {
          current.push_back(at);
          dashes.push_back(matrix_of(current));
        }
        current = {at};
        drawing = !drawing;
        left = drawing ? dash_m : gap_m;
      }
      left -= length;
      if (drawing) current.push_back(line.col(i));
    }
    if (drawing && current.size() > 1) dashes.push_back(matrix_of(current));
  }
  return dashes;
}

}  // namespace totebench::viz
