#include "sheet_case.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

namespace totebench::verification {

scenes::Scene flat_sheet(double length_m, double width_m, const scenes::PlainSection& section,
                         double mesh_size_m) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scene.sheet.geometry.shape = scenes::SheetShape::kRectangle;
  scene.sheet.geometry.length_m = length_m;
  scene.sheet.geometry.width_m = width_m;
  scene.sheet.plain = section;
  scene.mesh.size_m = mesh_size_m;
  return scene;
}

scenes::PlainSection section_of(double membrane_N_per_m, double bending_rigidity_N_m,
                                double poisson_ratio, double areal_mass_kg_per_m2) {
  // D / A = h^2 / 12.
  const double thickness = std::sqrt(12 * bending_rigidity_N_m / membrane_N_per_m);
  const double modulus = membrane_N_per_m * (1 - poisson_ratio * poisson_ratio) / thickness;
  return {modulus, poisson_ratio, thickness, areal_mass_kg_per_m2};
}

void hold_edge(scenes::Scene& scene, const std::string& where, Fix fix, bool clamp) {
  scenes::SheetSupport support;
  support.where = where;
  support.fix[0] = fix.x;
  support.fix[1] = fix.y;
  support.fix[2] = fix.z;
  support.clamp = clamp;
  scene.sheet.supports.push_back(support);
}

void hold_point(scenes::Scene& scene, const Eigen::Vector3d& point, Fix fix) {
  hold_edge(scene, "", fix);
  scene.sheet.supports.back().point_m = point;
}

void hold_in_plane(scenes::Scene& scene) {
  hold_point(scene, {0, 0, 0}, {true, true, false});
  hold_point(scene, {scene.sheet.geometry.length_m, 0, 0}, {false, true, false});
}

namespace {

scenes::SheetLoad& add_load(scenes::Scene& scene, scenes::SheetLoad::Kind kind) {
  scenes::SheetLoad& load = scene.sheet.loads.emplace_back();
  load.kind = kind;
  return load;
}

}  // namespace

void add_weight(scenes::Scene& scene) { add_load(scene, scenes::SheetLoad::Kind::kGravity); }

void add_area_force(scenes::Scene& scene, const Eigen::Vector3d& force_Pa) {
  add_load(scene, scenes::SheetLoad::Kind::kAreaForce).vector = force_Pa;
}

void add_edge_force(scenes::Scene& scene, const std::string& where,
                    const Eigen::Vector3d& force_N_per_m) {
  scenes::SheetLoad& load = add_load(scene, scenes::SheetLoad::Kind::kEdgeForce);
  load.where = where;
  load.vector = force_N_per_m;
}

void add_point_force(scenes::Scene& scene, const Eigen::Vector3d& point,
                     const Eigen::Vector3d& force_N) {
  scenes::SheetLoad& load = add_load(scene, scenes::SheetLoad::Kind::kPointForce);
  load.point_m = point;
  load.vector = force_N;
}

void add_edge_moment(scenes::Scene& scene, const std::string& where, double moment_N) {
  scenes::SheetLoad& load = add_load(scene, scenes::SheetLoad::Kind::kEdgeMoment);
  load.where = where;
  load.magnitude = moment_N;
}

void add_probe(scenes::Scene& scene, const Eigen::Vector3d& point) {
  scene.sheet.probes.push_back({"probe " + std::to_string(scene.sheet.probes.size()), point});
}

Eigen::Vector3d Solved::position(int probe) const {
  return state.x.col(sheet.probe_nodes.at(probe));
}

Eigen::Vector3d Solved::displacement(int probe) const {
  return position(probe) - sheet.model.mesh.position.col(sheet.probe_nodes.at(probe));
}

Eigen::Vector3d Solved::reaction_at_x(double x) const {
  Eigen::Vector3d total = Eigen::Vector3d::Zero();
  for (int i = 0; i < sheet.model.mesh.n_nodes(); ++i) {
    if (std::abs(sheet.model.mesh.position(0, i) - x) < 1e-9) total += reaction_N.col(i);
  }
  return total;
}

scenes::SheetModel built(const scenes::Scene& scene) {
  return scenes::build_sheet(scene, materials::MaterialLibrary());
}

void solve_on(Solved& solved, double load_factor, const Eigen::Vector3d& applied_N,
              double scale_N) {
  const solver::Model& model = solved.sheet.model;
  solved.report = solver::find_equilibrium(model, load_factor, solved.state);
  ASSERT_EQ(solved.report.status, solver::SolveStatus::kConverged)
      << "load factor " << load_factor << ", residual " << solved.report.residual_relative << ", "
      << static_cast<int>(solved.report.failure);
  EXPECT_TRUE(solved.report.stable);
  solved.reaction_N = solver::support_reactions(model, solved.state, load_factor);
  const double scale = std::max(applied_N.norm(), scale_N);
  EXPECT_LT((solved.reaction_N.rowwise().sum() + applied_N).norm(), 1e-6 * scale);
  EXPECT_LT((solved.report.reaction_N + applied_N).norm(), 1e-6 * scale);
  if (!applied_N.isZero()) {
    EXPECT_LT(solved.report.balance_relative, 1e-6);
  }
}

Solved solve(scenes::SheetModel sheet, const Eigen::Vector3d& applied_N, int load_steps) {
  Solved solved;
  solved.sheet = std::move(sheet);
  solved.state = solver::start_state(solved.sheet.model);
  for (int step = 1; step <= load_steps; ++step) {
    const double factor = static_cast<double>(step) / load_steps;
    solve_on(solved, factor, factor * applied_N);
    if (testing::Test::HasFatalFailure()) break;
  }
  return solved;
}

Solved solve(const scenes::Scene& scene, const Eigen::Vector3d& applied_N, int load_steps) {
  return solve(built(scene), applied_N, load_steps);
}

Eigen::Vector3d at_node(const solver::ShellMesh& mesh, const std::vector<Eigen::Matrix3d>& field,
                        int node) {
  Eigen::Vector3d total = Eigen::Vector3d::Zero();
  int count = 0;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    for (int k = 0; k < 3; ++k) {
      if (mesh.triangles[t].node[k] != node) continue;
      // Point k has the area coordinate 2/3 at corner k: linear extrapolation to the corner.
      total += 2 * field[t].col(k) - field[t].rowwise().sum() / 3;
      ++count;
    }
  }
  return total / count;
}

void Refinement::add(double size, int triangles, double value) {
  row_.values.push_back({size, triangles, value});
}

void Refinement::show() {
  ASSERT_FALSE(row_.values.empty());
  record(source_, row_);
  std::printf("%s: expected %.6g\n", row_.what.c_str(), row_.expected);
  for (const BookRow::OnMesh& on : row_.values) {
    std::printf("  size %-10.4g %6d triangles  %.6g  %+.3f %%\n", on.size, on.triangles, on.value,
                100 * (on.value - row_.expected) / row_.scale);
  }
}

void Refinement::expect_within(double tolerance) {
  row_.tolerance = tolerance;
  show();
  if (row_.values.empty()) return;
  EXPECT_NEAR(row_.values.back().value, row_.expected, tolerance * row_.scale) << row_.what;
}

}  // namespace totebench::verification
