// Sheets that do not pass through each other: the sum of the barriers (barrier.hpp) of all pairs
// of points and parts, and of edges, that are near each other. One block a pair.
//
// The blocks are the pairs nearer than their gap and a margin at some state before, and stay the
// same until one that is needed is missing among them: a new list makes a new pattern of the
// Hessian, which costs more than blocks without energy.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "solver/contact/contact_search.hpp"
#include "solver/terms/energy_term.hpp"

namespace totebench::solver {

class ContactTerm final : public EnergyTerm {
 public:
  // The model must outlive it. Throws std::invalid_argument where the contact is impossible.
  explicit ContactTerm(const Model& model);

  [[nodiscard]] std::string_view name() const override { return "contact"; }
  [[nodiscard]] int n_blocks() const override { return static_cast<int>(pairs_.size()); }
  [[nodiscard]] std::span<const int> unknowns(int block) const override { return unknowns_[block]; }
  [[nodiscard]] double energy(const State& state, int block) const override;
  double derivatives(const State& state, int block, HessianPart part, double* gradient,
                     double* hessian) const override;
  void prepare(const State& state) override;
  [[nodiscard]] int pattern_version() const override { return version_; }
  [[nodiscard]] double largest_step(const State& state, const Eigen::VectorXd& step) const override;

 private:
  void adopt(const std::vector<NearPair>& near);

  mutable ContactSearch search_;  // its trees are fitted anew at every search
  double margin_m_;
  double longest_way_m_;  // of a node in one step
  std::vector<ContactPair> pairs_;
  std::vector<std::uint64_t> keys_;  // of pairs_, rising
  std::vector<std::array<int, 12>> unknowns_;
  int version_ = 0;
  // Searched last: positions, and how near to its gap a pair came that is not in the list.
  Eigen::Matrix3Xd searched_;
  double slack_m_ = 0;
};

}  // namespace totebench::solver
