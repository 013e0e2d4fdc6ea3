#include "solver/contact/contact_term.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>

#include "solver/contact/collision_free_share.hpp"

namespace totebench::solver {
namespace {

// Of the largest gap. Chosen by counting analyses of the Hessian's pattern: without a margin five
// times as many.
constexpr double kMarginShare = 0.6;
// Of the model's width at the start: a node moves no further in one step, so that the boxes that it
// sweeps stay small.
constexpr double kLongestWayShare = 0.1;

double largest_norm(const Eigen::Matrix3Xd& vectors) {
  return std::sqrt(vectors.colwise().squaredNorm().maxCoeff());
}

double extent(const Eigen::Matrix3Xd& points) {
  return (points.rowwise().maxCoeff() - points.rowwise().minCoeff()).norm();
}

}  // namespace

bool starts_in_itself(const Model& model) {
  return !ContactSearch(model).crossings(model.mesh.position).empty();
}

ContactTerm::ContactTerm(const Model& model)
    : search_(model),
      margin_m_(kMarginShare * search_.largest_gap_m()),
      longest_way_m_(kLongestWayShare * extent(model.mesh.position)) {
  const IndexPairs crossings = search_.crossings(model.mesh.position);
  if (crossings.empty()) return;
  throw std::invalid_argument("contact: triangles " + std::to_string(crossings.front().first) +
                              " and " + std::to_string(crossings.front().second) +
                              " pass through each other at the start; start them apart, or list "
                              "their groups as lying together");
}

double ContactTerm::energy(const State& state, int block) const {
  const ContactPair& pair = pairs_[block];
  return barrier_energy(pair.kind, points_of(pair.node, state.x), pair.barrier);
}

double ContactTerm::derivatives(const State& state, int block, HessianPart part, double* gradient,
                                double* hessian) const {
  const ContactPair& pair = pairs_[block];
  Vector12d g;
  Matrix12d h;
  const double energy = barrier_derivatives(pair.kind, points_of(pair.node, state.x), pair.barrier,
                                            part, g, hessian != nullptr ? &h : nullptr);
  Eigen::Map<Vector12d>{gradient} = g;
  if (hessian != nullptr) Eigen::Map<Matrix12d>{hessian} = h;
  return energy;
}

void ContactTerm::prepare(const State& state) {
  if (searched_.cols() == state.x.cols() && 2 * largest_norm(state.x - searched_) < slack_m_) {
    return;
  }
  const NearPairs near = search_.near(state.x, margin_m_);
  searched_ = state.x;
  slack_m_ = near.next_m;
  for (const NearPair& pair : near.pairs) {
    if (std::binary_search(keys_.begin(), keys_.end(), pair.key)) continue;
    slack_m_ = std::min(slack_m_, pair.beyond_m);
  }
  if (slack_m_ > 0) return;
  adopt(near.pairs);
  slack_m_ = near.next_m;
}

void ContactTerm::adopt(const std::vector<NearPair>& near) {
  ++version_;
  pairs_.clear();
  keys_.clear();
  unknowns_.clear();
  for (const NearPair& found : near) {
    pairs_.push_back(found.pair);
    keys_.push_back(found.key);
    std::array<int, 12>& unknowns = unknowns_.emplace_back();
    for (int i = 0; i < 12; ++i) unknowns[i] = 3 * found.pair.node[i / 3] + i % 3;
  }
}

double ContactTerm::largest_step(const State& state, const Eigen::VectorXd& step) const {
  const Eigen::Map<const Eigen::Matrix3Xd> way(step.data(), 3, state.x.cols());
  const double length = largest_norm(way);
  if (!(length > 0)) return 1;
  double share = std::min(1.0, longest_way_m_ / length);
  // A short step: no pair but those in the list can come within its gap.
  if (searched_.cols() == state.x.cols() &&
      2 * (largest_norm(state.x - searched_) + length) < slack_m_) {
    for (const ContactPair& pair : pairs_) {
      share = std::min(share, collision_free_share(pair.kind, points_of(pair.node, state.x),
                                                   points_of(pair.node, way), share));
    }
    return share;
  }
  return search_.free_share(state.x, way, share);
}

}  // namespace totebench::solver
