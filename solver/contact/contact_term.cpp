#include "solver/contact/contact_term.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>
#include <string>

#include "solver/contact/collision_free_share.hpp"
#include "solver/state/retraction.hpp"
#include "solver/state/turning.hpp"

namespace totebench::solver {
namespace {

// Of the largest gap. Chosen by counting analyses of the Hessian's pattern: without a margin five
// times as many.
constexpr double kMarginShare = 0.6;
// Of the model's width at the start: a node moves no further in one step, so that the boxes that it
// sweeps stay small.
constexpr double kLongestWayShare = 0.1;

// Ways of ever smaller shares of a step that are tried where bodies turn, each so much shorter than
// what the one before came to.
constexpr int kMostWays = 30;
constexpr double kShorter = 0.9;

// Shares that differ by round-off come out the same: they end an iteration towards the touch, which
// makes more of it.
constexpr int kShareDigits = 12;
double rounded_down(double share) {
  if (!(share < 1)) return share;
  int exponent = 0;
  const double mantissa = std::frexp(share, &exponent);
  return std::ldexp(std::floor(std::ldexp(mantissa, kShareDigits)), exponent - kShareDigits);
}

double largest_norm(const Eigen::Matrix3Xd& vectors) {
  return std::sqrt(vectors.colwise().squaredNorm().maxCoeff());
}

double extent(const Eigen::Matrix3Xd& points) {
  return (points.rowwise().maxCoeff() - points.rowwise().minCoeff()).norm();
}

}  // namespace

bool starts_in_itself(const Model& model) {
  ContactSearch search(model);
  return !search.crossings(search.surface().start()).empty();
}

bool lies_in_itself(const Model& model, const State& state) {
  ContactSearch search(model);
  return !search.crossings(search.surface().places(state.x, state.bodies)).empty();
}

ContactTerm::ContactTerm(const Model& model, const DofMap& dofs)
    : search_(model),
      margin_m_(kMarginShare * search_.surface().largest_gap_m()),
      longest_way_m_(kLongestWayShare * extent(model.mesh.position)),
      dofs_(dofs) {
  const IndexPairs crossings = search_.crossings(surface().start());
  if (crossings.empty()) return;
  const auto name = [&](int i) {
    const int body = i - model.mesh.n_triangles();
    return body < 0 ? "triangle " + std::to_string(i) : "body " + std::to_string(body);
  };
  throw std::invalid_argument("contact: " + name(crossings.front().first) + " and " +
                              name(crossings.front().second) +
                              " pass through each other at the start; start them apart, or list "
                              "their groups as lying together");
}

PairPoints ContactTerm::places_of(const State& state, const ContactPair& pair) const {
  PairPoints points;
  for (int k = 0; k < 4; ++k) {
    const ContactSurface::SkinPoint* skin = surface().on_skin(pair.node[k]);
    points.col(k) = skin == nullptr
                        ? state.x.col(pair.node[k])
                        : state.bodies[static_cast<std::size_t>(skin->body)].at(skin->on_body);
  }
  return points;
}

double ContactTerm::energy(const State& state, int block) const {
  const ContactPair& pair = nearest(state, blocks_[block]);
  return barrier_energy(pair.kind, places_of(state, pair), pair.barrier);
}

double ContactTerm::derivatives(const State& state, int block, HessianPart part, double* gradient,
                                double* hessian) const {
  const Block& of = blocks_[block];
  const ContactPair& pair = nearest(state, of);
  const PairPoints points = places_of(state, pair);
  Vector12d g;
  Matrix12d h;
  const double energy = barrier_derivatives(pair.kind, points, pair.barrier, part, g,
                                            hessian != nullptr ? &h : nullptr);
  if (!of.has_body) {
    Eigen::Map<Vector12d>{gradient} = g;
    if (hessian != nullptr) Eigen::Map<Matrix12d>{hessian} = h;
    return energy;
  }
  constexpr int kMost = Block::kMostUnknowns;
  Eigen::Matrix<double, 12, Eigen::Dynamic, 0, 12, kMost> by(12, of.n_unknowns);  // dx by unknowns
  by.setZero();
  std::array<Eigen::Vector3d, 4> arm;
  for (int k = 0; k < 4; ++k) {
    by.block<3, 3>(3 * k, of.first[k]).setIdentity();
    const int body = body_of(pair.node[k]);
    if (body < 0) continue;
    arm[k] = points.col(k) - state.bodies[static_cast<std::size_t>(body)].position;
    by.block<3, 3>(3 * k, of.first[k] + 3) = -cross_matrix(arm[k]);
  }
  Eigen::Map<Eigen::VectorXd>(gradient, of.n_unknowns) = by.transpose() * g;
  if (hessian == nullptr) return energy;
  Eigen::Map<Eigen::MatrixXd> whole(hessian, of.n_unknowns, of.n_unknowns);
  whole = by.transpose() * h * by;
  for (int k = 0; k < 4 && part == HessianPart::kExact; ++k) {
    if (body_of(pair.node[k]) < 0) continue;
    whole.block<3, 3>(of.first[k] + 3, of.first[k] + 3) += turning(arm[k], g.segment<3>(3 * k));
  }
  return energy;
}

void ContactTerm::prepare(const State& state) {
  const Eigen::Matrix3Xd x = surface().places(state.x, state.bodies);
  if (!is_stale_ && searched_.cols() == x.cols() && 2 * largest_norm(x - searched_) < slack_m_) {
    return;
  }
  const NearPairs near = search_.near(x, margin_m_);
  searched_ = x;
  slack_m_ = near.next_m;
  for (const NearPair& pair : near.pairs) {
    if (std::binary_search(keys_.begin(), keys_.end(), pair.key)) continue;
    slack_m_ = std::min(slack_m_, pair.beyond_m);
  }
  if (slack_m_ > 0 && !is_stale_) return;
  is_stale_ = false;
  adopt(near.pairs);
  slack_m_ = near.next_m;
}

void ContactTerm::set_load_factor(double factor) {
  if (dofs_.n_bodies == 0 || (factor != 0) == is_loaded_) return;
  is_loaded_ = factor != 0;
  is_stale_ = true;
  search_.leave_out_free_bodies(!is_loaded_);
}

const ContactPair& ContactTerm::nearest(const State& state, const Block& block) const {
  std::size_t least = block.first_pair;
  double distance = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; block.n_pairs > 1 && i < block.n_pairs; ++i) {
    const ContactPair& pair = pairs_[block.first_pair + i];
    const double its = pair_distance(pair.kind, places_of(state, pair));
    if (!(its < distance)) continue;
    distance = its;
    least = block.first_pair + i;
  }
  return pairs_[least];
}

