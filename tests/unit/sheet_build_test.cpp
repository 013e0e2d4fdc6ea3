// From a sheet scene to a solver model: sections, supports, loads, probes, and what is refused.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <stdexcept>
#include <string>

#include "totebench/scenes/build.hpp"

namespace totebench {
namespace {

using Kind = scenes::SheetLoad::Kind;

scenes::Scene plate_scene() {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scene.mesh.size_m = 0.05;
  scenes::SheetScene& sheet = scene.sheet;
  sheet.geometry.shape = scenes::SheetShape::kRectangle;
  sheet.geometry.length_m = 0.4;
  sheet.geometry.width_m = 0.2;
  sheet.plain = scenes::PlainSection{1e9, 0.3, 1e-3, 0.5};
  scenes::SheetSupport held;
  held.where = "x0";
  held.clamp = true;
  sheet.supports = {held};
  return scene;
}

scenes::SheetLoad load_of(Kind kind, const std::string& where = "") {
  scenes::SheetLoad load;
  load.kind = kind;
  load.where = where;
  return load;
}

scenes::SheetModel built(const scenes::Scene& scene) {
  return scenes::build_sheet(scene, materials::MaterialLibrary());
}

std::string message_of(const scenes::Scene& scene) {
  try {
    (void)built(scene);
  } catch (const std::invalid_argument& error) {
    return error.what();
  }
  return "";
}

const solver::EdgeRule* rule_with(const solver::Model& model, bool solver::EdgeRule::*flag) {
  for (const solver::EdgeRule& rule : model.edge_rules) {
    if (rule.*flag) return &rule;
  }
  return nullptr;
}

TEST(BuildSheet, PlainSection_IsThePlateOfTheTextbook) {
  const solver::Section s = built(plate_scene()).model.sections.at(0);
  const double A = 1e9 * 1e-3 / (1 - 0.09);
  EXPECT_NEAR(s.A(0, 0), A, 1e-9 * A);
  EXPECT_NEAR(s.A(0, 1), 0.3 * A, 1e-9 * A);
  EXPECT_NEAR(s.A(2, 2), 0.35 * A, 1e-9 * A);
  EXPECT_NEAR(s.D(1, 1), A * 1e-6 / 12, 1e-9 * s.D(1, 1));
  EXPECT_EQ(s.B.norm(), 0);
  EXPECT_EQ(s.areal_mass_kg_per_m2, 0.5);
}

TEST(BuildSheet, ClampedEdge_HoldsAllItsNodesAndItsSlope) {
  const scenes::SheetModel sheet = built(plate_scene());
  const solver::Model& model = sheet.model;
  int on_edge = 0;
  for (int i = 0; i < model.mesh.n_nodes(); ++i) on_edge += model.mesh.position(0, i) == 0 ? 1 : 0;
  EXPECT_GE(on_edge, 9);
  EXPECT_EQ(static_cast<int>(model.fixed.size()), 3 * on_edge);
  for (const solver::FixedDof& dof : model.fixed) EXPECT_EQ(model.mesh.position(0, dof.node), 0);
  ASSERT_NE(rule_with(model, &solver::EdgeRule::clamped), nullptr);
}

TEST(BuildSheet, SupportsThatMeetAtACorner_HoldItOnce) {
  scenes::Scene scene = plate_scene();
  scenes::SheetSupport side;
  side.where = "y0";
  scene.sheet.supports.push_back(side);
  const solver::Model model = built(scene).model;
  for (std::size_t i = 0; i < model.fixed.size(); ++i) {
    for (std::size_t j = i + 1; j < model.fixed.size(); ++j) {
      EXPECT_FALSE(model.fixed[i].node == model.fixed[j].node &&
                   model.fixed[i].axis == model.fixed[j].axis);
    }
  }
}

TEST(BuildSheet, DeadLoads_AddUpToWhatWasAsked) {
  scenes::Scene scene = plate_scene();
  scenes::SheetLoad area = load_of(Kind::kAreaForce);
  area.vector = {1, 2, -30};
  scenes::SheetLoad edge = load_of(Kind::kEdgeForce, "x1");
  edge.vector = {10, 0, 0};
  scenes::SheetLoad point = load_of(Kind::kPointForce);
  point.point_m = Eigen::Vector3d(0.21, 0.07, 0);
  point.vector = {0, 5, 0};
  scene.sheet.loads = {area, edge, point, load_of(Kind::kGravity)};
  const solver::Model model = built(scene).model;
  const Eigen::Vector3d expected(1 * 0.08 + 10 * 0.2, 2 * 0.08 + 5, -30 * 0.08);
  EXPECT_LT((model.payload_force_N.rowwise().sum() - expected).norm(), 1e-12);
  EXPECT_NEAR(model.permanent_force_N.row(2).sum(), -0.5 * 0.08 * 9.80665, 1e-12);
}

TEST(BuildSheet, OwnWeightAlone_IsWhatTheLoadStepsRaise) {
  scenes::Scene scene = plate_scene();
  scene.sheet.loads = {load_of(Kind::kGravity)};
  const solver::Model model = built(scene).model;
  EXPECT_EQ(model.permanent_force_N.size(), 0);
  EXPECT_NEAR(model.payload_force_N.row(2).sum(), -0.5 * 0.08 * 9.80665, 1e-12);
}

TEST(BuildSheet, Fill_IsBehindTheNormalAndPressureStillPushesUp) {
  scenes::Scene scene = plate_scene();
  scenes::SheetLoad fill = load_of(Kind::kFill);
  fill.magnitude = 2;
  fill.bulk_density_kg_per_m3 = 1000;
  scenes::SheetLoad pressure = load_of(Kind::kPressure);
  pressure.magnitude = 40;
  scene.sheet.loads = {pressure};
  EXPECT_EQ(built(scene).model.payload_pressure_Pa.minCoeff(), 40);
  scene.sheet.loads = {pressure, fill};
  const solver::Model model = built(scene).model;
  EXPECT_EQ(model.payload_pressure_Pa.maxCoeff(), -40);  // along the normal, which points down now
  EXPECT_TRUE(model.fill.active());
  EXPECT_EQ(model.fill.triangles.size(), model.mesh.triangles.size());
  const solver::Matrix36d& x = model.mesh.rest.at(0);
  EXPECT_LT((x.col(1) - x.col(0)).cross(x.col(2) - x.col(0)).z(), 0);
}

TEST(BuildSheet, MovedSupports_MoveTheirNodesAlongWhatTheyHold) {
  scenes::Scene scene = plate_scene();
  scenes::SheetSupport end, corner;
  end.where = "x1";
  end.fix[1] = end.fix[2] = false;
  end.move_m = Eigen::Vector3d(0.01, 0, 0);
  corner.point_m = Eigen::Vector3d(0.4, 0, 0);
  corner.move_m = Eigen::Vector3d(0.02, 0, 0.03);
  scene.sheet.supports.push_back(end);
  scene.sheet.supports.push_back(corner);
  const scenes::SheetModel sheet = built(scene);
  const solver::Model& model = sheet.model;
  ASSERT_EQ(sheet.support_nodes.size(), 3u);
  ASSERT_EQ(model.support_move_m.cols(), model.mesh.n_nodes());
  for (const int node : sheet.support_nodes[0])
    EXPECT_TRUE(model.support_move_m.col(node).isZero());
  ASSERT_EQ(sheet.support_nodes[2].size(), 1u);
  const int at_corner = sheet.support_nodes[2].front();
  for (const int node : sheet.support_nodes[1]) {
    EXPECT_NEAR(model.mesh.position(0, node), 0.4, 1e-12);
    // The later support moves what both hold.
    const Eigen::Vector3d move =
        node == at_corner ? Eigen::Vector3d(0.02, 0, 0.03) : Eigen::Vector3d(0.01, 0, 0);
    EXPECT_EQ(model.support_move_m.col(node), move);
  }
  scene.sheet.supports[1].move_m = Eigen::Vector3d(0, 0, 0.01);
  EXPECT_NE(message_of(scene).find("moves along z but does not hold z"), std::string::npos);
}

TEST(BuildSheet, ProbesComeBackAsTheirNodes) {
  scenes::Scene scene = plate_scene();
  scene.sheet.probes = {{"middle", {0.2, 0.1, 0}}, {"tip", {0.4, 0.2, 0}}};
  const scenes::SheetModel sheet = built(scene);
  ASSERT_EQ(sheet.probe_nodes.size(), 2U);
  for (int i = 0; i < 2; ++i) {
    EXPECT_LT((sheet.model.mesh.position.col(sheet.probe_nodes[i]) - scene.sheet.probes[i].point_m)
                  .norm(),
              1e-12);
  }
}

TEST(BuildSheet, CurvedPatch_KeepsItsShapeAcrossInnerEdges) {
  scenes::Scene scene = plate_scene();
  scene.sheet.geometry.shape = scenes::SheetShape::kCylinder;
  scene.sheet.geometry.radius_m = 0.3;
  scene.sheet.geometry.from_angle_rad = -0.5;
  scene.sheet.geometry.to_angle_rad = 0.5;
  const solver::Model model = built(scene).model;
  bool as_placed = false;
  for (const solver::EdgeRule& rule : model.edge_rules)
    as_placed |= rule.joint == solver::Joint::kAsPlaced;
  EXPECT_TRUE(as_placed);
}

TEST(BuildSheet, WhatCannotBe_IsRefusedInOneSentence) {
  scenes::Scene scene = plate_scene();
  scene.sheet.supports[0].where = "left";
  EXPECT_NE(message_of(scene).find("no border \"left\": it has y0, x1, y1, x0, border"),
            std::string::npos);
  scene = plate_scene();
  scene.sheet.supports.clear();
  EXPECT_NE(message_of(scene).find("nothing holds"), std::string::npos);
  scene = plate_scene();
  scene.sheet.loads = {load_of(Kind::kPointForce)};
  EXPECT_NE(message_of(scene).find("a load of zero"), std::string::npos);
  scene.sheet.loads[0].vector = {0, 0, 1};
  EXPECT_NE(message_of(scene).find("needs the point"), std::string::npos);
  scene = plate_scene();
  scene.sheet.loads = {load_of(Kind::kFill)};
  EXPECT_NE(message_of(scene).find("mass and a bulk density"), std::string::npos);
  scene = plate_scene();
  scene.sheet.plain.reset();
  EXPECT_NE(message_of(scene).find("made of nothing"), std::string::npos);
  scene = plate_scene();
  scene.sheet.plain->thickness_m = 0;
  EXPECT_NE(message_of(scene).find("thickness"), std::string::npos);
  scene = plate_scene();
  scene.sheet.supports[0].where.clear();
  scene.sheet.supports[0].point_m = Eigen::Vector3d(0, 0, 0);
  EXPECT_NE(message_of(scene).find("a point cannot be clamped"), std::string::npos);
  scene = plate_scene();
  scene.mesh.size_m = 0;
  EXPECT_NE(message_of(scene).find("mesh size"), std::string::npos);
}

}  // namespace
}  // namespace totebench
