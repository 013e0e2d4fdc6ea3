#include "solver/contact/contact_search.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

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

// A list reaches this share of a sheet's edge's length (root mean square) beyond the gaps: further,
// and it holds many pairs that never come near; less, and it is made anew at every step.
constexpr double kReachShare = 0.3;
constexpr std::size_t kChunk = 512;  // of pairs, for a thread

double reach_of(const std::vector<ContactEdge>& edges) {
  double sum = 0;
  int n = 0;
  for (const ContactEdge& edge : edges) {
    if (edge.body >= 0) continue;
    sum += edge.length_sq;
    ++n;
  }
  return kReachShare * std::sqrt(sum / std::max(1, n));
}

// The two sides of a pair come nearer by no more than this when nodes go so far.
double closing(PairKind kind, const std::array<int, 4>& node, const Eigen::VectorXd& way_m) {
  const double first = way_m[node[0]], second = way_m[node[1]];
  const double last = std::max(way_m[node[2]], way_m[node[3]]);
  return kind == PairKind::kEdgeEdge ? std::max(first, second) + last
                                     : first + std::max(second, last);
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
      parts_(boxes(surface_.parts(), surface_.start(), nullptr, 0)),
      edges_(boxes(surface_.edges(), surface_.start(), nullptr, 0)),
      reach_m_(reach_of(surface_.edges())) {
  for (auto* candidates : {&found_, &listed_}) {
    (*candidates)[0].kind = PairKind::kPointTriangle;
    (*candidates)[1].kind = PairKind::kEdgeEdge;
  }
}

void ContactSearch::find_pairs(const Eigen::Matrix3Xd& x, const Eigen::Matrix3Xd* sweep,
                               double margin_m) {
  parts_.fit(boxes(surface_.parts(), x, sweep, margin_m));
  const std::vector<Box> edges = boxes(surface_.edges(), x, sweep, margin_m);
  edges_.fit(edges);
  found_[0].pairs = overlaps(boxes(surface_.points(), x, sweep, margin_m), parts_, false,
                             [&](int i, int j) { return surface_.point_may_touch(i, j); });
  found_[1].pairs =
      overlaps(edges, edges_, true, [&](int i, int j) { return surface_.edges_may_touch(i, j); });
  for (auto& [i, j] : found_[1].pairs) {
    if (i > j) std::swap(i, j);
  }
}

std::array<int, 4> ContactSearch::nodes(PairKind kind, const std::pair<int, int>& pair) const {
  return surface_.nodes(kind, pair.first, pair.second);
}

void ContactSearch::list(const Eigen::Matrix3Xd& x) {
  constexpr double kNotYet = std::numeric_limits<double>::quiet_NaN();
  constexpr double kFar = std::numeric_limits<double>::infinity();
  find_pairs(x, nullptr, reach_m_);
  listed_at_ = x;
  for (std::size_t k = 0; k < listed_.size(); ++k) {
    const PairKind kind = found_[k].kind;
    const IndexPairs& pairs = found_[k].pairs;
    // Many boxes overlap whose contents are further apart.
    std::vector<double> distance(pairs.size(), kFar);
#pragma omp parallel for schedule(static)
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      const double within = reach_m_ + surface_.widest_gap_m(kind, pairs[i].first, pairs[i].second);
      const PairPoints points = points_of(nodes(kind, pairs[i]), x);
      if (distance_at_least(kind, points) >= within) continue;
      const double found = pair_distance(kind, points);
      if (found < within) distance[i] = found;
    }
    Candidates& listed = listed_[k];
    listed.pairs.clear();
    listed.distance_m.clear();
    for (std::size_t i = 0; i < pairs.size(); ++i) {
      if (distance[i] == kFar) continue;
      listed.pairs.push_back(pairs[i]);
      listed.distance_m.push_back(distance[i]);
    }
    listed.start_m.assign(listed.pairs.size(), kNotYet);
  }
}

Eigen::VectorXd ContactSearch::travel(const Eigen::Matrix3Xd& x) const {
  const Eigen::Matrix3Xd way = x - listed_at_;
  const Eigen::Vector3d common = way.rowwise().mean();
  return (way.colwise() - common).colwise().norm();
}

