#include "solver/mesh/topology.hpp"

#include <Eigen/Geometry>
#include <cmath>
#include <map>
#include <stdexcept>
#include <string>
#include <unordered_map>
#include <utility>

#include "solver/mesh/quadrature.hpp"

namespace totebench::solver {
namespace {

struct Side {
  int triangle;
  int local;
};

struct EdgeSides {
  int a = 0;
  int b = 0;
  int mid = 0;
  std::vector<Side> sides;
  const EdgeRule* rule = nullptr;
};

// Point of a triangle's reference on its local edge k, a share s along it.
Eigen::Vector2d edge_point(int k, double s) {
  if (k == 0) return {s, 0};
  if (k == 1) return {1 - s, s};
  return {0, 1 - s};
}

Eigen::Vector3d unit_normal(const ShellMesh& mesh, const Side& side, double s_local) {
  const Eigen::Vector2d p = edge_point(side.local, s_local);
  const Eigen::Matrix<double, 6, 2> gradient = shape_gradient(p.x(), p.y());
  Eigen::Vector3d g1 = Eigen::Vector3d::Zero();
  Eigen::Vector3d g2 = Eigen::Vector3d::Zero();
  for (int n = 0; n < 6; ++n) {
    const Eigen::Vector3d x = mesh.position.col(mesh.triangles[side.triangle].node[n]);
    g1 += gradient(n, 0) * x;
    g2 += gradient(n, 1) * x;
  }
  return g1.cross(g2).normalized();
}

// Edges in order of their mid node, which belongs to one edge only.
std::vector<EdgeSides> collect_edges(const ShellMesh& mesh) {
  std::map<int, EdgeSides> by_mid;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Triangle& triangle = mesh.triangles[t];
    for (int k = 0; k < 3; ++k) {
      EdgeSides& edge = by_mid[triangle.node[3 + k]];
      edge.a = std::min(triangle.node[k], triangle.node[(k + 1) % 3]);
      edge.b = std::max(triangle.node[k], triangle.node[(k + 1) % 3]);
      edge.mid = triangle.node[3 + k];
      edge.sides.push_back({t, k});
    }
  }
  std::vector<EdgeSides> edges;
  edges.reserve(by_mid.size());
  for (auto& [mid, edge] : by_mid) edges.push_back(std::move(edge));
  return edges;
}

void attach_rules(const Model& model, std::vector<EdgeSides>& edges) {
  std::unordered_map<int, const EdgeRule*> rule_of_label;
  for (const EdgeRule& rule : model.edge_rules) rule_of_label[rule.label] = &rule;
  std::map<std::pair<int, int>, std::vector<EdgeSides*>> by_corners;
  for (EdgeSides& edge : edges) by_corners[{edge.a, edge.b}].push_back(&edge);
  for (const LabelledEdge& labelled : model.mesh.labelled_edges) {
    const auto found = by_corners.find(std::minmax(labelled.a, labelled.b));
    if (found == by_corners.end()) {
      throw std::invalid_argument("labelled edge " + std::to_string(labelled.a) + "-" +
                                  std::to_string(labelled.b) + " is not an edge of the mesh");
    }
    const auto rule = rule_of_label.find(labelled.label);
    if (rule == rule_of_label.end()) continue;
    for (EdgeSides* edge : found->second) edge->rule = rule->second;
  }
}

}  // namespace

double angle_about(const Eigen::Vector3d& axis, const Eigen::Vector3d& from,
                   const Eigen::Vector3d& to) {
  return std::atan2(axis.dot(from.cross(to)), from.dot(to));
}

Eigen::Vector3d site_tangent(const DirectorSite& site, const Eigen::Matrix3Xd& x) {
  const double s = site.s;
  return (4 * s - 3) * x.col(site.a) + (4 * s - 1) * x.col(site.b) + (4 - 8 * s) * x.col(site.mid);
}

