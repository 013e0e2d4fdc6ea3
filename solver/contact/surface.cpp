#include "solver/contact/surface.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <bit>
#include <limits>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>

#include "totebench/solver/state.hpp"

namespace totebench::solver {
namespace {

// Bodies press with corners and edges: as much stiffer, so that they rest within the gap and not at
// the very end of it.
constexpr double kBodyStiffness = 20;
constexpr int kGroups = 32;
constexpr int kParts[4][3] = {{0, 3, 5}, {3, 1, 4}, {5, 4, 2}, {3, 4, 5}};

void check(const Model& model) {
  const Contact& rule = model.contact;
  const std::size_t n = model.mesh.triangles.size();
  if (rule.thickness_m.size() != n || (!rule.group.empty() && rule.group.size() != n)) {
    throw std::invalid_argument("contact: one thickness and one group a triangle are needed");
  }
  for (const double t : rule.thickness_m) {
    if (!(t > 0)) throw std::invalid_argument("contact: every thickness must be above zero");
  }
  if (!(rule.least_gap_m > 0 && rule.stiffness_Pa > 0)) {
    throw std::invalid_argument("contact: least gap and stiffness must be above zero");
  }
  const auto known = [](int group) { return group >= 0 && group < kGroups; };
  const bool pairs_known =
      std::all_of(rule.together.begin(), rule.together.end(),
                  [&](const auto& pair) { return known(pair[0]) && known(pair[1]); });
  const bool bodies_known = std::all_of(model.bodies.begin(), model.bodies.end(),
                                        [&](const Body& body) { return known(body.group); });
  if (!pairs_known || !bodies_known || !std::all_of(rule.group.begin(), rule.group.end(), known)) {
    throw std::invalid_argument("contact: groups are numbered from 0 to " +
                                std::to_string(kGroups - 1));
  }
}

// The share of a part that a point or an edge of it stands for.
void add(ContactFeature& feature, const ContactFeature& part) {
  const double area = feature.area_m2 + part.area_m2 / 3;
  feature.thickness_m += (part.thickness_m - feature.thickness_m) * part.area_m2 / 3 / area;
  feature.area_m2 = area;
  feature.groups |= part.groups;
}

template <typename Features>
double mean_area(const Features& features) {
  double sum = 0;
  for (const ContactFeature& feature : features) sum += feature.area_m2;
  return sum / std::max<double>(1, static_cast<double>(features.size()));
}

template <typename A, typename B>
bool disjoint(const A& a, const B& b) {
  return std::none_of(a.begin(), a.end(),
                      [&](int node) { return std::find(b.begin(), b.end(), node) != b.end(); });
}

}  // namespace

PairPoints points_of(const std::array<int, 4>& node, const Eigen::Ref<const Eigen::Matrix3Xd>& x) {
  PairPoints points;
  for (int k = 0; k < 4; ++k) points.col(k) = x.col(node[k]);
  return points;
}

ContactSurface::ContactSurface(const Model& model) : model_(model), n_nodes_(model.mesh.n_nodes()) {
  check(model);
  const Contact& rule = model.contact;
  touched_by_.fill(~std::uint32_t{0});
  for (const auto& [a, b] : rule.together) {
    touched_by_[a] &= ~(std::uint32_t{1} << b);
    touched_by_[b] &= ~(std::uint32_t{1} << a);
  }
  std::map<int, ContactPoint> points;
  std::map<std::pair<int, int>, ContactEdge> edges;
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    const Matrix36d& rest = model.mesh.rest[t];
    for (const auto& local : kParts) {
      ContactPart part;
      for (int k = 0; k < 3; ++k) part.node[k] = model.mesh.triangles[t].node[local[k]];
      const Eigen::Vector3d u = rest.col(local[1]) - rest.col(local[0]);
      const Eigen::Vector3d v = rest.col(local[2]) - rest.col(local[0]);
      part.area_m2 = 0.5 * u.cross(v).norm();
      part.triangle = t;
      part.thickness_m = rule.thickness_m[t];
      part.groups = std::uint32_t{1} << (rule.group.empty() ? 0 : rule.group[t]);
      for (int k = 0; k < 3; ++k) {
        const int next = (k + 1) % 3;
        ContactPoint& point = points[part.node[k]];
        point.node = part.node[k];
        add(point, part);
        const std::pair<int, int> ends = std::minmax(part.node[k], part.node[next]);
        ContactEdge& edge = edges[ends];
        edge.triangle = t;
        edge.node = {ends.first, ends.second};
        edge.length_sq = (rest.col(local[next]) - rest.col(local[k])).squaredNorm();
        add(edge, part);
      }
      largest_gap_m_ = std::max({largest_gap_m_, part.thickness_m, rule.least_gap_m});
      parts_.push_back(part);
    }
  }
  for (const auto& [node, point] : points) points_.push_back(point);
  for (const auto& [ends, edge] : edges) edges_.push_back(edge);
  add_skins();
  start_ = places(model.mesh.position, start_poses(model));
}

