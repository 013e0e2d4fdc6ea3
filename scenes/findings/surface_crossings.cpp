#include "scenes/findings/surface_crossings.hpp"

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/box_intersection_d.h>
#include <CGAL/intersections.h>
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>
#include <vector>

#include "scenes/builder/tote/tote_contact.hpp"

namespace totebench::scenes {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using FlatTriangle = Kernel::Triangle_3;
using Box = CGAL::Box_intersection_d::Box_with_info_d<double, 3, int>;

constexpr int kParts[4][3] = {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}};

class CrossingFinder {
 public:
  CrossingFinder(const Scene& scene, const Tote& tote)
      : tote_(tote), near_sewn_end_(near_sewn_ends(scene, tote.model.mesh)) {}

  [[nodiscard]] bool may_lie_together(int a, int b) const {
    const solver::Triangle& p = tote_.model.mesh.triangles[a];
    const solver::Triangle& q = tote_.model.mesh.triangles[b];
    for (const int i : p.node) {
      if (std::find(q.node.begin(), q.node.end(), i) != q.node.end()) return true;
    }
    if (near_sewn_end_[a] != 0 && !is_strap(q.region)) return true;
    if (near_sewn_end_[b] != 0 && !is_strap(p.region)) return true;
    const int low = std::min(p.region, q.region);
    const int high = std::max(p.region, q.region);
    return low == kRegionBase && high == kRegionBaseSheet;
  }

 private:
  const Tote& tote_;
  const std::vector<char> near_sewn_end_;  // per triangle
};

}  // namespace

SurfaceCrossings surface_crossings(const Scene& scene, const Tote& tote,
                                   const solver::State& state) {
  const solver::ShellMesh& mesh = tote.model.mesh;
  std::vector<FlatTriangle> flat;
  std::vector<Box> boxes;
  std::vector<int> of_body;  // of the flat parts after the mesh's
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    for (const auto& part : kParts) {
      Kernel::Point_3 p[3];
      for (int k = 0; k < 3; ++k) {
        const Eigen::Vector3d x = state.x.col(mesh.triangles[i].node[part[k]]);
        p[k] = {x.x(), x.y(), x.z()};
      }
      flat.emplace_back(p[0], p[1], p[2]);
    }
  }
  for (std::size_t b = 0; b < state.bodies.size(); ++b) {
    const solver::BodySkin& skin = tote.model.bodies[b].skin;
    for (const auto& face : skin.face) {
      Kernel::Point_3 p[3];
      for (int k = 0; k < 3; ++k) {
        const Eigen::Vector3d x = state.bodies[b].at(skin.point_m.col(face[k]));
        p[k] = {x.x(), x.y(), x.z()};
      }
      of_body.push_back(static_cast<int>(b));
      flat.emplace_back(p[0], p[1], p[2]);
    }
  }
  // Triangles of the mesh, then one number a body.
  const int n_parts = 4 * mesh.n_triangles();
  const auto owner = [&](int part) {
    return part < n_parts ? part / 4
                          : mesh.n_triangles() + of_body[static_cast<std::size_t>(part - n_parts)];
  };
  for (std::size_t i = 0; i < flat.size(); ++i) {
    boxes.emplace_back(flat[i].bbox(), static_cast<int>(i));
  }
  const CrossingFinder finder(scene, tote);
  std::set<std::pair<int, int>> pairs;
  CGAL::box_self_intersection_d(boxes.begin(), boxes.end(), [&](const Box& a, const Box& b) {
    const std::pair<int, int> pair = std::minmax(owner(a.info()), owner(b.info()));
    if (pair.first == pair.second || pairs.count(pair) != 0) return;
    if (pair.second < mesh.n_triangles() && finder.may_lie_together(pair.first, pair.second)) {
      return;
    }
    const FlatTriangle& p = flat[a.info()];
    const FlatTriangle& q = flat[b.info()];
    if (p.is_degenerate() || q.is_degenerate()) return;
    if (CGAL::do_intersect(p, q)) pairs.insert(pair);
  });

  SurfaceCrossings found;
  found.pairs = static_cast<int>(pairs.size());
  std::map<std::pair<int, int>, int> by_part;
  const int n_names = static_cast<int>(tote.triangle_part.size());
  const auto part = [&](int i) { return i < mesh.n_triangles() ? tote.part[i] : n_names; };
  for (const auto& [a, b] : pairs) by_part[std::minmax(part(a), part(b))] += 1;
  for (const auto& [parts, n] : by_part) {
    const auto name = [&](int i) -> std::string {
      return i < n_names ? tote.triangle_part[static_cast<std::size_t>(i)] : "a thing in the bag";
    };
    const std::string a = name(parts.first), b = name(parts.second);
    found.where += fmt::format("{}{} through {} ({})", found.where.empty() ? "" : ", ", a,
                               a == b ? "itself" : b, n);
  }
  return found;
}

}  // namespace totebench::scenes
