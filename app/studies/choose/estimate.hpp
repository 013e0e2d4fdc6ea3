// What is known of every build while some of them are solved: figures predicted from solved builds
// and corrected from the coarse to the full mesh, and how far such figures may be off (see
// choose_search.hpp).
#pragma once

#include <vector>

#include "totebench/studies/choose_search.hpp"

namespace totebench::studies {

class BuildEstimates {
 public:
  explicit BuildEstimates(const SearchProblem& problem);

  void set_coarse(const std::vector<std::size_t>& builds, std::vector<Figures> found);
  void set_full(std::size_t build, const Figures& found);
  // Figures of every build as well as they are known by now.
  void update();

  // Possible builds by cost, the first listed first.
  [[nodiscard]] const std::vector<std::size_t>& by_cost() const { return by_cost_; }
  [[nodiscard]] const std::vector<FoundBuild>& builds() const { return builds_; }
  [[nodiscard]] const std::vector<int>& picks(std::size_t build) const { return picks_[build]; }
  [[nodiscard]] const std::vector<std::size_t>& in_full() const { return full_; }
  // Per figure, logarithms of the factors by which coarse figures may differ from predicted ones,
  // and full ones from corrected coarse ones.
  [[nodiscard]] const Figures& predict_margin() const { return predict_margin_; }
  [[nodiscard]] const Figures& coarse_margin() const { return coarse_margin_; }
  // Whether a build's figures, each better by its margin, are within all limits; a build with an
  // alternative that was never solved may always be.
  [[nodiscard]] bool may_meet(std::size_t build, const Figures& margins) const;

  // Largest figure over its limit, one limit left out; NaN where one is not known.
  [[nodiscard]] double use_of(const FoundBuild& build, std::size_t without) const;

 private:
  [[nodiscard]] int apart(std::size_t a, std::size_t b) const;
  template <class Has>
  [[nodiscard]] int nearest(std::size_t build, const std::vector<std::size_t>& among,
                            const Has& has) const;
  [[nodiscard]] double correction(std::size_t build, std::size_t f) const;
  [[nodiscard]] double single(std::size_t option, int alternative, std::size_t f) const;
  [[nodiscard]] double predicted_from(std::size_t from, std::size_t build, std::size_t f) const;
  [[nodiscard]] double predicted(std::size_t build, std::size_t f) const;
  [[nodiscard]] bool untried(std::size_t build) const;
  [[nodiscard]] double error(std::size_t f, double thought, double found) const;

  const SearchProblem& problem_;
  std::vector<FoundBuild> builds_;
  std::vector<std::vector<int>> picks_;
  std::vector<std::size_t> by_cost_;
  std::vector<std::size_t> coarse_;  // by index
  std::vector<std::size_t> full_;    // in the order in which they were solved
  Figures predict_margin_;
  Figures coarse_margin_;
};

}  // namespace totebench::studies