void ContactTerm::add_block(const ContactPair& pair) {
  pairs_.push_back(pair);
  // By rising key, the parts of one body stand beside each other.
  if (!blocks_.empty() && pair.kind == PairKind::kPointTriangle) {
    const ContactPair& before = pairs_[blocks_.back().first_pair];
    const int body = body_of(pair.node[3]);
    if (body >= 0 && before.kind == pair.kind && before.node[0] == pair.node[0] &&
        body_of(before.node[3]) == body) {
      ++blocks_.back().n_pairs;
      return;
    }
  }
  Block& block = blocks_.emplace_back();
  block.first_pair = pairs_.size() - 1;
  for (int k = 0; k < 4; ++k) {
    const int body = body_of(pair.node[k]);
    const int before = k > 0 ? body_of(pair.node[k - 1]) : -1;
    if (body >= 0 && body == before) {  // points of one body stand beside each other
      block.first[k] = block.first[k - 1];
      continue;
    }
    block.has_body = block.has_body || body >= 0;
    block.first[k] = block.n_unknowns;
    const int first = body < 0 ? dofs_.node(pair.node[k]) : dofs_.body(body);
    const int n = body < 0 ? DofMap::kPerNode : DofMap::kPerBody;
    for (int i = 0; i < n; ++i) block.unknowns[block.n_unknowns++] = first + i;
  }
}

void ContactTerm::adopt(const std::vector<NearPair>& near) {
  ++version_;
  pairs_.clear();
  blocks_.clear();
  keys_.clear();
  for (const NearPair& found : near) {
    add_block(found.pair);
    keys_.push_back(found.key);
  }
}

Eigen::Matrix3Xd ContactTerm::way(const State& state, const Eigen::Matrix3Xd& from,
                                  const Eigen::VectorXd& step, double share) const {
  const Eigen::Map<const Eigen::Matrix3Xd> nodes(step.data(), 3, state.x.cols());
  if (state.bodies.empty()) return share * nodes;
  std::vector<BodyPose> to;
  for (int b = 0; b < dofs_.n_bodies; ++b) {
    to.push_back(
        moved(state.bodies[static_cast<std::size_t>(b)], share * step.segment<6>(dofs_.body(b))));
  }
  Eigen::Matrix3Xd way = surface().places(state.x, to) - from;
  way.leftCols(state.x.cols()) = share * nodes;
  return way;
}

double ContactTerm::free_share(const Eigen::Matrix3Xd& from, const Eigen::Matrix3Xd& way) const {
  const double length = largest_norm(way);
  if (!(length > 0)) return 1;
  double share = std::min(1.0, longest_way_m_ / length);
  // A short step: no pair but those in the list can come within its gap.
  if (searched_.cols() == from.cols() && 2 * (largest_norm(from - searched_) + length) < slack_m_) {
    for (const ContactPair& pair : pairs_) {
      share = std::min(share, collision_free_share(pair.kind, points_of(pair.node, from),
                                                   points_of(pair.node, way), share));
    }
    return share;
  }
  return search_.free_share(from, way, share);
}

double ContactTerm::largest_step(const State& state, const Eigen::VectorXd& step) const {
  const Eigen::Matrix3Xd from = surface().places(state.x, state.bodies);
  double share = rounded_down(free_share(from, way(state, from, step, 1)));
  // Points of a body that turns move along arcs. The straight way to where they end is as good:
  // along it, too, nothing meets. But it is another one for each share.
  for (int i = 0; !state.bodies.empty() && share < 1; ++i) {
    if (i == kMostWays) return 0;
    share = rounded_down(kShorter * share);
    const double of_it = free_share(from, way(state, from, step, share));
    if (of_it >= 1) break;
    share *= of_it;
  }
  return share;
}

}  // namespace totebench::solver