Topology make_topology(const Model& model) {
  const ShellMesh& mesh = model.mesh;
  std::vector<EdgeSides> edges = collect_edges(mesh);
  attach_rules(model, edges);

  Topology topology;
  topology.n_nodes = mesh.n_nodes();
  topology.edge_uses.resize(mesh.triangles.size());
  std::vector<Eigen::Vector3d> directors;

  for (const EdgeSides& edge : edges) {
    const Joint joint = edge.rule != nullptr ? edge.rule->joint : Joint::kContinuous;
    const bool hinge = joint == Joint::kHinge;
    const int first_director = topology.n_directors();
    const std::size_t n_sets = hinge ? edge.sides.size() : 1;

    for (std::size_t set = 0; set < n_sets; ++set) {
      for (int g = 0; g < 2; ++g) {
        const DirectorSite site{edge.a, edge.b, edge.mid, kGauss2[g]};
        topology.sites.push_back(site);
        const Eigen::Vector3d tangent = site_tangent(site, mesh.position).normalized();
        // The director starts midway between the normals that share it (as one circle of angles
        // about the edge), or at the first normal where they cancel.
        Eigen::Vector3d sum = Eigen::Vector3d::Zero();
        Eigen::Vector3d first = Eigen::Vector3d::Zero();
        for (std::size_t i = 0; i < edge.sides.size(); ++i) {
          if (hinge && i != set) continue;
          const Side& side = edge.sides[i];
          const bool along = mesh.triangles[side.triangle].node[side.local] == edge.a;
          const Eigen::Vector3d n = unit_normal(mesh, side, along ? kGauss2[g] : 1 - kGauss2[g]);
          if (first.isZero()) first = n;
          sum += n;
        }
        Eigen::Vector3d d = sum.norm() > 1e-3 ? sum : first;
        d -= tangent.dot(d) * tangent;
        directors.emplace_back(d.normalized());
        if (edge.rule != nullptr && edge.rule->clamped) {
          topology.clamped.push_back(topology.n_directors() - 1);
        }
      }
    }

    for (std::size_t i = 0; i < edge.sides.size(); ++i) {
      const Side& side = edge.sides[i];
      const bool along = mesh.triangles[side.triangle].node[side.local] == edge.a;
      EdgeUse& use = topology.edge_uses[side.triangle][side.local];
      use.sign = along ? 1.0 : -1.0;
      const int base = first_director + (hinge ? 2 * static_cast<int>(i) : 0);
      for (int g = 0; g < 2; ++g) {
        const int canonical = along ? g : 1 - g;
        use.director[g] = base + canonical;
        // A clamped surface keeps the slope it is placed with, like a curved shell.
        if (joint == Joint::kAsPlaced) {
          const DirectorSite& site = topology.sites[use.director[g]];
          const Eigen::Vector3d tangent = use.sign * site_tangent(site, mesh.position).normalized();
          use.rest_angle[g] =
              angle_about(tangent, unit_normal(mesh, side, kGauss2[g]), directors[use.director[g]]);
        }
      }
    }

    if (edge.rule == nullptr) continue;
    const Eigen::Vector3d chord = mesh.position.col(edge.b) - mesh.position.col(edge.a);
    const double half_length = 0.5 * chord.norm();
    if (hinge && edge.rule->hinge_stiffness_N > 0) {
      for (std::size_t i = 0; i + 1 < edge.sides.size(); ++i) {
        for (int g = 0; g < 2; ++g) {
          const int p = first_director + 2 * static_cast<int>(i) + g;
          const Eigen::Vector3d tangent =
              site_tangent(topology.sites[p], mesh.position).normalized();
          topology.hinges.push_back({p, p + 2, edge.rule->hinge_stiffness_N * half_length,
                                     angle_about(tangent, directors[p], directors[p + 2]) +
                                         edge.rule->rest_angle_offset_rad});
        }
      }
    }
    if (edge.rule->edge_moment_N != 0) {
      const Side& side = edge.sides.front();
      const bool along = mesh.triangles[side.triangle].node[side.local] == edge.a;
      const double moment = (along ? 1 : -1) * edge.rule->edge_moment_N * half_length;
      for (int g = 0; g < 2; ++g) topology.moments.push_back({first_director + g, moment});
    }
  }

  topology.start_director.resize(3, topology.n_directors());
  for (int i = 0; i < topology.n_directors(); ++i) topology.start_director.col(i) = directors[i];
  return topology;
}

}  // namespace totebench::solver