bool ContactSearch::lists_all(const Eigen::VectorXd& travel_m, double margin_m) const {
  return 2 * travel_m.maxCoeff() + margin_m <= reach_m_;
}

NearPairs ContactSearch::near(const Eigen::Matrix3Xd& x, double margin_m) {
  margin_m = std::min(margin_m, reach_m_ / 2);
  if (!is_listed(x) || !lists_all(travel(x), margin_m)) list(x);
  const Eigen::VectorXd travelled = travel(x);
  NearPairs near{{}, margin_m};
  for (Candidates& listed : listed_) {
    const std::size_t n_chunks = (listed.pairs.size() + kChunk - 1) / kChunk;
    std::vector<std::vector<NearPair>> found(n_chunks);
#pragma omp parallel for schedule(static)
    for (std::size_t c = 0; c < n_chunks; ++c) {
      const std::size_t end = std::min(listed.pairs.size(), (c + 1) * kChunk);
      for (std::size_t k = c * kChunk; k < end; ++k) {
        const std::pair<int, int>& pair = listed.pairs[k];
        const std::array<int, 4> node = nodes(listed.kind, pair);
        const double within =
            margin_m + surface_.widest_gap_m(listed.kind, pair.first, pair.second);
        if (listed.distance_m[k] - closing(listed.kind, node, travelled) >= within) continue;
        const double distance = pair_distance(listed.kind, points_of(node, x));
        if (distance >= within) continue;  // no need of the gap itself
        double& start = listed.start_m[k];
        if (std::isnan(start)) start = surface_.start_m(listed.kind, pair.first, pair.second);
        NearPair& one = found[c].emplace_back();
        one.key = key_of(listed.kind, pair);
        one.pair = surface_.pair(listed.kind, pair.first, pair.second, start);
        one.beyond_m = distance - one.pair.barrier.gap_m;
      }
    }
    for (const std::vector<NearPair>& chunk : found) {
      for (const NearPair& one : chunk) {
        const double at_start = one.pair.start_m - one.pair.barrier.gap_m;
        if (one.beyond_m < std::min(margin_m, kApartShare * at_start)) {
          near.pairs.push_back(one);
        } else {
          near.next_m = std::min(near.next_m, one.beyond_m);
        }
      }
    }
  }
  std::sort(near.pairs.begin(), near.pairs.end(),
            [](const NearPair& a, const NearPair& b) { return a.key < b.key; });
  return near;
}

double ContactSearch::free_share(const Eigen::Matrix3Xd& x, const Eigen::Matrix3Xd& step,
                                 double most) {
  // What all have in common brings no two together.
  const Eigen::Vector3d common = step.rowwise().mean();
  const Eigen::Matrix3Xd sweep = most * (step.colwise() - common);
  const Eigen::VectorXd length = sweep.colwise().norm();
  const auto in_list = [&] { return is_listed(x) && lists_all(travel(x) + length, 0); };
  bool listed = in_list();
  if (!listed && lists_all(length, 0)) {
    list(x);
    listed = in_list();
  }
  Eigen::VectorXd before, after;  // travel of each node, where pairs are from the list
  if (listed) {
    before = travel(x);
    after = before + length;
  } else {
    find_pairs(x, &sweep, 0);
  }
  double share = most;
  for (const Candidates& candidates : listed ? listed_ : found_) {
#pragma omp parallel for schedule(static) reduction(min : share)
    for (std::size_t k = 0; k < candidates.pairs.size(); ++k) {
      const std::array<int, 4> node = nodes(candidates.kind, candidates.pairs[k]);
      if (listed) {
        // So far apart to the end that collision_free_share() would let it go.
        const double distance = candidates.distance_m[k];
        const double at_most = distance + closing(candidates.kind, node, before);
        const double at_least = distance - closing(candidates.kind, node, after);
        if (at_least > 2 * kKeptGap * at_most) continue;
      }
      share = std::min(share, collision_free_share(candidates.kind, points_of(node, x),
                                                   points_of(node, step), std::min(share, most)));
    }
  }
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
