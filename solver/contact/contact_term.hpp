// Sheets and bodies that do not pass through each other: the sum of the barriers (barrier.hpp) of
// all pairs of points and parts, and of edges, that are near each other. One block a pair; but a
// point and a body make one block of the body's part nearest to the point, so that it slides over
// the lines between parts of one face without a bump. A point at r from a body's own point 0 moves
// by w x r + 1/2 w x (w x r) as the body turns by w.
//
// The blocks are the pairs nearer than their gap and a margin at some state before, and stay the
// same until one that is needed is missing among them: a new list makes a new pattern of the
// Hessian, which costs more than blocks without energy.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "solver/contact/contact_search.hpp"
#include "solver/state/dof_map.hpp"
#include "solver/terms/energy_term.hpp"

namespace totebench::solver {

class ContactTerm final : public EnergyTerm {
 public:
  // The model must outlive it. Throws std::invalid_argument where the contact is impossible.
  ContactTerm(const Model& model, const DofMap& dofs);

  [[nodiscard]] std::string_view name() const override { return "contact"; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(blocks_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override {
    return std::span(blocks_[block].unknowns).first(blocks_[block].n_unknowns);
  }
  [[nodiscard]] double energy(const State& state, int block) const override;
  double derivatives(const State& state, int block, HessianPart part, double* gradient,
                     double* hessian) const override;
  void prepare(const State& state) override;
  void set_load_factor(double factor) override;
  [[nodiscard]] int pattern_version() const override { return version_; }
  [[nodiscard]] double largest_step(const State& state, const Eigen::VectorXd& step) const override;

  // Calls visit(point, body, force) for the points of each listed pair of a body and a sheet, or of
  // two bodies: the force (N) of `body` on a point of the sheet, or of the body listed first.
  template <typename Visit>
  void for_each_push(const State& state, Visit&& visit) const {
    for (const Block& block : blocks_) {
      const auto& node = pairs_[block.first_pair].node;
      const int first = body_of(node[0]), last = body_of(node[3]);
      if (first < 0 && last < 0) continue;
      Vector12d g;
      const ContactPair& pair = nearest(state, block);
      barrier_derivatives(pair.kind, places_of(state, pair), pair.barrier, HessianPart::kExact, g,
                          nullptr);
      const int n_first = pair.kind == PairKind::kPointTriangle ? 1 : 2;
      const bool pushed_first = first < 0 || (last >= 0 && first < last);
      for (int k = pushed_first ? 0 : n_first; k < (pushed_first ? n_first : 4); ++k) {
        visit(pair.node[k], pushed_first ? last : first, Eigen::Vector3d(-g.segment<3>(3 * k)));
      }
    }
  }
  [[nodiscard]] const ContactSurface& surface() const { return search_.surface(); }

 private:
  // Of a pair, or of the parts of one body that a point is near: the unknowns that its points move
  // with, and where those of each point begin.
  struct Block {
    static constexpr int kMostUnknowns = 15;  // a body against a part of a sheet
    std::size_t first_pair = 0;               // in pairs_
    std::size_t n_pairs = 1;
    std::array<int, kMostUnknowns> unknowns{};
    int n_unknowns = 0;
    std::array<int, 4> first{};
    bool has_body = false;
  };
  void adopt(const std::vector<NearPair>& near);
  void add_block(const ContactPair& pair);
  // The pair that counts.
  [[nodiscard]] const ContactPair& nearest(const State& state, const Block& block) const;
  [[nodiscard]] int body_of(int point) const {
    const ContactSurface::SkinPoint* skin = surface().on_skin(point);
    return skin == nullptr ? -1 : skin->body;
  }
  [[nodiscard]] PairPoints places_of(const State& state, const ContactPair& pair) const;
  // How the surface's points move along a share of a step.
  [[nodiscard]] Eigen::Matrix3Xd way(const State& state, const Eigen::Matrix3Xd& from,
                                     const Eigen::VectorXd& step, double share) const;
  // A share of a way, at most 1, along which nothing meets.
  [[nodiscard]] double free_share(const Eigen::Matrix3Xd& from, const Eigen::Matrix3Xd& way) const;

  mutable ContactSearch search_;  // its trees are fitted anew at every search
  double margin_m_;
  double longest_way_m_;  // of a node in one step
  DofMap dofs_;
  std::vector<ContactPair> pairs_;
  std::vector<Block> blocks_;
  std::vector<std::uint64_t> keys_;  // of pairs_, rising
  int version_ = 0;
  // Searched last: positions, and how near to its gap a pair came that is not in the list.
  Eigen::Matrix3Xd searched_;
  double slack_m_ = 0;
  bool is_loaded_ = true;  // else free bodies are not there
  bool is_stale_ = false;  // the list is of what was there before
};

}  // namespace totebench::solver
