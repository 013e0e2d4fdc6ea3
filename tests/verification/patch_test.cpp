#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <functional>
#include <set>

#include "book_picture.hpp"
#include "sheet_case.hpp"

namespace totebench::verification {
namespace {

// Plate and numbers of both patch tests: MacNeal and Harder, A proposed standard set of problems
// to test finite element accuracy, FE Anal. Des. 1 (1985) 3-20 (node places from memory; the
// expected stresses follow from the prescribed fields).
const Source kPatch = {"patch", "MacNeal and Harder, FE Anal. Des. 1 (1985) 3-20, patch tests",
                       "exact but for terms of large strain and of double curvature"};
constexpr double kPatchLength = 0.24;
constexpr double kPatchWidth = 0.12;
constexpr double kModulus = 1e6;
constexpr double kPoisson = 0.25;
constexpr double kPatchThickness = 0.001;

solver::Section patch_section() {
  const scenes::Scene scene = flat_sheet(1, 1, {kModulus, kPoisson, kPatchThickness, 0}, 1);
  scenes::Scene held = scene;
  hold_edge(held, "border");
  return built(held).model.sections[0];
}

// The published patch: four inner nodes, five quadrilaterals, each cut in two.
solver::Model published_patch() {
  Eigen::Matrix3Xd corners(3, 8);
  corners << 0, 0.24, 0.24, 0, 0.04, 0.18, 0.16, 0.08,  //
      0, 0, 0.12, 0.12, 0.02, 0.03, 0.08, 0.08,         //
      0, 0, 0, 0, 0, 0, 0, 0;
  solver::Model model;
  model.mesh = solver::second_order_mesh(corners, {{0, 1, 5},
                                                   {0, 5, 4},
                                                   {1, 2, 6},
                                                   {1, 6, 5},
                                                   {2, 3, 7},
                                                   {2, 7, 6},
                                                   {3, 0, 4},
                                                   {3, 4, 7},
                                                   {4, 5, 6},
                                                   {4, 6, 7}});
  model.mesh.warp.assign(model.mesh.triangles.size(), Eigen::Vector3d::UnitX());
  model.sections = {patch_section()};
  return model;
}

// The same plate, meshed like any coupon, with the warp turned so that axes do not help.
solver::Model unstructured_patch() {
  scenes::Scene scene =
      flat_sheet(kPatchLength, kPatchWidth, {kModulus, kPoisson, kPatchThickness, 0}, 0.03);
  hold_edge(scene, "border");
  scene.sheet.warp_angle_rad = 0.4;
  return built(scene).model;
}

bool on_border(const Eigen::Vector3d& p) {
  const double tiny = 1e-9;
  return p.x() < tiny || p.y() < tiny || p.x() > kPatchLength - tiny || p.y() > kPatchWidth - tiny;
}

// Holds the border where `field` puts it, starts the inner nodes elsewhere, solves.
// The slope of the border is held too, as the field has it.
solver::State solve_patch(solver::Model& model,
                          const std::function<Eigen::Vector3d(const Eigen::Vector3d&)>& field,
                          double offset) {
  solver::ShellMesh& mesh = model.mesh;
  model.fixed.clear();
  mesh.labelled_edges.clear();
  const Eigen::Matrix3Xd flat = mesh.position;
  std::set<int> border;
  for (int i = 0; i < mesh.n_nodes(); ++i) {
    if (on_border(flat.col(i))) {
      border.insert(i);
      for (int axis = 0; axis < 3; ++axis) model.fixed.push_back({i, axis});
    }
    mesh.position.col(i) += field(flat.col(i));
  }
  for (const solver::Triangle& t : mesh.triangles) {
    for (int k = 0; k < 3; ++k) {
      if (border.count(t.node[3 + k]) != 0) {
        mesh.labelled_edges.push_back({t.node[k], t.node[(k + 1) % 3], 1});
      }
    }
  }
  solver::EdgeRule rule;
  rule.label = 1;
  rule.clamped = true;
  model.edge_rules = {rule};
  // Nothing pulls: a force on a held node, which does no work, gives the residual its scale.
  model.payload_force_N = Eigen::Matrix3Xd::Zero(3, mesh.n_nodes());
  model.payload_force_N(0, *border.begin()) = 1e-4;

  solver::State state = solver::start_state(model);
  for (int i = 0; i < mesh.n_nodes(); ++i) {
    if (border.count(i) == 0) {
      state.x.col(i) += offset * Eigen::Vector3d(std::sin(7.0 * i), std::cos(3.0 * i), std::sin(i));
    }
  }
  const solver::SolveReport report = solver::find_equilibrium(model, 1, state);
  EXPECT_EQ(report.status, solver::SolveStatus::kConverged) << report.residual_relative;
  for (int i = 0; i < mesh.n_nodes(); ++i) {
    EXPECT_LT((state.x.col(i) - mesh.position.col(i)).norm(), 1e-3 * offset);
  }
  return state;
}

// Stress and moment resultants in x and y, whatever the warp.
Eigen::Vector3d along_xy(const Eigen::Vector3d& in_warp_axes, double warp_angle) {
  const double c = std::cos(warp_angle);
  const double s = std::sin(warp_angle);
  const Eigen::Vector3d n = in_warp_axes;
  return {c * c * n[0] + s * s * n[1] - 2 * c * s * n[2],
          s * s * n[0] + c * c * n[1] + 2 * c * s * n[2],
          c * s * (n[0] - n[1]) + (c * c - s * s) * n[2]};
}

double warp_angle_of(const solver::Model& model) {
  return std::atan2(model.mesh.warp[0].y(), model.mesh.warp[0].x());
}

// VERIFICATION  MembranePatch_ConstantStress
// Reference   MacNeal and Harder (1985), membrane patch test
// Inputs      0.24 x 0.12 m, E = 1e6, nu = 0.25, t = 0.001; on the border u = 1e-3 (x + y/2),
//             v = 1e-3 (y + x/2), here times 1e-3 so that large-strain terms (of relative size
//             6e-7) hardly show
// Expected    sx = sy = 1333.33, txy = 400.00 (times 1e-3) everywhere
// Ours        published patch and unstructured mesh: to 1e-6
// Tolerance   2e-6: exact but for the large-strain terms
void membrane_patch(solver::Model model, const std::string& mesh) {
  double worst = 4000.0 / 3;
  const double share = 1e-3;
  const double angle = warp_angle_of(model);
  const solver::State state = solve_patch(
      model,
      [&](const Eigen::Vector3d& p) {
        return Eigen::Vector3d(1e-3 * share * (p.x() + p.y() / 2),
                               1e-3 * share * (p.y() + p.x() / 2), 0);
      },
      1e-7);
  const solver::ShellFields fields = solver::shell_fields(model, state);
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    for (int q = 0; q < 3; ++q) {
      const Eigen::Vector3d stress =
          along_xy(fields.membrane_force[t].col(q), angle) / kPatchThickness / share;
      if (std::abs(stress[0] - 4000.0 / 3) > std::abs(worst - 4000.0 / 3)) worst = stress[0];
      EXPECT_NEAR(stress[0], 4000.0 / 3, 2e-6 * 1333);
      EXPECT_NEAR(stress[1], 4000.0 / 3, 2e-6 * 1333);
      EXPECT_NEAR(stress[2], 400, 2e-6 * 1333);
    }
  }
  expect_value(kPatch, "membrane patch, " + mesh + ", sx farthest off", worst, 4000.0 / 3, 2e-6,
               1333);
}
TEST(PatchTest, Membrane_PublishedPatch) { membrane_patch(published_patch(), "published mesh"); }
TEST(PatchTest, Membrane_UnstructuredMesh) { membrane_patch(unstructured_patch(), "coupon mesh"); }

// VERIFICATION  BendingPatch_ConstantMoment
// Reference   MacNeal and Harder (1985), plate bending patch test
// Inputs      the same plate; on the border w = 1e-3 (x^2 + x y + y^2)/2 and its slopes, here
//             times 0.1 so that the stretching of a doubly curved sheet does not show
// Expected    Mx = My = 1.1111e-7, Mxy = 3.3333e-8 per length (times 0.1), negative in our sign
//             (the centre of curvature lies on the normal's side)
// Ours        published patch and unstructured mesh: to 1e-5
// Tolerance   1e-4: stretching falls with the square of the amplitude, 1e-5 here
void bending_patch(solver::Model model, const std::string& mesh) {
  double worst = -1.0e-6 / 9;
  const double share = 0.1;
  const double angle = warp_angle_of(model);
  const solver::State state = solve_patch(
      model,
      [&](const Eigen::Vector3d& p) {
        return Eigen::Vector3d(0, 0,
                               1e-3 * share * (p.x() * p.x() + p.x() * p.y() + p.y() * p.y()) / 2);
      },
      1e-6);
  if (mesh == "published mesh") draw("patch", model, state, {-60, 35, 100});
  const solver::ShellFields fields = solver::shell_fields(model, state);
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    for (int q = 0; q < 3; ++q) {
      const Eigen::Vector3d moment = along_xy(fields.bending_moment[t].col(q), angle) / share;
      if (std::abs(moment[0] + 1.0e-6 / 9) > std::abs(worst + 1.0e-6 / 9)) worst = moment[0];
      EXPECT_NEAR(moment[0], -1.0e-6 / 9, 1e-4 * 1.1e-7);
      EXPECT_NEAR(moment[1], -1.0e-6 / 9, 1e-4 * 1.1e-7);
      EXPECT_NEAR(moment[2], -1.0e-7 / 3, 1e-4 * 1.1e-7);
    }
  }
  expect_value(kPatch, "bending patch, " + mesh + ", Mx farthest off", -worst, 1.0e-6 / 9, 1e-4,
               1.111e-7);
}
TEST(PatchTest, Bending_PublishedPatch) { bending_patch(published_patch(), "published mesh"); }
TEST(PatchTest, Bending_UnstructuredMesh) { bending_patch(unstructured_patch(), "coupon mesh"); }

