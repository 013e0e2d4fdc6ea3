// How a state moves to a finer mesh.
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solver/contact/finer_surface.hpp"
#include "solver/mesh/quadrature.hpp"
#include "solver/mesh/topology.hpp"
#include "totebench/solver/equilibrium.hpp"

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
  if (fine.contact.active()) {
    out.x = onto_finer_surface(coarse, state.x, fine, out.x, state.bodies);
  }
  const Topology coarse_topology = make_topology(coarse);
  const Topology topology = make_topology(fine);
  out.director.resize(3, topology.n_directors());
  out.turn = Eigen::VectorXd::Zero(topology.n_directors());
  out.director.setZero();
  out.bodies = state.bodies;

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
