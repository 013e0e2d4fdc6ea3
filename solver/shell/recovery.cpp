// What an equilibrium carries: stress resultants, stitch forces, support reactions.
#include <Eigen/Geometry>
#include <limits>

#include "solver/assembly/potential.hpp"
#include "solver/terms/fill_term.hpp"

namespace totebench::solver {

Eigen::Vector3d position_of(const ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                            const SurfacePoint& point) {
  const Eigen::Matrix<double, 6, 1> n = shape(point.xi, point.eta);
  Eigen::Vector3d p = Eigen::Vector3d::Zero();
  for (int i = 0; i < 6; ++i) p += n[i] * x.col(mesh.triangles[point.triangle].node[i]);
  return p;
}

Eigen::Vector3d normal_of(const ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                          const SurfacePoint& point) {
  const Eigen::Matrix<double, 6, 2> g = shape_gradient(point.xi, point.eta);
  Eigen::Vector3d g1 = Eigen::Vector3d::Zero();
  Eigen::Vector3d g2 = Eigen::Vector3d::Zero();
  for (int i = 0; i < 6; ++i) {
    const Eigen::Vector3d xi = x.col(mesh.triangles[point.triangle].node[i]);
    g1 += g(i, 0) * xi;
    g2 += g(i, 1) * xi;
  }
  return g1.cross(g2).normalized();
}

ShellFields shell_fields(const Model& model, const State& state) {
  const ShellMesh& mesh = model.mesh;
  const Topology topology = make_topology(model);
  const auto n = static_cast<std::size_t>(mesh.n_triangles());
  ShellFields fields;
  fields.membrane_strain.resize(n);
  fields.membrane_force.resize(n);
  fields.curvature.resize(n);
  fields.bending_moment.resize(n);
  fields.axes.resize(n);
#pragma omp parallel for schedule(static)
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const ShellRest rest = make_shell_rest(mesh.rest[t], mesh.warp[t]);
    const ShellInput input = shell_input(mesh, topology, state, t);
    const ShellStrain strain = shell_strain(rest, input);
    const Section& section = model.sections[mesh.triangles[t].section];
    for (int q = 0; q < 3; ++q) {
      const Eigen::Vector3d e = strain.membrane.segment<3>(3 * q);
      const Eigen::Vector3d k = strain.curvature.segment<3>(3 * q);
      fields.membrane_strain[t].col(q) = e;
      fields.curvature[t].col(q) = k;
      fields.membrane_force[t].col(q) = membrane_force(section, e, k);
      fields.bending_moment[t].col(q) = section.B.transpose() * e + section.D * k;
    }
    // The warp direction carried by the deformation: its components on the rest tangents, put on
    // the current ones.
    const Eigen::Matrix<double, 6, 2> g = shape_gradient(1.0 / 3, 1.0 / 3);
    const Eigen::Matrix<double, 3, 2> rest_tangent = mesh.rest[t] * g;
    const Eigen::Matrix<double, 3, 2> tangent = input.x * g;
    const Eigen::Vector2d on_tangents = (rest_tangent.transpose() * rest_tangent).inverse() *
                                        rest_tangent.transpose() * mesh.warp[t];
    const Eigen::Vector3d normal = tangent.col(0).cross(tangent.col(1)).normalized();
    const Eigen::Vector3d first = (tangent * on_tangents).normalized();
    fields.axes[t].col(0) = first;
    fields.axes[t].col(1) = normal.cross(first);
  }
  return fields;
}

Eigen::Matrix3Xd stitch_forces(const Model& model, const State& state) {
  Eigen::Matrix3Xd force(3, static_cast<Eigen::Index>(model.stitches.size()));
  for (std::size_t i = 0; i < model.stitches.size(); ++i) {
    const Stitch& stitch = model.stitches[i];
    Eigen::Vector3d opening = Eigen::Vector3d::Zero();
    for (const StitchPoint& point : points_of(stitch)) {
      opening += point.share * (position_of(model.mesh, state.x, point.a) -
                                position_of(model.mesh, state.x, point.b));
    }
    force.col(static_cast<Eigen::Index>(i)) = stitch.stiffness_N_per_m * opening;
  }
  return force;
}

Eigen::Matrix3Xd support_reactions(const Model& model, const State& state, double load_factor) {
  Potential potential(model);
  potential.set_load_factor(load_factor);
  potential.prepare(state);
  potential.renew_lagged(state);
  const Eigen::VectorXd gradient = potential.gradient(state);
  const Eigen::VectorXd reaction =
      gradient - potential.expand(potential.restrict_to_free(gradient));
  return Eigen::Map<const Eigen::Matrix3Xd>(reaction.data(), 3, model.mesh.n_nodes());
}

double fill_level(const Model& model, const State& state, double load_factor) {
  if (!model.fill.active()) return -std::numeric_limits<double>::infinity();
  FillTerm fill(model.mesh, model.fill, model.gravity_m_per_s2);
  fill.set_load_factor(load_factor);
  fill.renew_lagged(state);
  return fill.level();
}

}  // namespace totebench::solver