// A turned and carried coupon: nothing in it changes.
Eigen::Matrix3d some_rotation() {
  return (Eigen::AngleAxisd(2.1, Eigen::Vector3d(1, 2, -0.7).normalized())).toRotationMatrix();
}

TEST(RigidMotion, OfAnUnstrainedCurvedSheet_CausesNoStrain) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scene.sheet.geometry.shape = scenes::SheetShape::kSphere;
  scene.sheet.geometry.radius_m = 0.3;
  scene.sheet.geometry.from_angle_rad = 0;
  scene.sheet.geometry.to_angle_rad = 1.2;
  scene.sheet.geometry.from_latitude_rad = -0.3;
  scene.sheet.geometry.to_latitude_rad = 0.9;
  scene.sheet.plain = scenes::PlainSection{1e9, 0.3, 1e-3, 0.5};
  scene.mesh.size_m = 0.1;
  hold_edge(scene, "border");
  const solver::Model model = built(scene).model;
  solver::State state = solver::start_state(model);
  const Eigen::Matrix3d turn = some_rotation();
  for (const bool moved : {false, true}) {
    if (moved) {
      state.x = (turn * state.x).colwise() + Eigen::Vector3d(3, -1, 2);
      state.director = turn * state.director;
    }
    const solver::ShellFields fields = solver::shell_fields(model, state);
    for (int t = 0; t < model.mesh.n_triangles(); ++t) {
      EXPECT_LT(fields.membrane_strain[t].cwiseAbs().maxCoeff(), 1e-13);
      EXPECT_LT(fields.curvature[t].cwiseAbs().maxCoeff(), 1e-11);  // 1/m; that of the sphere is 3
    }
  }
}

