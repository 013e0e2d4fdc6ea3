// Meshes of coupons: they fill the shape, lie on it, know their sides and hit the named points.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <map>
#include <stdexcept>

#include "scenes/builder/sheet/mesh.hpp"
#include "totebench/solver/model.hpp"

namespace totebench {
namespace {

scenes::SheetGeometry geometry_of(scenes::SheetShape shape) {
  scenes::SheetGeometry g;
  g.shape = shape;
  g.length_m = 0.4;
  g.width_m = 0.3;
  g.radius_m = 0.25;
  g.inner_radius_m = 0.1;
  g.from_angle_rad = -0.7;
  g.to_angle_rad = 1.1;
  g.from_latitude_rad = -0.2;
  g.to_latitude_rad = 0.9;
  return g;
}

double area_of(const solver::ShellMesh& mesh) {
  double area = 0;
  for (int t = 0; t < mesh.n_triangles(); ++t) area += solver::rest_area(mesh, t);
  return area;
}

double exact_area(const scenes::SheetGeometry& g) {
  const double turn = g.to_angle_rad - g.from_angle_rad;
  switch (g.shape) {
    case scenes::SheetShape::kDisc:
      return M_PI * g.radius_m * g.radius_m;
    case scenes::SheetShape::kAnnulus:
      return turn / 2 * (g.radius_m * g.radius_m - g.inner_radius_m * g.inner_radius_m);
    case scenes::SheetShape::kCylinder:
      return turn * g.radius_m * g.length_m;
    case scenes::SheetShape::kSphere:
      return turn * g.radius_m * g.radius_m *
             (std::sin(g.to_latitude_rad) - std::sin(g.from_latitude_rad));
    default:
      return g.length_m * g.width_m;
  }
}

class EveryShape : public testing::TestWithParam<scenes::SheetShape> {};

TEST_P(EveryShape, MeshFillsTheAreaOfTheShape) {
  const scenes::SheetGeometry g = geometry_of(GetParam());
  // Second-order triangles follow a circle to fourth order: 1e-5 at this size.
  EXPECT_NEAR(area_of(scenes::mesh_sheet(g, 0.03, 0, {}, false).shell) / exact_area(g), 1, 1e-5);
}

TEST_P(EveryShape, EveryBorderEdgeBelongsToTheSideItLiesOn) {
  const scenes::SheetGeometry g = geometry_of(GetParam());
  const scenes::SheetMesh mesh = scenes::mesh_sheet(g, 0.03, 0, {}, false);
  const double one = 1.0;
  std::map<std::string, double> length;
  for (const auto& [name, label] : mesh.side_labels) {
    length[name] = solver::edge_load(mesh.shell, label, one * Eigen::Vector3d::UnitX()).sum();
  }
  const double turn = g.to_angle_rad - g.from_angle_rad;
  switch (g.shape) {
    case scenes::SheetShape::kDisc:
      EXPECT_NEAR(length.at("outer"), 2 * M_PI * g.radius_m, 1e-5);
      break;
    case scenes::SheetShape::kAnnulus:
      EXPECT_NEAR(length.at("inner"), turn * g.inner_radius_m, 1e-5);
      EXPECT_NEAR(length.at("outer"), turn * g.radius_m, 1e-5);
      EXPECT_NEAR(length.at("from"), g.radius_m - g.inner_radius_m, 1e-12);
      EXPECT_NEAR(length.at("to"), g.radius_m - g.inner_radius_m, 1e-12);
      break;
    case scenes::SheetShape::kCylinder:
      EXPECT_NEAR(length.at("x0"), turn * g.radius_m, 1e-5);
      EXPECT_NEAR(length.at("from"), g.length_m, 1e-12);
      break;
    case scenes::SheetShape::kSphere:
      EXPECT_NEAR(length.at("inner"), turn * g.radius_m * std::cos(g.from_latitude_rad), 1e-5);
      EXPECT_NEAR(length.at("to"), g.radius_m * (g.to_latitude_rad - g.from_latitude_rad), 1e-5);
      break;
    default:
      EXPECT_NEAR(length.at("x0"), g.width_m, 1e-12);
      EXPECT_NEAR(length.at("y1"), g.length_m, 1e-12);
  }
}

TEST_P(EveryShape, FaceDown_TurnsEveryTriangleOver) {
  const scenes::SheetGeometry g = geometry_of(GetParam());
  for (const bool face_down : {false, true}) {
    const scenes::SheetMesh mesh = scenes::mesh_sheet(g, 0.05, 0, {}, face_down);
    EXPECT_EQ(mesh.facing, face_down ? -1 : 1);
    for (int t = 0; t < mesh.shell.n_triangles(); ++t) {
      const solver::Matrix36d& x = mesh.shell.rest[t];
      const Eigen::Vector3d n = (x.col(1) - x.col(0)).cross(x.col(2) - x.col(0));
      Eigen::Vector3d outward = Eigen::Vector3d::UnitZ();
      if (g.shape == scenes::SheetShape::kCylinder) outward = {0, x(1, 0), x(2, 0)};
      if (g.shape == scenes::SheetShape::kSphere) outward = x.col(0);
      EXPECT_GT(mesh.facing * n.dot(outward), 0);
      EXPECT_LT(std::abs(mesh.shell.warp[t].dot(n.normalized())), 0.2);
    }
  }
}

INSTANTIATE_TEST_SUITE_P(Shapes, EveryShape,
                         testing::Values(scenes::SheetShape::kStrip, scenes::SheetShape::kRectangle,
                                         scenes::SheetShape::kDisc, scenes::SheetShape::kAnnulus,
                                         scenes::SheetShape::kCylinder,
                                         scenes::SheetShape::kSphere));

TEST(SheetMesh, NamedPoints_AreNodesToTheLastDigits) {
  const scenes::SheetGeometry g = geometry_of(scenes::SheetShape::kRectangle);
  const std::vector<Eigen::Vector3d> named = {
      {0.2, 0.15, 0}, {0.0313, 0.2871, 0}, {0.4, 0.1234, 0}, {0, 0, 0}, {0.1, 0.003, 0}};
  const scenes::SheetMesh mesh = scenes::mesh_sheet(g, 0.04, 0, named, false);
  for (const Eigen::Vector3d& point : named) {
    EXPECT_LT((mesh.shell.position.col(mesh.node_at(point)) - point).norm(), 1e-12);
  }
}

TEST(SheetMesh, MidEdgeNodesOfACurvedPatch_LieOnTheTrueSurface) {
  const scenes::SheetMesh cylinder =
      scenes::mesh_sheet(geometry_of(scenes::SheetShape::kCylinder), 0.06, 0, {}, false);
  const scenes::SheetMesh sphere =
      scenes::mesh_sheet(geometry_of(scenes::SheetShape::kSphere), 0.06, 0, {}, false);
  EXPECT_LT(
      (cylinder.shell.position.bottomRows<2>().colwise().norm().array() - 0.25).abs().maxCoeff(),
      1e-14);
  EXPECT_LT((sphere.shell.position.colwise().norm().array() - 0.25).abs().maxCoeff(), 1e-14);
  EXPECT_NE(cylinder.crease_label, 0);
}

TEST(SheetMesh, Slit_KeepsItsTwoSidesApart) {
  scenes::SheetGeometry g = geometry_of(scenes::SheetShape::kAnnulus);
  g.from_angle_rad = 0;
  g.to_angle_rad = 2 * M_PI;
  const Eigen::Vector3d corner(g.radius_m, 0, 0);
  const scenes::SheetMesh mesh = scenes::mesh_sheet(g, 0.05, 0, {corner}, false);
  int there = 0;
  for (int i = 0; i < mesh.shell.n_nodes(); ++i) {
    there += (mesh.shell.position.col(i) - corner).norm() < 1e-9 ? 1 : 0;
  }
  EXPECT_EQ(there, 2);
  const Eigen::Matrix3Xd on_to =
      solver::edge_load(mesh.shell, mesh.side_labels.at("to"), Eigen::Vector3d::UnitZ());
  EXPECT_GT(on_to(2, mesh.node_at(corner)), 0);  // the named point is the one of the `to` side
}

TEST(SheetMesh, WarpAngle_TurnsTheWarpInTheSheet) {
  const scenes::SheetMesh mesh =
      scenes::mesh_sheet(geometry_of(scenes::SheetShape::kStrip), 0.1, M_PI / 6, {}, false);
  for (const Eigen::Vector3d& warp : mesh.shell.warp) {
    EXPECT_LT((warp - Eigen::Vector3d(std::cos(M_PI / 6), 0.5, 0)).norm(), 1e-14);
  }
}

TEST(SheetMesh, PointOffTheSheetAndAbsurdSize_AreRefused) {
  const scenes::SheetGeometry g = geometry_of(scenes::SheetShape::kRectangle);
  EXPECT_THROW((void)scenes::mesh_sheet(g, 0.05, 0, {{0.5, 0.1, 0}}, false), std::invalid_argument);
  EXPECT_THROW((void)scenes::mesh_sheet(g, 1e-6, 0, {}, false), std::invalid_argument);
}

}  // namespace
}  // namespace totebench
