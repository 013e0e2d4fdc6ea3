// What an equilibrium carries: stress resultants, stitch forces, support reactions; and how a
// state moves to a finer mesh.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>
#include <utility>

#include "solver/assembly/potential.hpp"
#include "solver/mesh/quadrature.hpp"

namespace totebench::solver {
namespace {

// Edge of a triangle (0 .. 2, from its first corner on) that two points in area coordinates lie on;
// -1 when they lie on no common one.
int edge_with(const Eigen::Vector2d& a, const Eigen::Vector2d& b) {
  constexpr double kOn = 1e-12;  // coordinates are sums of halves
  if (std::abs(a.y()) < kOn && std::abs(b.y()) < kOn) return 0;
  if (std::abs(1 - a.sum()) < kOn && std::abs(1 - b.sum()) < kOn) return 1;
  if (std::abs(a.x()) < kOn && std::abs(b.x()) < kOn) return 2;
  return -1;
}

Eigen::Vector2d on_edge(int edge, double share) {
  if (edge == 0) return {share, 0};
  if (edge == 1) return {1 - share, share};
  return {0, 1 - share};
}

double share_of_edge(int edge, const Eigen::Vector2d& p) {
  if (edge == 0) return p.x();
  return edge == 1 ? p.y() : 1 - p.y();
}

}  // namespace

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
  const std::vector<ChildOf>& child_of = fine.mesh.child_of;
  const auto within = [&](const ChildOf& c) {
    return c.parent >= 0 && c.parent < coarse.mesh.n_triangles();
  };
  if (child_of.size() != fine.mesh.triangles.size() || child_of.empty() ||
      !std::all_of(child_of.begin(), child_of.end(), within)) {
    throw std::invalid_argument("prolong: the fine mesh was not made from the coarse one");
  }
  // Positions: the coarse quadratic shape at the children's nodes.
  State out;
  out.x.resize(3, fine.mesh.n_nodes());
  for (int t = 0; t < fine.mesh.n_triangles(); ++t) {
    const ChildOf& child = child_of[t];
    for (int n = 0; n < 6; ++n) {
      const Eigen::Vector2d p =
          n < 3 ? Eigen::Vector2d(child.corner.col(n))
                : Eigen::Vector2d(0.5 * (child.corner.col(n - 3) + child.corner.col((n - 2) % 3)));
      out.x.col(fine.mesh.triangles[t].node[n]) =
          position_of(coarse.mesh, state.x, {child.parent, p.x(), p.y()});
    }
  }
  const Topology coarse_topology = make_topology(coarse);
  const Topology topology = make_topology(fine);
  out.director.resize(3, topology.n_directors());
  out.turn = Eigen::VectorXd::Zero(topology.n_directors());
  out.director.setZero();

  // On an edge that is part of a parent's edge: the parent's director angle, measured from the
  // normal of a parent triangle and linear along the edge. Inside a parent: the shape's own normal.
  for (int t = 0; t < fine.mesh.n_triangles(); ++t) {
    const ChildOf& child = child_of[t];
    for (int k = 0; k < 3; ++k) {
      const EdgeUse& use = topology.edge_uses[t][k];
      const Eigen::Vector2d from = child.corner.col(k);
      const Eigen::Vector2d to = child.corner.col((k + 1) % 3);
      const int parent_edge = edge_with(from, to);
      for (int g = 0; g < 2; ++g) {
        const int director = use.director[g];
        if (!out.director.col(director).isZero()) continue;  // set by the neighbour
        const double s = kGauss2[g];
        const Eigen::Vector2d at = (1 - s) * from + s * to;
        const Eigen::Vector3d n = normal_of(coarse.mesh, state.x, {child.parent, at.x(), at.y()});
        const Eigen::Vector3d tangent =
            use.sign * site_tangent(topology.sites[director], out.x).normalized();
        double angle = 0;
        if (parent_edge >= 0) {
          const EdgeUse& parent_use = coarse_topology.edge_uses[child.parent][parent_edge];
          double angles[2];
          for (int h = 0; h < 2; ++h) {
            const Eigen::Vector2d ph = on_edge(parent_edge, kGauss2[h]);
            const DirectorSite& site = coarse_topology.sites[parent_use.director[h]];
            angles[h] = angle_about(parent_use.sign * site_tangent(site, state.x).normalized(),
                                    normal_of(coarse.mesh, state.x, {child.parent, ph.x(), ph.y()}),
                                    state.director.col(parent_use.director[h]));
          }
          const double along = share_of_edge(parent_edge, at);
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

}  // namespace totebench::solver
