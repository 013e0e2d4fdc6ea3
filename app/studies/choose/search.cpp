#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "app/studies/choose/estimate.hpp"
#include "totebench/studies/choose_search.hpp"

namespace totebench::studies {
namespace {

constexpr double kInfinity = std::numeric_limits<double>::infinity();
constexpr std::size_t kBatch = 8;          // builds solved between two looks at the order
constexpr int kMostChallengers = 4;        // full solves of builds that missed on the coarse mesh
constexpr int kMostForFront = 2 * kBatch;  // coarse solves for the front's sake alone

class Search {
 public:
  explicit Search(const SearchProblem& problem) : problem_(problem), known_(problem) {}

  SearchResult run() {
    begin();
    known_.update();
    while (going()) {
      if (solve_promising()) continue;
      const int best = cheapest_meeting(0);
      if (best < 0) {
        if (!approach()) break;
      } else if (build(best).known != Known::kFull) {
        solve_full(best);
        if (going() && !build(best).meets()) result_.fell.push_back(best);
      } else if (!challenge(best)) {
        break;
      }
    }
    for (int left = kMostForFront; left > 0 && going();) {
      const int solved = widen_front(left);
      if (solved == 0) break;
      left -= solved;
    }
    conclude();
    return std::move(result_);
  }

 private:
  [[nodiscard]] bool going() {
    if (problem_.keep_going && !problem_.keep_going()) result_.interrupted = true;
    return !result_.interrupted;
  }

  [[nodiscard]] const FoundBuild& build(std::size_t i) const { return known_.builds()[i]; }
  [[nodiscard]] const FoundBuild& build(int i) const {
    return known_.builds()[static_cast<std::size_t>(i)];
  }

  // All builds where there are few, else the first of each option and its single changes.
  void begin() {
    std::vector<std::size_t> first;
    const bool few = known_.by_cost().size() <= kSolveAll;
    for (const std::size_t i : known_.by_cost()) {
      const std::vector<int>& picks = known_.picks(i);
      const auto changed =
          std::count_if(picks.begin(), picks.end(), [](int pick) { return pick != 0; });
      if (few || changed <= 1) first.push_back(i);
    }
    std::sort(first.begin(), first.end());
    solve_coarse(first);
  }

  void solve_coarse(const std::vector<std::size_t>& builds) {
    for (std::size_t from = 0; from < builds.size() && going(); from += kBatch) {
      const std::size_t to = std::min(from + kBatch, builds.size());
      const std::vector<std::size_t> batch(builds.begin() + static_cast<std::ptrdiff_t>(from),
                                           builds.begin() + static_cast<std::ptrdiff_t>(to));
      std::vector<Figures> found = problem_.coarse(batch);
      if (!going()) return;
      known_.set_coarse(batch, std::move(found));
    }
    known_.update();
  }

  void solve_full(int i) {
    const Figures found = problem_.full(static_cast<std::size_t>(i));
    if (!going()) return;
    known_.set_full(static_cast<std::size_t>(i), found);
    known_.update();
  }

  // Index of the build that meets the limits at the least cost, `skip` of them passed over.
  [[nodiscard]] int cheapest_meeting(int skip) const {
    for (const std::size_t i : known_.by_cost()) {
      if (build(i).meets() && skip-- == 0) return static_cast<int>(i);
    }
    return -1;
  }

  [[nodiscard]] double cost_of(int build) const {
    return build < 0 ? kInfinity : problem_.cost[static_cast<std::size_t>(build)];
  }

  // Predicted ones that might come before the second best known.
  bool solve_promising() {
    const double bound = cost_of(cheapest_meeting(1));
    std::vector<std::size_t> batch;
    for (const std::size_t i : known_.by_cost()) {
      if (problem_.cost[i] >= bound || batch.size() == kBatch) break;
      const bool open = build(i).known == Known::kPredicted;
      if (open && known_.may_meet(i, known_.predict_margin())) batch.push_back(i);
    }
    if (batch.empty()) return false;
    solve_coarse(batch);
    return true;
  }

  // Those of less cost than the best that miss on the coarse mesh by so little that the full one
  // may think otherwise; the likeliest first.
  bool challenge(int best) {
    if (challengers_ == kMostChallengers) return false;
    const int found = least_use(cost_of(best), true);
    if (found < 0) return false;
    ++challengers_;
    solve_full(found);
    return true;
  }

  // Of those solved on the coarse mesh alone and of less cost than a bound.
  [[nodiscard]] int least_use(double cost, bool may_meet) const {
    int found = -1;
    for (const std::size_t i : known_.by_cost()) {
      const FoundBuild& its = build(i);
      if (problem_.cost[i] >= cost || its.known != Known::kCoarse || std::isnan(its.use)) continue;
      if (may_meet && !known_.may_meet(i, known_.coarse_margin())) continue;
      if (found < 0 || its.use < build(found).use) found = static_cast<int>(i);
    }
    return found;
  }

