// The maps from a plane to the rest shapes of coupons.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <stdexcept>

#include "scenes/builder/sheet/chart.hpp"

namespace totebench {
namespace {

scenes::SheetGeometry chart_geometry(scenes::SheetShape shape) {
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

class EveryChart : public testing::TestWithParam<scenes::SheetShape> {
 protected:
  scenes::SheetChart chart_{chart_geometry(GetParam())};

  std::vector<Eigen::Vector2d> inner_points() const {
    // Between the corners of the outline and its middle: all charts are convex.
    const auto outline = chart_.outline(0.05, {});
    Eigen::Vector2d middle = Eigen::Vector2d::Zero();
    for (const auto& p : outline) middle += p / static_cast<double>(outline.size());
    std::vector<Eigen::Vector2d> points;
    for (const auto& p : outline) points.push_back(0.3 * middle + 0.7 * p);
    return points;
  }
};

TEST_P(EveryChart, ParametersOfAPlacedPoint_AreThoseItWasPlacedBy) {
  for (const Eigen::Vector2d& uv : inner_points()) {
    const auto found = chart_.parameters_of(chart_.place(uv));
    ASSERT_TRUE(found.has_value());
    EXPECT_LT((*found - uv).norm(), 1e-12);
  }
}

TEST_P(EveryChart, NormalIsSquareToTheSurfaceAndPositiveForCounterClockwiseMeshes) {
  const double step = 1e-6;
  for (const Eigen::Vector2d& uv : inner_points()) {
    const Eigen::Vector2d du(step, 0);
    const Eigen::Vector2d dv(0, step);
    const Eigen::Vector3d along_u = (chart_.place(uv + du) - chart_.place(uv - du)) / (2 * step);
    const Eigen::Vector3d along_v = (chart_.place(uv + dv) - chart_.place(uv - dv)) / (2 * step);
    EXPECT_LT((along_u.cross(along_v).normalized() - chart_.normal(uv)).norm(), 1e-8);
    EXPECT_LT(std::abs(chart_.tangent(uv).dot(chart_.normal(uv))), 1e-12);
  }
}

TEST_P(EveryChart, PointsOffTheSheet_AreNotFound) {
  for (const Eigen::Vector2d& uv : inner_points()) {
    EXPECT_FALSE(chart_.parameters_of(chart_.place(uv) + 0.01 * chart_.normal(uv)).has_value());
  }
  EXPECT_FALSE(chart_.parameters_of({3, 3, 3}).has_value());
}

TEST_P(EveryChart, OutlineHasNoStepAboveTheSizeAndKeepsFixedBorderPoints) {
  const auto free_outline = chart_.outline(0.02, {});
  const Eigen::Vector2d fixed =
      chart_.nearest_side(0.37 * free_outline[1] + 0.63 * free_outline[2]).foot;
  const auto outline = chart_.outline(0.02, {fixed});
  double nearest = 1;
  for (std::size_t i = 0; i < outline.size(); ++i) {
    EXPECT_LE((outline[(i + 1) % outline.size()] - outline[i]).norm(), 0.02 + 1e-12);
    EXPECT_LT(chart_.nearest_side(outline[i]).distance_m, 1e-12);
    nearest = std::min(nearest, (outline[i] - fixed).norm());
  }
  EXPECT_LT(nearest, 1e-12);
}

INSTANTIATE_TEST_SUITE_P(Shapes, EveryChart,
                         testing::Values(scenes::SheetShape::kStrip, scenes::SheetShape::kRectangle,
                                         scenes::SheetShape::kDisc, scenes::SheetShape::kAnnulus,
                                         scenes::SheetShape::kCylinder,
                                         scenes::SheetShape::kSphere));

TEST(SheetChart, OnASlit_ThePointOfTheToSideIsMeant) {
  scenes::SheetGeometry g = chart_geometry(scenes::SheetShape::kAnnulus);
  g.from_angle_rad = 0;
  g.to_angle_rad = 2 * M_PI;
  const scenes::SheetChart chart(g);
  const auto uv = chart.parameters_of({0.25, 0, 0});
  ASSERT_TRUE(uv.has_value());
  EXPECT_EQ(chart.side_names()[chart.nearest_side(*uv + Eigen::Vector2d(-0.01, 0)).side], "to");
}

TEST(SheetChart, CylinderHasItsTopAtAngleZeroAndItsAxisAlongX) {
  const scenes::SheetChart chart(chart_geometry(scenes::SheetShape::kCylinder));
  EXPECT_LT((chart.place({0.1, 0}) - Eigen::Vector3d(0.1, 0, 0.25)).norm(), 1e-15);
  EXPECT_LT((chart.normal({0.1, 0}) - Eigen::Vector3d::UnitZ()).norm(), 1e-15);
}

TEST(SheetChart, ImpossibleSizes_AreRefused) {
  scenes::SheetGeometry g = chart_geometry(scenes::SheetShape::kAnnulus);
  g.inner_radius_m = 0.3;  // larger than the outer radius
  EXPECT_THROW(scenes::SheetChart{g}, std::invalid_argument);
  g = chart_geometry(scenes::SheetShape::kAnnulus);
  g.to_angle_rad = g.from_angle_rad + 2.1 * M_PI;
  EXPECT_THROW(scenes::SheetChart{g}, std::invalid_argument);
  g = chart_geometry(scenes::SheetShape::kSphere);
  g.to_latitude_rad = M_PI / 2;
  EXPECT_THROW(scenes::SheetChart{g}, std::invalid_argument);
  g = chart_geometry(scenes::SheetShape::kStrip);
  g.width_m = 0;
  EXPECT_THROW(scenes::SheetChart{g}, std::invalid_argument);
}

}  // namespace
}  // namespace totebench
