#include "totebench/solver/refine.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>
#include <utility>

namespace totebench::solver {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

// Lengths and places nearer than this share of a length are equal.
constexpr double kSame = 1e-9;
const Vector2d kNode[6] = {{0, 0}, {1, 0}, {0, 1}, {0.5, 0}, {0.5, 0.5}, {0, 0.5}};

double edge_length(const ShellMesh& mesh, int t, int k) {
  return (mesh.rest[t].col(k) - mesh.rest[t].col((k + 1) % 3)).norm();
}

// Is edge i of triangle t longer than edge j?
bool longer(const ShellMesh& mesh, int t, int i, int j) {
  const double a = edge_length(mesh, t, i);
  const double b = edge_length(mesh, t, j);
  const double same = kSame * (a + b);
  if (std::abs(a - b) > same) return a > b;
  const Vector3d p = mesh.position.col(mesh.triangles[t].node[3 + i]);
  const Vector3d q = mesh.position.col(mesh.triangles[t].node[3 + j]);
  if (std::abs(p.z() - q.z()) > same) return p.z() > q.z();
  const double out = p.head<2>().norm() - q.head<2>().norm();
  if (std::abs(out) > same) return out > 0;
  if (std::abs(p.y() - q.y()) > same) return p.y() > q.y();
  return p.x() > q.x();
}

int longest_edge(const ShellMesh& mesh, int t) {
  int longest = 0;
  for (int k = 1; k < 3; ++k) {
    if (longer(mesh, t, k, longest)) longest = k;
  }
  return longest;
}

// Corners of the children of a triangle, as its node numbers.
using Children = std::vector<std::array<int, 3>>;

Children children_of(const std::array<bool, 3>& split, int longest) {
  const int count = static_cast<int>(std::count(split.begin(), split.end(), true));
  if (count == 0) return {{0, 1, 2}};
  if (count == 3) return {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}};
  // a -- m -- b is the longest edge, c lies opposite.
  const int a = longest;
  const int b = (longest + 1) % 3;
  const int c = (longest + 2) % 3;
  const int m = 3 + longest;
  Children children;
  if (split[b]) {  // the edge from b to c
    children.push_back({m, b, 3 + b});
    children.push_back({m, 3 + b, c});
  } else {
    children.push_back({m, b, c});
  }
  if (split[c]) {  // the edge from c to a
    children.push_back({m, c, 3 + c});
    children.push_back({m, 3 + c, a});
  } else {
    children.push_back({m, c, a});
  }
  return children;
}

// Which edges are split, by their mid node.
std::vector<char> split_edges(const ShellMesh& mesh, const std::vector<char>& too_large) {
  std::vector<char> split(mesh.n_nodes(), 0);
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    for (int k = 0; k < 3 && too_large[t] != 0; ++k) split[mesh.triangles[t].node[3 + k]] = 1;
  }
  std::vector<int> longest;
  for (int t = 0; t < mesh.n_triangles(); ++t) longest.push_back(longest_edge(mesh, t));
  for (bool changed = true; changed;) {
    changed = false;
    for (int t = 0; t < mesh.n_triangles(); ++t) {
      const auto& node = mesh.triangles[t].node;
      const bool any = split[node[3]] != 0 || split[node[4]] != 0 || split[node[5]] != 0;
      char& mark = split[node[3 + longest[t]]];
      if (!any || mark != 0) continue;
      mark = 1;
      changed = true;
    }
  }
  return split;
}

}  // namespace

