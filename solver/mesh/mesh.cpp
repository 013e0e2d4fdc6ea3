#include "totebench/solver/mesh.hpp"

#include <cstdint>
#include <unordered_map>

namespace totebench::solver {
namespace {

// Area coordinates (xi, eta) of the six nodes of a parent triangle.
constexpr double kNodeXi[6] = {0, 1, 0, 0.5, 0.5, 0};
constexpr double kNodeEta[6] = {0, 0, 1, 0, 0.5, 0.5};

// Corners of the four children, as node numbers of the parent.
constexpr int kChildCorner[4][3] = {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}};

std::uint64_t pair_key(int a, int b) {
  const auto low = static_cast<std::uint64_t>(a < b ? a : b);
  const auto high = static_cast<std::uint64_t>(a < b ? b : a);
  return (low << 32U) | high;
}

struct ChildShape {
  // Shape functions of the parent at the six nodes of each child.
  std::array<Eigen::Matrix<double, 6, 6>, 4> at_nodes;
  std::array<std::array<Eigen::Vector2d, 6>, 4> coordinates;
  ChildShape() {
    for (int c = 0; c < 4; ++c) {
      for (int n = 0; n < 6; ++n) {
        Eigen::Vector2d p;
        if (n < 3) {
          const int corner = kChildCorner[c][n];
          p = {kNodeXi[corner], kNodeEta[corner]};
        } else {
          const int i = kChildCorner[c][n - 3];
          const int j = kChildCorner[c][(n - 2) % 3];
          p = {0.5 * (kNodeXi[i] + kNodeXi[j]), 0.5 * (kNodeEta[i] + kNodeEta[j])};
        }
        coordinates[c][n] = p;
        at_nodes[c].col(n) = shape(p.x(), p.y());
      }
    }
  }
};

const ChildShape& child_shape() {
  static const ChildShape shape_of_children;
  return shape_of_children;
}

}  // namespace

Eigen::Matrix<double, 6, 1> shape(double xi, double eta) {
  const double zeta = 1 - xi - eta;
  Eigen::Matrix<double, 6, 1> n;
  n << zeta * (2 * zeta - 1), xi * (2 * xi - 1), eta * (2 * eta - 1), 4 * zeta * xi, 4 * xi * eta,
      4 * eta * zeta;
  return n;
}

Eigen::Matrix<double, 6, 2> shape_gradient(double xi, double eta) {
  const double zeta = 1 - xi - eta;
  Eigen::Matrix<double, 6, 2> g;
  g << 1 - 4 * zeta, 1 - 4 * zeta,  //
      4 * xi - 1, 0,                //
      0, 4 * eta - 1,               //
      4 * (zeta - xi), -4 * xi,     //
      4 * eta, 4 * xi,              //
      -4 * eta, 4 * (zeta - eta);
  return g;
}

ShellMesh split(const ShellMesh& mesh) {
  const ChildShape& children = child_shape();
  ShellMesh fine;
  std::vector<Eigen::Vector3d> position;
  position.reserve(static_cast<std::size_t>(mesh.n_nodes()) * 4);
  for (int i = 0; i < mesh.n_nodes(); ++i) position.emplace_back(mesh.position.col(i));

  std::unordered_map<std::uint64_t, int> new_node;  // by the two parent nodes it lies between
  fine.triangles.reserve(mesh.triangles.size() * 4);
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Triangle& parent = mesh.triangles[t];
    Matrix36d x;
    for (int n = 0; n < 6; ++n) x.col(n) = mesh.position.col(parent.node[n]);
    for (int c = 0; c < 4; ++c) {
      Triangle child;
      child.section = parent.section;
      child.region = parent.region;
      for (int n = 0; n < 3; ++n) child.node[n] = parent.node[kChildCorner[c][n]];
      for (int n = 3; n < 6; ++n) {
        const auto [entry, is_new] =
            new_node.try_emplace(pair_key(child.node[n - 3], child.node[(n - 2) % 3]),
                                 static_cast<int>(position.size()));
        if (is_new) position.emplace_back(x * children.at_nodes[c].col(n));
        child.node[n] = entry->second;
      }
      fine.triangles.push_back(child);
      ChildOf place;
      place.parent = t;
      for (int n = 0; n < 3; ++n) place.corner.col(n) = children.coordinates[c][n];
      fine.child_of.push_back(place);
      fine.rest.emplace_back(mesh.rest[t] * children.at_nodes[c]);
      fine.warp.push_back(mesh.warp[t]);
    }
  }
  fine.position.resize(3, static_cast<Eigen::Index>(position.size()));
  for (std::size_t i = 0; i < position.size(); ++i) {
    fine.position.col(static_cast<Eigen::Index>(i)) = position[i];
  }

  // A labelled edge becomes two. Its mid node is found through a triangle that has the edge.
  std::unordered_map<std::uint64_t, int> mid_node;
  for (const Triangle& triangle : mesh.triangles) {
    for (int k = 0; k < 3; ++k) {
      mid_node[pair_key(triangle.node[k], triangle.node[(k + 1) % 3])] = triangle.node[3 + k];
    }
  }
  for (const LabelledEdge& edge : mesh.labelled_edges) {
    const int mid = mid_node.at(pair_key(edge.a, edge.b));
    fine.labelled_edges.push_back({edge.a, mid, edge.label});
    fine.labelled_edges.push_back({mid, edge.b, edge.label});
  }
  return fine;
}

SurfacePoint split(const SurfacePoint& point) {
  const double xi = point.xi;
  const double eta = point.eta;
  const int first = 4 * point.triangle;
  if (1 - xi - eta >= 0.5) return {first, 2 * xi, 2 * eta};
  if (xi >= 0.5) return {first + 1, 2 * xi - 1, 2 * eta};
  if (eta >= 0.5) return {first + 2, 2 * xi, 2 * eta - 1};
  return {first + 3, 2 * (xi + eta) - 1, 1 - 2 * xi};
}

ShellMesh second_order_mesh(const Eigen::Matrix3Xd& position,
                            const std::vector<std::array<int, 3>>& corners) {
  ShellMesh mesh;
  std::vector<Eigen::Vector3d> nodes;
  for (Eigen::Index i = 0; i < position.cols(); ++i) nodes.emplace_back(position.col(i));
  std::unordered_map<std::uint64_t, int> mid_node;
  for (const auto& corner : corners) {
    Triangle triangle;
    for (int k = 0; k < 3; ++k) {
      const int a = corner[k];
      const int b = corner[(k + 1) % 3];
      triangle.node[k] = a;
      const auto [entry, is_new] =
          mid_node.try_emplace(pair_key(a, b), static_cast<int>(nodes.size()));
      if (is_new) nodes.emplace_back(0.5 * (position.col(a) + position.col(b)));
      triangle.node[3 + k] = entry->second;
    }
    mesh.triangles.push_back(triangle);
  }
  mesh.position.resize(3, static_cast<Eigen::Index>(nodes.size()));
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    mesh.position.col(static_cast<Eigen::Index>(i)) = nodes[i];
  }
  for (const Triangle& triangle : mesh.triangles) {
    Matrix36d x;
    for (int n = 0; n < 6; ++n) x.col(n) = mesh.position.col(triangle.node[n]);
    mesh.rest.push_back(x);
    mesh.warp.emplace_back(Eigen::Vector3d::UnitX());
  }
  return mesh;
}

}  // namespace totebench::solver
