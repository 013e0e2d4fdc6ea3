#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "scenes/builder/mesh/mesher.hpp"

namespace totebench {
namespace {

using Eigen::Vector2d;

double area_of(const scenes::PlanarMesh& mesh) {
  double area = 0;
  for (const auto& t : mesh.triangles) {
    const Vector2d u = mesh.points[t[1]] - mesh.points[t[0]];
    const Vector2d v = mesh.points[t[2]] - mesh.points[t[0]];
    const double twice = u.x() * v.y() - u.y() * v.x();
    EXPECT_GT(twice, 0) << "triangles must run counter-clockwise";
    area += twice / 2;
  }
  return area;
}

scenes::PlanarRegion rectangle(double w, double h) {
  scenes::PlanarRegion region;
  region.points = {{0, 0}, {w, 0}, {w, h}, {0, h}};
  region.segments = {{0, 1}, {1, 2}, {2, 3}, {3, 0}};
  return region;
}

int add_line(scenes::PlanarRegion& region, const Vector2d& a, const Vector2d& b) {
  const int first = static_cast<int>(region.points.size());
  region.points.push_back(a);
  region.points.push_back(b);
  region.segments.push_back({first, first + 1});
  return static_cast<int>(region.segments.size()) - 1;
}

double covered(const scenes::PlanarMesh& mesh, int segment) {
  double share = 0;
  for (const auto& piece : mesh.pieces) {
    if (piece.segment == segment) share += piece.to - piece.from;
  }
  return share;
}

TEST(Mesher, RectangleWithCrossingLines_KeepsAreaAnglesAndLines) {
  scenes::PlanarRegion region = rectangle(0.38, 0.36);
  const int hem = add_line(region, {0, 0.33}, {0.38, 0.33});
  const int side = add_line(region, {0.10, 0.30}, {0.10, 0.36});
  const int bottom = add_line(region, {0.10, 0.30}, {0.136, 0.30});
  const int doubled = add_line(region, {0.05, 0.33}, {0.20, 0.33});  // lies on the hem
  for (const double size : {0.06, 0.03, 0.015}) {
    scenes::MeshingOptions options;
    options.size_m = size;
    const scenes::PlanarMesh mesh = scenes::mesh_region(region, options);
    EXPECT_NEAR(area_of(mesh), 0.38 * 0.36, 1e-12);
    EXPECT_GE(mesh.smallest_angle_deg(), 20.0);
    for (const int line : {0, 1, 2, 3, hem, side, bottom, doubled}) {
      EXPECT_NEAR(covered(mesh, line), 1.0, 1e-9) << "line " << line << " at size " << size;
    }
    double sum = 0;
    for (const auto& t : mesh.triangles) {
      for (int k = 0; k < 3; ++k) sum += (mesh.points[t[k]] - mesh.points[t[(k + 1) % 3]]).norm();
    }
    const double mean = sum / (3.0 * static_cast<double>(mesh.triangles.size()));
    EXPECT_LT(mean, 1.1 * size);
    EXPECT_GT(mean, 0.7 * size);
  }
}

TEST(Mesher, SameInput_GivesTheSameMesh) {
  scenes::MeshingOptions options;
  options.size_m = 0.03;
  scenes::PlanarRegion region = rectangle(0.4, 0.3);
  add_line(region, {0.05, 0.0}, {0.35, 0.3});
  const scenes::PlanarMesh a = scenes::mesh_region(region, options);
  const scenes::PlanarMesh b = scenes::mesh_region(region, options);
  ASSERT_EQ(a.triangles, b.triangles);
  for (std::size_t i = 0; i < a.points.size(); ++i) EXPECT_EQ(a.points[i], b.points[i]);
}

// Squares and lines of half a size more than a whole number of them: triangles that lie as well one
// way as the other, which only the last digits of a length could tell apart.
TEST(Mesher, LengthsThatDifferByRoundOff_GiveTheSameTriangles) {
  for (const double width : {0.3, 0.381, 0.4064, 0.5}) {
    for (const double cells : {8.0, 10.5, 12.0}) {
      const auto mesh_of = [&](double scale) {
        scenes::PlanarRegion region = rectangle(scale * width, width);
        add_line(region, {scale * 0.25 * width, 0}, {scale * 0.75 * width, width});
        scenes::MeshingOptions options;
        options.size_m = scale * width / cells;
        return scenes::mesh_region(region, options);
      };
      const scenes::PlanarMesh mesh = mesh_of(1);
      for (const double scale : {1 + 1e-14, 1 - 1e-14, 1 + 1e-13, 1 - 1e-13}) {
        EXPECT_EQ(mesh_of(scale).triangles, mesh.triangles) << width << " m, " << cells << " cells";
      }
    }
  }
}

TEST(Mesher, LocalSize_MakesTrianglesSmallWhereAsked) {
  scenes::MeshingOptions options;
  options.size_m = 0.05;
  options.local_size_m = [](const Vector2d& p) { return p.x() < 0.1 ? 0.01 : 0.05; };
  const scenes::PlanarMesh mesh = scenes::mesh_region(rectangle(0.4, 0.1), options);
  int left = 0;
  int right = 0;
  for (const auto& t : mesh.triangles) {
    const double x = (mesh.points[t[0]] + mesh.points[t[1]] + mesh.points[t[2]]).x() / 3;
    if (x < 0.1) ++left;
    if (x > 0.3) ++right;
  }
  EXPECT_GT(left, 5 * right);
}

TEST(Mesher, Hole_IsLeftEmpty) {
  scenes::PlanarRegion region = rectangle(1, 1);
  for (const auto& p : {Vector2d(.4, .4), Vector2d(.6, .4), Vector2d(.6, .6), Vector2d(.4, .6)}) {
    region.points.push_back(p);
  }
  for (int i = 0; i < 4; ++i) region.segments.push_back({4 + i, 4 + (i + 1) % 4});
  region.hole_points = {{0.5, 0.5}};
  scenes::MeshingOptions options;
  options.size_m = 0.1;
  EXPECT_NEAR(area_of(scenes::mesh_region(region, options)), 1 - 0.04, 1e-12);
}

TEST(Mesher, OpenOutline_IsRefused) {
  scenes::PlanarRegion region = rectangle(1, 1);
  region.segments.pop_back();
  scenes::MeshingOptions options;
  options.size_m = 0.2;
  EXPECT_THROW((void)scenes::mesh_region(region, options), std::invalid_argument);
}

TEST(Mesher, ArcChords_KeepTheAskedShareOfTheSector) {
  for (const double share : {0.04, 0.01, 0.002}) {
    const auto points = scenes::arc_points({0, 0}, 1, 0, std::numbers::pi / 2, share);
    double area = 0;
    for (std::size_t i = 1; i < points.size(); ++i) {
      area += 0.5 * (points[i - 1].x() * points[i].y() - points[i - 1].y() * points[i].x());
    }
    EXPECT_GT(area, (1 - share) * std::numbers::pi / 4);
    EXPECT_LT(area, std::numbers::pi / 4);
  }
}

}  // namespace
}  // namespace totebench
