#include "totebench/scenes/base_shape.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <utility>

#include "totebench/scenes/sewing.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::scenes {

bool has_flat_base(const Bag& bag) {
  if (bag.shape == BagShape::kPieces) {
    return std::any_of(bag.pieces.begin(), bag.pieces.end(),
                       [](const Piece& piece) { return piece.layers == PieceLayers::kBase; });
  }
  return bag.shape == BagShape::kBoxed || bag.shape == BagShape::kGusset;
}

double base_width_m(const Bag& bag) {
  return bag.shape == BagShape::kPieces ? bag.base_width_m : bag.width_m;
}

bool base_is_sewn_on(const Bag& bag) {
  if (bag.shape != BagShape::kPieces) return bag.shape == BagShape::kGusset;
  if (!has_flat_base(bag)) return false;
  const auto is_base = [&](const Stretch& stretch) {
    return bag.pieces[static_cast<std::size_t>(stretch.piece)].layers == PieceLayers::kBase;
  };
  const std::vector<Joint> joints = sew(bag, "cm").joints;
  return std::none_of(joints.begin(), joints.end(), [&](const Joint& joint) {
    return joint.use == EdgeUse::kFold && (is_base(joint.a) || is_base(joint.b));
  });
}

std::vector<OutlineEdge> base_outline(const solver::ShellMesh& mesh) {
  struct Use {
    int base = 0;
    int other = 0;
    OutlineEdge edge;
  };
  std::map<std::pair<int, int>, Use> edges;
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    const solver::Triangle& t = mesh.triangles[i];
    if (!is_panel(t.region)) continue;
    for (int k = 0; k < 3; ++k) {
      const int next = (k + 1) % 3;
      const auto ends = std::minmax(t.node[k], t.node[next]);
      Use& use = edges[ends];
      (t.region == kRegionBase ? use.base : use.other) += 1;
      use.edge = {ends.first, ends.second, t.node[3 + k],
                  (mesh.rest[i].col(k) - mesh.rest[i].col(next)).norm()};
    }
  }
  std::vector<OutlineEdge> outline;
  for (const auto& [ends, use] : edges) {
    if (use.base > 0 && use.other > 0) outline.push_back(use.edge);
  }
  return outline;
}

BaseShape base_shape(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& x) {
  double sum = 0;
  double length = 0;
  for (const OutlineEdge& edge : base_outline(mesh)) {
    sum += edge.length_m * (x(2, edge.a) + 4 * x(2, edge.mid) + x(2, edge.b)) / 6;
    length += edge.length_m;
  }
  BaseShape base;
  base.has_base = length > 0;
  if (base.has_base) base.outline_m = sum / length;
  base.lowest = lowest_point(mesh, x, [&](int region) {
    return base.has_base ? region == kRegionBase : is_panel(region);
  });
  return base;
}

Eigen::Vector3d lowest_point(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                             const std::function<bool(int)>& region) {
  Eigen::Vector3d low(0, 0, std::numeric_limits<double>::infinity());
  const auto consider = [&](const Eigen::Vector3d& p) {
    if (p.z() < low.z()) low = p;
  };
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    if (!region(mesh.triangles[t].region)) continue;
    for (const int node : mesh.triangles[t].node) consider(x.col(node));
    consider(solver::position_of(mesh, x, {t, 1.0 / 3, 1.0 / 3}));
  }
  return low;
}

}  // namespace totebench::scenes