// A body's feature counts like a mean one of the sheets: it can press on no more than lies under
// it.
void ContactSurface::add_skins() {
  const ContactFeature of_point{mean_area(points_)}, of_edge{mean_area(edges_)};
  for (int b = 0; b < static_cast<int>(model_.bodies.size()); ++b) {
    const Body& body = model_.bodies[static_cast<std::size_t>(b)];
    const int first = n_nodes_ + static_cast<int>(skin_points_.size());
    const auto of_body = [&](ContactFeature feature) {
      feature.groups = std::uint32_t{1} << body.group;
      feature.body = b;
      return feature;
    };
    const auto length_sq = [&](int i, int j) {
      return (body.skin.point_m.col(i) - body.skin.point_m.col(j)).squaredNorm();
    };
    for (Eigen::Index i = 0; i < body.skin.point_m.cols(); ++i) {
      skin_points_.push_back({b, body.skin.point_m.col(i)});
      points_.push_back({of_body(of_point), first + static_cast<int>(i)});
    }
    for (const auto& [i, j] : body.skin.edge) {
      edges_.push_back({of_body(of_edge),
                        {first + i, first + j},
                        length_sq(i, j),
                        model_.mesh.n_triangles() + b});
    }
    for (const auto& [i, j, k] : body.skin.face) {
      parts_.push_back(
          {of_body(of_point), {first + i, first + j, first + k}, model_.mesh.n_triangles() + b});
    }
  }
}

Eigen::Matrix3Xd ContactSurface::places(const Eigen::Ref<const Eigen::Matrix3Xd>& x,
                                        const std::vector<BodyPose>& bodies) const {
  Eigen::Matrix3Xd all(3, x.cols() + static_cast<Eigen::Index>(skin_points_.size()));
  all.leftCols(x.cols()) = x;
  Eigen::Index next = x.cols();
  for (const SkinPoint& point : skin_points_) {
    all.col(next++) = bodies[static_cast<std::size_t>(point.body)].at(point.on_body);
  }
  return all;
}

bool ContactSurface::bodies_may_touch(int a, int b) const {
  const auto fixed = [&](int i) {
    return i >= 0 && model_.bodies[static_cast<std::size_t>(i)].fixed;
  };
  if (free_bodies_left_out_ && ((a >= 0 && !fixed(a)) || (b >= 0 && !fixed(b)))) return false;
  return a < 0 || b < 0 || (a != b && !(fixed(a) && fixed(b)));
}

bool ContactSurface::groups_may_touch(std::uint32_t a, std::uint32_t b) const {
  for (std::uint32_t left = a; left != 0; left &= left - 1) {
    if ((touched_by_[std::countr_zero(left)] & b) != 0) return true;
  }
  return false;
}

bool ContactSurface::point_may_touch(int point, int part) const {
  const ContactPoint& p = points_[point];
  const ContactPart& t = parts_[part];
  return disjoint(t.node, std::array{p.node}) && bodies_may_touch(p.body, t.body) &&
         groups_may_touch(p.groups, t.groups);
}

bool ContactSurface::edges_may_touch(int a, int b) const {
  return disjoint(edges_[a].node, edges_[b].node) &&
         bodies_may_touch(edges_[a].body, edges_[b].body) &&
         groups_may_touch(edges_[a].groups, edges_[b].groups);
}

bool ContactSurface::edge_may_cross(int edge, int part) const {
  return disjoint(edges_[edge].node, parts_[part].node) &&
         bodies_may_touch(edges_[edge].body, parts_[part].body) &&
         groups_may_touch(edges_[edge].groups, parts_[part].groups);
}

std::array<int, 4> ContactSurface::nodes(PairKind kind, int first, int second) const {
  if (kind == PairKind::kPointTriangle) {
    const std::array<int, 3>& t = parts_[second].node;
    return {points_[first].node, t[0], t[1], t[2]};
  }
  const std::array<int, 2>& e = edges_[first].node;
  const std::array<int, 2>& f = edges_[second].node;
  return {e[0], e[1], f[0], f[1]};
}

double ContactSurface::widest_gap_m(PairKind kind, int first, int second) const {
  const double sum = kind == PairKind::kPointTriangle
                         ? points_[first].thickness_m + parts_[second].thickness_m
                         : edges_[first].thickness_m + edges_[second].thickness_m;
  return std::max(sum / 2, model_.contact.least_gap_m);
}

double ContactSurface::start_m(PairKind kind, int first, int second) const {
  const bool of_body = kind == PairKind::kPointTriangle
                           ? points_[first].body >= 0 || parts_[second].body >= 0
                           : edges_[first].body >= 0 || edges_[second].body >= 0;
  if (of_body) return std::numeric_limits<double>::infinity();
  return pair_distance(kind, points_of(nodes(kind, first, second), start_));
}

ContactPair ContactSurface::pair(PairKind kind, int first, int second, double start_m) const {
  ContactPair pair{kind, nodes(kind, first, second), {}, start_m};
  pair.barrier.gap_m = std::min(widest_gap_m(kind, first, second), kStartShare * start_m);
  double weight_m2 = 0;
  if (kind == PairKind::kPointTriangle) {
    weight_m2 = points_[first].area_m2 / 2;
  } else {
    const ContactEdge& e = edges_[first];
    const ContactEdge& f = edges_[second];
    pair.barrier.parallel_m4 = parallel_limit(e.length_sq, f.length_sq);
    weight_m2 = (e.area_m2 + f.area_m2) / 8;
  }
  const bool of_body = start_m == std::numeric_limits<double>::infinity();
  pair.barrier.stiffness_J =
      (of_body ? kBodyStiffness : 1) * weight_m2 * model_.contact.stiffness_Pa * pair.barrier.gap_m;
  return pair;
}

}  // namespace totebench::solver
