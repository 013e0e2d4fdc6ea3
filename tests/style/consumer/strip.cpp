// A program of somebody else: a strip of cloth, one end held, settles under its own weight.
#include <cstdio>
#include <totebench/solver/equilibrium.hpp>

int main() {
  totebench::solver::Model model;
  Eigen::Matrix3Xd corners(3, 4);
  corners << 0, 0.05, 0, 0.05, 0, 0, 0.02, 0.02, 0, 0, 0, 0;
  model.mesh = totebench::solver::second_order_mesh(corners, {{0, 1, 2}, {1, 3, 2}});
  totebench::solver::Section cloth;
  cloth.A = 2e4 * Eigen::Matrix3d::Identity();
  cloth.D = 1e-3 * Eigen::Matrix3d::Identity();
  cloth.areal_mass_kg_per_m2 = 0.3;
  model.sections = {cloth};
  model.permanent_force_N = totebench::solver::own_weight(model.mesh, model.sections, 9.80665);
  for (int node = 0; node < model.mesh.n_nodes(); ++node) {
    if (model.mesh.position(0, node) > 0.04) continue;
    for (int axis = 0; axis < 3; ++axis) model.fixed.push_back({node, axis});
  }
  totebench::solver::State state = totebench::solver::start_state(model);
  const totebench::solver::SolveReport report =
      totebench::solver::find_equilibrium(model, 1.0, state);
  std::printf("lowest point %.6f m, balance %.1e\n", state.x.row(2).minCoeff(),
              report.balance_relative);
  const bool right = report.status == totebench::solver::SolveStatus::kConverged &&
                     report.balance_relative < 1e-6 && state.x.row(2).minCoeff() < 0;
  return right ? 0 : 1;
}
