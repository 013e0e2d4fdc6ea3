#include "totebench/solver/body.hpp"

#include <cmath>
#include <map>
#include <numbers>
#include <utility>
#include <vector>

namespace totebench::solver {
namespace {

using Eigen::Vector3d;

constexpr int kSphereSplits = 2;

BodySkin skin_of(const std::vector<Vector3d>& points, std::vector<std::array<int, 3>> faces,
                 BodySkin::Round round = BodySkin::Round::kNone) {
  BodySkin skin;
  skin.round = round;
  skin.point_m = Eigen::Map<const Eigen::Matrix3Xd>(points.front().data(), 3,
                                                    static_cast<Eigen::Index>(points.size()));
  skin.face = std::move(faces);
  // A ridge stands between two faces that are not in one plane.
  std::map<std::pair<int, int>, std::vector<Vector3d>> normals;
  for (const auto& [i, j, k] : skin.face) {
    const Vector3d n = (points[j] - points[i]).cross(points[k] - points[i]).normalized();
    for (const auto& [a, b] : {std::pair(i, j), std::pair(j, k), std::pair(k, i)}) {
      normals[std::minmax(a, b)].push_back(n);
    }
  }
  for (const auto& [ends, n] : normals) {
    if (n.size() == 2 && n[0].cross(n[1]).norm() > 1e-9) {
      skin.edge.push_back({ends.first, ends.second});
    }
  }
  return skin;
}

Body body_of(BodySkin skin, double mass_kg, double mean_inertia_per_kg) {
  Body body;
  body.skin = std::move(skin);
  body.mass_kg = mass_kg;
  body.turning_inertia_kg_m2 = mass_kg * mean_inertia_per_kg;
  return body;
}

}  // namespace

Body box_body(const Vector3d& size_m, double mass_kg) {
  std::vector<Vector3d> points;
  for (int i = 0; i < 8; ++i) {
    points.emplace_back((i & 1) != 0 ? 0.5 : -0.5, (i & 2) != 0 ? 0.5 : -0.5,
                        (i & 4) != 0 ? 0.5 : -0.5);
    points.back().array() *= size_m.array();
  }
  const std::vector<std::array<int, 3>> faces = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6},
                                                 {0, 1, 5}, {0, 5, 4}, {2, 6, 7}, {2, 7, 3},
                                                 {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};
  // Principal moments (b^2 + c^2)/12 and so on: their mean.
  return body_of(skin_of(points, faces), mass_kg, size_m.squaredNorm() / 18);
}

Body cylinder_body(double diameter_m, double height_m, double mass_kg, int sides) {
  // Area of a polygon of n sides about a circle's centre: n/2 r^2 sin(2 pi / n).
  const double step = 2 * std::numbers::pi / sides;
  const double radius = 0.5 * diameter_m * std::sqrt(step / std::sin(step));
  std::vector<Vector3d> points;
  std::vector<std::array<int, 3>> faces;
  for (int i = 0; i < sides; ++i) {
    for (const double z : {-0.5, 0.5}) {
      points.emplace_back(radius * std::cos(step * i), radius * std::sin(step * i), z * height_m);
    }
  }
  for (int i = 0; i < sides; ++i) {
    const int a = 2 * i, b = 2 * ((i + 1) % sides);
    faces.push_back({a, b, b + 1});
    faces.push_back({a, b + 1, a + 1});
  }
  for (int i = 1; i + 1 < sides; ++i) {
    faces.push_back({0, 2 * (i + 1), 2 * i});
    faces.push_back({1, 2 * i + 1, 2 * (i + 1) + 1});
  }
  // r^2/2 about the axis, r^2/4 + h^2/12 across it.
  const double r_sq = diameter_m * diameter_m / 4;
  return body_of(skin_of(points, faces, BodySkin::Round::kCylinder), mass_kg,
                 (r_sq / 2 + 2 * (r_sq / 4 + height_m * height_m / 12)) / 3);
}

Body sphere_body(double diameter_m, double mass_kg) {
  const double golden = 0.5 * (1 + std::sqrt(5.0));
  std::vector<Vector3d> points;
  for (const double s : {-1.0, 1.0}) {
    for (const double t : {-golden, golden}) {
      points.emplace_back(0, s, t);
      points.emplace_back(s, t, 0);
      points.emplace_back(t, 0, s);
    }
  }
  for (Vector3d& p : points) p.normalize();
  // Corners beside each other stand 63.4 degrees apart, others 116.6 or more.
  std::vector<std::array<int, 3>> faces;
  const auto beside = [&](int i, int j) { return points[i].dot(points[j]) > 0.4; };
  for (int i = 0; i < 12; ++i) {
    for (int j = i + 1; j < 12; ++j) {
      for (int k = j + 1; k < 12; ++k) {
        if (!beside(i, j) || !beside(j, k) || !beside(k, i)) continue;
        const bool outwards = points[i].cross(points[j]).dot(points[k]) > 0;
        faces.push_back(outwards ? std::array{i, j, k} : std::array{i, k, j});
      }
    }
  }
  for (int split = 0; split < kSphereSplits; ++split) {
    std::map<std::pair<int, int>, int> middles;
    const auto middle = [&](int i, int j) {
      const auto [at, is_new] =
          middles.try_emplace(std::minmax(i, j), static_cast<int>(points.size()));
      if (is_new) points.push_back((points[i] + points[j]).normalized());
      return at->second;
    };
    std::vector<std::array<int, 3>> finer;
    for (const auto& [i, j, k] : faces) {
      const int a = middle(i, j), b = middle(j, k), c = middle(k, i);
      finer.insert(finer.end(), {{i, a, c}, {a, j, b}, {c, b, k}, {a, b, c}});
    }
    faces = std::move(finer);
  }
  BodySkin skin = skin_of(points, faces, BodySkin::Round::kBall);
  const double wanted = std::numbers::pi / 6 * std::pow(diameter_m, 3);
  skin.point_m *= std::cbrt(wanted / volume_of(skin));
  return body_of(std::move(skin), mass_kg, diameter_m * diameter_m / 10);
}

double volume_of(const BodySkin& skin) {
  double six = 0;
  for (const auto& [i, j, k] : skin.face) {
    six += skin.point_m.col(i).dot(skin.point_m.col(j).cross(skin.point_m.col(k)));
  }
  return six / 6;
}

}  // namespace totebench::solver
