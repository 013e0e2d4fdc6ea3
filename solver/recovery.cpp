// What an equilibrium carries: stress resultants, stitch forces, support reactions; and how a
// state moves to a finer mesh.
#include <Eigen/Geometry>
#include <limits>
#include <map>
#include <stdexcept>
#include <utility>

#include "solver/potential.hpp"
#include "solver/quadrature.hpp"

namespace totebench {

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
      fields.membrane_force[t].col(q) = section.A * e + section.B * k;
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
    force.col(static_cast<Eigen::Index>(i)) =
        stitch.stiffness_N_per_m *
        (position_of(model.mesh, state.x, stitch.a) - position_of(model.mesh, state.x, stitch.b));
  }
  return force;
}

Eigen::Matrix3Xd support_reactions(const Model& model, const State& state, double load_factor) {
  Potential potential(model);
  potential.set_load_factor(load_factor);
  if (potential.fill() != nullptr) potential.fill()->renew_cap(state);
  potential.prepare(state);
  if (potential.fill() != nullptr && potential.fill()->is_heap()) {
    potential.set_heap_forces(potential.fill()->heap_forces(state));
  }
  const Eigen::VectorXd gradient = potential.gradient(state);
  const Eigen::VectorXd reaction =
      gradient - potential.expand(potential.restrict_to_free(gradient));
  return Eigen::Map<const Eigen::Matrix3Xd>(reaction.data(), 3, model.mesh.n_nodes());
}

double fill_level(const Model& model, const State& state, double load_factor) {
  if (!model.fill.active()) return -std::numeric_limits<double>::infinity();
  FillTerm fill(model.mesh, model.fill, model.gravity_m_per_s2);
  fill.set_load_factor(load_factor);
  fill.renew_cap(state);
  fill.find_level(state);
  return fill.level();
}

State prolong(const Model& coarse, const State& state, const Model& fine) {
  if (fine.mesh.n_triangles() != 4 * coarse.mesh.n_triangles()) {
    throw std::invalid_argument("prolong: the fine mesh is not the coarse mesh split in four");
  }
  // Positions: the coarse quadratic shape at the children's nodes.
  ShellMesh moved = coarse.mesh;
  moved.position = state.x;
  State out;
  out.x = split(moved).position;
  const Topology coarse_topology = make_topology(coarse);
  const Topology topology = make_topology(fine);
  out.director.resize(3, topology.n_directors());
  out.turn = Eigen::VectorXd::Zero(topology.n_directors());
  out.director.setZero();

  // On an edge that is half of a parent edge: the parent's director angle, measured from the
  // normal of a parent triangle and linear along the edge. Inside a parent: the shape's own normal.
  constexpr int kParentEdge[4][3] = {{0, -1, 2}, {0, 1, -1}, {-1, 1, 2}, {-1, -1, -1}};
  const double node_xi[6] = {0, 1, 0, 0.5, 0.5, 0};
  const double node_eta[6] = {0, 0, 1, 0, 0.5, 0.5};
  const int corner[4][3] = {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}};
  for (int t = 0; t < fine.mesh.n_triangles(); ++t) {
    const int parent = t / 4;
    const int child = t % 4;
    for (int k = 0; k < 3; ++k) {
      const EdgeUse& use = topology.edge_uses[t][k];
      const int parent_edge = kParentEdge[child][k];
      for (int g = 0; g < 2; ++g) {
        const int director = use.director[g];
        if (!out.director.col(director).isZero()) continue;  // set by the neighbour
        const double s = kGauss2[g];
        const int i = corner[child][k];
        const int j = corner[child][(k + 1) % 3];
        const SurfacePoint p{parent, (1 - s) * node_xi[i] + s * node_xi[j],
                             (1 - s) * node_eta[i] + s * node_eta[j]};
        const Eigen::Vector3d n = normal_of(coarse.mesh, state.x, p);
        const Eigen::Vector3d tangent =
            use.sign * site_tangent(topology.sites[director], out.x).normalized();
        double angle = 0;
        if (parent_edge >= 0) {
          const EdgeUse& parent_use = coarse_topology.edge_uses[parent][parent_edge];
          // Share along the parent's edge: the first half for the child at its first corner.
          const double along = child == parent_edge ? 0.5 * s : 0.5 + 0.5 * s;
          double angles[2];
          for (int h = 0; h < 2; ++h) {
            const double sh = kGauss2[h];
            const int ci = parent_edge;
            const int cj = (parent_edge + 1) % 3;
            const SurfacePoint ph{parent, (1 - sh) * node_xi[ci] + sh * node_xi[cj],
                                  (1 - sh) * node_eta[ci] + sh * node_eta[cj]};
            const DirectorSite& site = coarse_topology.sites[parent_use.director[h]];
            angles[h] = angle_about(parent_use.sign * site_tangent(site, state.x).normalized(),
                                    normal_of(coarse.mesh, state.x, ph),
                                    state.director.col(parent_use.director[h]));
          }
          angle = angles[0] +
                  (angles[1] - angles[0]) * (along - kGauss2[0]) / (kGauss2[1] - kGauss2[0]);
        }
        Eigen::Vector3d d = n - tangent.dot(n) * tangent;
        d.normalize();
        out.director.col(director) = std::cos(angle) * d + std::sin(angle) * tangent.cross(d);
      }
    }
  }
  return out;
}

}  // namespace totebench
