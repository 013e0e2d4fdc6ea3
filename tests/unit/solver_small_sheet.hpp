// A sheet of two triangles for tests of the solver's doors.
#pragma once

#include "totebench/solver/model.hpp"

namespace totebench {

// A square of side 0.1 m in the plane z = 0, its corners at nodes 0 to 3. With `held`, none of its
// nodes can move; else two corners, 0
// and 1, cannot, and the others move in x and z only.
inline solver::Model small_sheet(bool held) {
  solver::Model model;
  Eigen::Matrix3Xd corners(3, 4);
  corners << 0, 0, 0.1, 0.1, 0, 0.1, 0, 0.1, 0, 0, 0, 0;
  model.mesh = solver::second_order_mesh(corners, {{0, 2, 3}, {0, 3, 1}});
  for (Eigen::Vector3d& warp : model.mesh.warp) warp = Eigen::Vector3d::UnitX();
  solver::Section section;
  section.A << 1e3, 3e2, 0, 3e2, 1e3, 0, 0, 0, 3.5e2;
  section.D = 1e-5 * section.A;
  section.areal_mass_kg_per_m2 = 0.5;
  model.sections = {section};
  model.permanent_force_N = solver::own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  for (int node = 0; node < model.mesh.n_nodes(); ++node) {
    for (int axis = 0; axis < 3; ++axis) {
      if (held || node < 2 || axis == 1) model.fixed.push_back({node, axis});
    }
  }
  return model;
}

}  // namespace totebench