  // No build is known to meet the limits: closer to the one that misses them by least.
  bool approach() {
    std::vector<std::size_t> by_use;
    double least_solved = kInfinity;
    for (const std::size_t i : known_.by_cost()) {
      if (build(i).solved()) least_solved = std::fmin(least_solved, build(i).use);
      if (build(i).known == Known::kPredicted && std::isfinite(build(i).use)) by_use.push_back(i);
    }
    std::stable_sort(by_use.begin(), by_use.end(),
                     [&](std::size_t a, std::size_t b) { return build(a).use < build(b).use; });
    if (!by_use.empty() && build(by_use.front()).use < least_solved) {
      by_use.resize(std::min(by_use.size(), kBatch));
      solve_coarse(by_use);
      return true;
    }
    if (challengers_ == kMostChallengers) return false;
    const int nearest = least_use(kInfinity, false);
    if (nearest < 0) return false;
    double least_full = kInfinity;
    for (const std::size_t i : known_.in_full()) least_full = std::fmin(least_full, build(i).use);
    const auto near = static_cast<std::size_t>(nearest);
    if (!known_.may_meet(near, known_.coarse_margin()) && build(near).use >= least_full) {
      return false;
    }
    ++challengers_;
    solve_full(nearest);
    return true;
  }

  // Builds within all limits but that of the drawn figure which no other beats in it and in cost:
  // among those solved, or with those predicted.
  [[nodiscard]] std::vector<int> front(bool with_predicted) const {
    std::vector<double> x;
    std::vector<double> y;
    std::vector<int> index;
    for (const std::size_t i : known_.by_cost()) {
      const FoundBuild& its = build(i);
      const bool within =
          known_.use_of(its, problem_.drawn) <= 1 && std::isfinite(its.figures[problem_.drawn]);
      if (!within || !(with_predicted || its.solved())) continue;
      x.push_back(problem_.cost[i]);
      y.push_back(its.figures[problem_.drawn]);
      index.push_back(static_cast<int>(i));
    }
    std::vector<int> members;
    for (const int k : pareto_front(x, y)) members.push_back(index[static_cast<std::size_t>(k)]);
    return members;
  }

  int widen_front(int most) {
    std::vector<std::size_t> batch;
    for (const int i : front(true)) {
      if (!build(i).solved() && static_cast<int>(batch.size()) < most) {
        batch.push_back(static_cast<std::size_t>(i));
      }
    }
    solve_coarse(batch);
    return static_cast<int>(batch.size());
  }

  void conclude() {
    result_.builds = known_.builds();
    result_.coarse_margin = known_.coarse_margin();
    result_.predict_margin = known_.predict_margin();
    const int best = cheapest_meeting(0);
    if (best >= 0 && build(best).known == Known::kFull) {
      result_.chosen = best;
      result_.runner_up = cheapest_meeting(1);
    }
    result_.front = front(false);
    result_.missed.assign(problem_.limits.size(), 0);
    for (const std::size_t i : known_.by_cost()) count(i, cost_of(result_.chosen));
  }

  void count(std::size_t i, double chosen_cost) {
    const FoundBuild& its = build(i);
    const bool less = problem_.cost[i] < chosen_cost;
    if (its.known == Known::kPredicted) ++(less ? result_.ruled_out : result_.dearer);
    if (less && its.known == Known::kCoarse && its.use > 1 &&
        known_.may_meet(i, known_.coarse_margin())) {
      ++result_.undecided;
    }
    for (std::size_t f = 0; f < problem_.limits.size() && less; ++f) {
      if (its.figures[f] > problem_.limits[f]) ++result_.missed[f];
    }
    const bool miss = result_.chosen < 0 && its.solved() && !std::isnan(its.use);
    if (miss && (result_.nearest < 0 || its.use < build(result_.nearest).use)) {
      result_.nearest = static_cast<int>(i);
    }
  }

  const SearchProblem& problem_;
  BuildEstimates known_;
  int challengers_ = 0;
  SearchResult result_;
};

}  // namespace

std::vector<int> pareto_front(const std::vector<double>& x, const std::vector<double>& y) {
  std::vector<std::size_t> order(x.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return x[a] < x[b]; });
  std::vector<int> front;
  for (const std::size_t i : order) {
    const auto less = [&](int than) {
      const double its = y[static_cast<std::size_t>(than)];
      return y[i] < its - kSameFigure * std::abs(its);
    };
    if (!front.empty() && !less(front.back())) continue;
    if (!front.empty() && x[static_cast<std::size_t>(front.back())] == x[i]) front.pop_back();
    front.push_back(static_cast<int>(i));
  }
  return front;
}

SearchResult search_builds(const SearchProblem& problem) { return Search(problem).run(); }

}  // namespace totebench::studies