ShellMesh refine(const ShellMesh& mesh, const std::vector<char>& too_large) {
  if (too_large.size() != mesh.triangles.size()) {
    throw std::invalid_argument("refine: one flag a triangle is needed");
  }
  const std::vector<char> split = split_edges(mesh, too_large);
  ShellMesh fine;
  std::vector<Vector3d> position;
  for (int i = 0; i < mesh.n_nodes(); ++i) position.emplace_back(mesh.position.col(i));
  std::map<std::pair<int, int>, int> mid;  // of an edge, by its corners
  for (const Triangle& t : mesh.triangles) {
    for (int k = 0; k < 3; ++k) mid[std::minmax(t.node[k], t.node[(k + 1) % 3])] = t.node[3 + k];
  }
  std::map<std::pair<int, int>, int> new_mid;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const Triangle& parent = mesh.triangles[t];
    Matrix36d x;
    for (int n = 0; n < 6; ++n) x.col(n) = mesh.position.col(parent.node[n]);
    std::array<bool, 3> cut{};
    for (int k = 0; k < 3; ++k) cut[k] = split[parent.node[3 + k]] != 0;
    for (const std::array<int, 3>& corner : children_of(cut, longest_edge(mesh, t))) {
      Triangle child = parent;
      ChildOf place;
      place.parent = t;
      Matrix36d rest;
      for (int k = 0; k < 3; ++k) {
        place.corner.col(k) = kNode[corner[k]];
        child.node[k] = parent.node[corner[k]];
      }
      for (int k = 0; k < 3; ++k) {
        const int next = (k + 1) % 3;
        const std::pair<int, int> ends = std::minmax(child.node[k], child.node[next]);
        const Vector2d middle = 0.5 * (place.corner.col(k) + place.corner.col(next));
        const auto whole = mid.find(ends);
        if (whole != mid.end()) {
          child.node[3 + k] = whole->second;
        } else {
          const auto [entry, is_new] = new_mid.try_emplace(ends, static_cast<int>(position.size()));
          if (is_new) position.emplace_back(x * shape(middle.x(), middle.y()));
          child.node[3 + k] = entry->second;
        }
        const Vector2d at = place.corner.col(k);
        rest.col(k) = mesh.rest[t] * shape(at.x(), at.y());
        rest.col(3 + k) = mesh.rest[t] * shape(middle.x(), middle.y());
      }
      fine.triangles.push_back(child);
      fine.rest.push_back(rest);
      fine.warp.push_back(mesh.warp[t]);
      fine.child_of.push_back(place);
    }
  }
  fine.position.resize(3, static_cast<Eigen::Index>(position.size()));
  for (std::size_t i = 0; i < position.size(); ++i) {
    fine.position.col(static_cast<Eigen::Index>(i)) = position[i];
  }
  for (const LabelledEdge& edge : mesh.labelled_edges) {
    const int middle = mid.at(std::minmax(edge.a, edge.b));
    if (split[middle] != 0) {
      fine.labelled_edges.push_back({edge.a, middle, edge.label});
      fine.labelled_edges.push_back({middle, edge.b, edge.label});
    } else {
      fine.labelled_edges.push_back(edge);
    }
  }
  return fine;
}

std::vector<ChildOf> compose(const std::vector<ChildOf>& old, const std::vector<ChildOf>& young) {
  std::vector<ChildOf> both;
  both.reserve(young.size());
  for (const ChildOf& child : young) {
    const ChildOf& between = old.at(child.parent);
    ChildOf place;
    place.parent = between.parent;
    for (int k = 0; k < 3; ++k) {
      const Vector2d p = child.corner.col(k);
      place.corner.col(k) = (1 - p.sum()) * between.corner.col(0) + p.x() * between.corner.col(1) +
                            p.y() * between.corner.col(2);
    }
    both.push_back(place);
  }
  return both;
}

Descent::Descent(const ShellMesh& fine) : child_of_(fine.child_of) {
  for (std::size_t t = 0; t < child_of_.size(); ++t) {
    const auto parent = static_cast<std::size_t>(child_of_[t].parent);
    if (parent >= children_.size()) children_.resize(parent + 1);
    children_[parent].push_back(static_cast<int>(t));
  }
}

SurfacePoint Descent::operator()(const SurfacePoint& point) const {
  SurfacePoint best;
  double best_inside = -1;
  for (const int t : children_.at(point.triangle)) {
    const auto& corner = child_of_[t].corner;
    Eigen::Matrix2d sides;
    sides << corner.col(1) - corner.col(0), corner.col(2) - corner.col(0);
    const Vector2d p = sides.inverse() * (Vector2d(point.xi, point.eta) - corner.col(0));
    const double inside = std::min({p.x(), p.y(), 1 - p.sum()});
    if (inside <= best_inside) continue;
    best_inside = inside;
    best = {t, p.x(), p.y()};
  }
  return best;
}

}  // namespace totebench::solver