TEST(RigidMotion, OfSheetSupportsAndDeadLoads_TurnsTheAnswerAlong) {
  scenes::Scene scene = flat_sheet(0.3, 0.1, {2e9, 0.3, 5e-4, 0}, 0.05);
  hold_edge(scene, "x0", {}, true);
  add_edge_force(scene, "x1", {0.3, 0.5, 4});
  add_probe(scene, {0.3, 0.1, 0});
  const Eigen::Vector3d applied = 0.1 * Eigen::Vector3d(0.3, 0.5, 4);
  const Solved plain = solve(scene, applied);
  ASSERT_GT(plain.displacement(0).norm(), 0.05);

  const Eigen::Matrix3d turn = some_rotation();
  scenes::SheetModel turned = built(scene);
  turned.model.mesh.position = turn * turned.model.mesh.position;
  turned.model.payload_force_N = turn * turned.model.payload_force_N;
  const Solved carried = solve(std::move(turned), turn * applied);
  EXPECT_LT((carried.displacement(0) - turn * plain.displacement(0)).norm(),
            1e-7 * plain.displacement(0).norm());
  EXPECT_NEAR(carried.report.energy_J, plain.report.energy_J,
              1e-10 * std::abs(plain.report.energy_J));
}

}  // namespace
}  // namespace totebench::verification
