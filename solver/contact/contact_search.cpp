#include "solver/contact/contact_search.hpp"

#include <algorithm>

#include "solver/contact/collision_free_share.hpp"
#include "solver/contact/crossing.hpp"

namespace totebench::solver {
namespace {

std::array<int, 1> nodes_of(const ContactPoint& point) { return {point.node}; }
const std::array<int, 2>& nodes_of(const ContactEdge& edge) { return edge.node; }
const std::array<int, 3>& nodes_of(const ContactPart& part) { return part.node; }

std::uint64_t key_of(PairKind kind, const std::pair<int, int>& pair) {
  const std::uint64_t first = kind == PairKind::kEdgeEdge ? std::uint64_t{1} << 62U : 0;
  return first | static_cast<std::uint64_t>(pair.first) << 31U |
         static_cast<std::uint64_t>(pair.second);
}

}  // namespace

template <typename Features>
std::vector<Box> ContactSearch::boxes(const Features& features, const Eigen::Matrix3Xd& x,
                                      const Eigen::Matrix3Xd* sweep, double margin_m) const {
  std::vector<Box> all(features.size());
#pragma omp parallel for schedule(static)
  for (std::size_t i = 0; i < features.size(); ++i) {
    Box& box = all[i];
    for (const int node : nodes_of(features[i])) {
      box.extend(x.col(node));
      if (sweep != nullptr) box.extend(x.col(node) + sweep->col(node));
    }
    const double wider = 0.5 * (std::max(features[i].thickness_m, least_gap_m_) + margin_m);
    box.min().array() -= wider;
    box.max().array() += wider;
  }
  return all;
}

ContactSearch::ContactSearch(const Model& model)
    : surface_(model),
      least_gap_m_(model.contact.least_gap_m),
      parts_(boxes(surface_.parts(), model.mesh.position, nullptr, 0)),
      edges_(boxes(surface_.edges(), model.mesh.position, nullptr, 0)) {}

void ContactSearch::find_pairs(const Eigen::Matrix3Xd& x, const Eigen::Matrix3Xd* sweep,
                               double margin_m) {
  parts_.fit(boxes(surface_.parts(), x, sweep, margin_m));
  const std::vector<Box> edges = boxes(surface_.edges(), x, sweep, margin_m);
  edges_.fit(edges);
  point_pairs_ = overlaps(boxes(surface_.points(), x, sweep, margin_m), parts_, false,
                          [&](int i, int j) { return surface_.point_may_touch(i, j); });
  edge_pairs_ =
      overlaps(edges, edges_, true, [&](int i, int j) { return surface_.edges_may_touch(i, j); });
  for (auto& [i, j] : edge_pairs_) {
    if (i > j) std::swap(i, j);
  }
}

NearPairs ContactSearch::near(const Eigen::Matrix3Xd& x, double margin_m) {
  find_pairs(x, nullptr, margin_m);
  std::sort(point_pairs_.begin(), point_pairs_.end());
  std::sort(edge_pairs_.begin(), edge_pairs_.end());
  NearPairs near{{}, margin_m};
  const auto add = [&](const IndexPairs& pairs, PairKind kind) {
    std::vector<NearPair> found(pairs.size());
#pragma omp parallel for schedule(static)
    for (std::size_t k = 0; k < pairs.size(); ++k) {
      const auto& [i, j] = pairs[k];
      const bool edges = kind == PairKind::kEdgeEdge;
      const double distance = pair_distance(
          kind, points_of(edges ? surface_.edge_nodes(i, j) : surface_.point_nodes(i, j), x));
      found[k].beyond_m = distance - surface_.largest_gap_m();
      if (found[k].beyond_m >= margin_m) continue;  // no need of the gap itself
      found[k].key = key_of(kind, pairs[k]);
      found[k].pair = edges ? surface_.edge_pair(i, j) : surface_.point_pair(i, j);
      found[k].beyond_m = distance - found[k].pair.barrier.gap_m;
    }
    for (const NearPair& pair : found) {
      const double at_start = pair.pair.start_m - pair.pair.barrier.gap_m;
      if (pair.beyond_m < std::min(margin_m, kMarginShare * at_start)) {
        near.pairs.push_back(pair);
      } else {
        near.next_m = std::min(near.next_m, pair.beyond_m);
      }
    }
  };
  add(point_pairs_, PairKind::kPointTriangle);
  add(edge_pairs_, PairKind::kEdgeEdge);
  return near;
}

double ContactSearch::free_share(const Eigen::Matrix3Xd& x, const Eigen::Matrix3Xd& step,
                                 double most) {
  // What all have in common brings no two together.
  const Eigen::Matrix3Xd sweep = most * (step.colwise() - step.rowwise().mean());
  find_pairs(x, &sweep, 0);
  double share = most;
  const auto limit = [&](const IndexPairs& pairs, PairKind kind) {
#pragma omp parallel for schedule(static) reduction(min : share)
    for (std::size_t k = 0; k < pairs.size(); ++k) {
      const std::array<int, 4> node = kind == PairKind::kEdgeEdge
                                          ? surface_.edge_nodes(pairs[k].first, pairs[k].second)
                                          : surface_.point_nodes(pairs[k].first, pairs[k].second);
      share = std::min(
          share, collision_free_share(kind, points_of(node, x), points_of(node, step), share));
    }
  };
  limit(point_pairs_, PairKind::kPointTriangle);
  limit(edge_pairs_, PairKind::kEdgeEdge);
  return share;
}

IndexPairs ContactSearch::crossings(const Eigen::Matrix3Xd& x) {
  parts_.fit(boxes(surface_.parts(), x, nullptr, 0));
  const IndexPairs pairs =
      overlaps(boxes(surface_.edges(), x, nullptr, 0), parts_, false, [&](int edge, int part) {
        if (!surface_.edge_may_cross(edge, part)) return false;
        const auto& e = surface_.edges()[edge].node;
        const auto& t = surface_.parts()[part].node;
        Eigen::Matrix<double, 3, 5> points;
        points << x.col(e[0]), x.col(e[1]), x.col(t[0]), x.col(t[1]), x.col(t[2]);
        return edge_passes_through(points);
      });
  IndexPairs triangles;
  for (const auto& [edge, part] : pairs) {
    triangles.emplace_back(
        std::minmax(surface_.edges()[edge].triangle, surface_.parts()[part].triangle));
  }
  std::sort(triangles.begin(), triangles.end());
  triangles.erase(std::unique(triangles.begin(), triangles.end()), triangles.end());
  return triangles;
}

}  // namespace totebench::solver
