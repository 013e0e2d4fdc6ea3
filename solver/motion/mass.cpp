#include "totebench/solver/mass.hpp"

#include <algorithm>

#include "solver/assembly/potential.hpp"

namespace totebench::solver {

Eigen::VectorXd nodal_masses(const Model& model, const State& state) {
  constexpr double kCornerShare = 3.0 / 57;
  constexpr double kMidsideShare = 16.0 / 57;
  Eigen::VectorXd mass = Eigen::VectorXd::Zero(model.mesh.n_nodes());
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    const Triangle& triangle = model.mesh.triangles[t];
    const double whole =
        rest_area(model.mesh, t) * model.sections[triangle.section].areal_mass_kg_per_m2;
    for (int n = 0; n < 6; ++n) {
      mass[triangle.node[n]] += (n < 3 ? kCornerShare : kMidsideShare) * whole;
    }
  }
  if (!(model.gravity_m_per_s2 > 0)) return mass;  // nothing weighs, nothing rests on the nodes
  if (model.permanent_force_N.size() > 0) {        // uneven sheets, and what is fastened to them
    const Eigen::Matrix3Xd own = own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
    mass += (own - model.permanent_force_N).row(2).transpose() / model.gravity_m_per_s2;
  }
  Potential potential(model);
  potential.set_load_factor(1);
  potential.prepare(state);
  const Eigen::VectorXd with = potential.applied_loads(state);
  potential.set_load_factor(0);
  potential.prepare(state);
  const Eigen::VectorXd without = potential.applied_loads(state);
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    mass[i] += std::max(0.0, without[3 * i + 2] - with[3 * i + 2]) / model.gravity_m_per_s2;
  }
  return mass;
}

}  // namespace totebench::solver
