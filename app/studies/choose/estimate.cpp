#include "app/studies/choose/estimate.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "totebench/scenes/design.hpp"

namespace totebench::studies {
namespace {

constexpr double kLeastPredict = 0.15;
constexpr double kFirstCoarse = 0.25;  // before two builds were solved in full
constexpr double kLeastCoarse = 0.05;
constexpr double kLargestMargin = 1.4;  // a factor of 4
constexpr double kBeyondSeen = 1.5;     // margin over the largest error seen
constexpr double kFar = 2;              // figures so many times off a limit cannot be mistaken

double log_ratio(double a, double b) { return a > 0 && b > 0 ? std::log(a / b) : std::nan(""); }

void widen(double& margin, double error) {
  margin = std::clamp(kBeyondSeen * error, margin, kLargestMargin);
}

}  // namespace

BuildEstimates::BuildEstimates(const SearchProblem& problem)
    : problem_(problem),
      builds_(problem.cost.size()),
      predict_margin_(problem.limits.size(), kLeastPredict),
      coarse_margin_(problem.limits.size(), kFirstCoarse) {
  for (std::size_t i = 0; i < builds_.size(); ++i) {
    picks_.push_back(scenes::combination(problem_.alternatives, i));
    if (problem_.possible[i]) by_cost_.push_back(i);
  }
  std::stable_sort(by_cost_.begin(), by_cost_.end(), [&](std::size_t a, std::size_t b) {
    return problem_.cost[a] < problem_.cost[b];
  });
}

// How wrong a figure was thought to be; 0 where it cannot matter for its limit.
double BuildEstimates::error(std::size_t f, double thought, double found) const {
  const double limit = problem_.limits[f];
  if (!std::isfinite(limit) || (thought > kFar * limit && found > kFar * limit) ||
      (kFar * thought < limit && kFar * found < limit)) {
    return 0;
  }
  const double off = std::abs(log_ratio(thought, found));
  return std::isnan(off) ? 0 : off;
}

void BuildEstimates::set_coarse(const std::vector<std::size_t>& builds,
                                std::vector<Figures> found) {
  for (std::size_t k = 0; k < builds.size(); ++k) {
    FoundBuild& build = builds_[builds[k]];
    for (std::size_t f = 0; f < found[k].size() && build.known == Known::kPredicted; ++f) {
      const double corrected = found[k][f] * std::exp(correction(builds[k], f));
      widen(predict_margin_[f], error(f, build.figures[f], corrected));
    }
    build.coarse = std::move(found[k]);
    build.known = Known::kCoarse;
    coarse_.push_back(builds[k]);
  }
  std::sort(coarse_.begin(), coarse_.end());
}

void BuildEstimates::set_full(std::size_t i, const Figures& found) {
  FoundBuild& build = builds_[i];
  for (std::size_t f = 0; f < found.size(); ++f) {
    if (full_.empty()) break;  // without a correction, which is that of another build
    if (full_.size() == 1) coarse_margin_[f] = kLeastCoarse;
    widen(coarse_margin_[f], error(f, build.figures[f], found[f]));
  }
  build.figures = found;
  build.known = Known::kFull;
  build.use = use_of(build, problem_.limits.size());
  full_.push_back(i);
}

// Options in which two builds differ.
int BuildEstimates::apart(std::size_t a, std::size_t b) const {
  int n = 0;
  for (std::size_t o = 0; o < picks_[a].size(); ++o) n += picks_[a][o] != picks_[b][o] ? 1 : 0;
  return n;
}

// The nearest of a list for which a figure is known; -1 when there is none. The first of equals.
template <class Has>
int BuildEstimates::nearest(std::size_t build, const std::vector<std::size_t>& among,
                            const Has& has) const {
  int best = -1;
  int least = std::numeric_limits<int>::max();
  for (const std::size_t other : among) {
    const int its = apart(build, other);
    if (its >= least || !has(other)) continue;
    least = its;
    best = static_cast<int>(other);
  }
  return best;
}

// Logarithm of full over coarse at the nearest build solved in full; 0 where there is none.
double BuildEstimates::correction(std::size_t build, std::size_t f) const {
  const auto ratio = [&](std::size_t k) {
    return builds_[k].coarse.empty() ? std::nan("")
                                     : log_ratio(builds_[k].figures[f], builds_[k].coarse[f]);
  };
  const int from = nearest(build, full_, [&](std::size_t k) { return std::isfinite(ratio(k)); });
  return from < 0 ? 0 : ratio(static_cast<std::size_t>(from));
}

// Coarse figure of the build that has this alternative of one option and the first of all others.
double BuildEstimates::single(std::size_t option, int alternative, std::size_t f) const {
  std::size_t at = 0;
  for (std::size_t o = 0; o < problem_.alternatives.size(); ++o) {
    at = at * static_cast<std::size_t>(problem_.alternatives[o]) +
         static_cast<std::size_t>(o == option ? alternative : 0);
  }
  const Figures& coarse = builds_[at].coarse;
  return coarse.empty() ? std::nan("") : coarse[f];
}

// From one solved build; NaN where an alternative's own effect is not known.
double BuildEstimates::predicted_from(std::size_t from, std::size_t build, std::size_t f) const {
  const double start = builds_[from].coarse[f];
  double factor = 1;
  double sum = 0;
  bool positive = start > 0;
  for (std::size_t o = 0; o < picks_[build].size(); ++o) {
    const int before = picks_[from][o];
    const int after = picks_[build][o];
    if (before == after) continue;
    const double was = single(o, before, f);
    const double is = single(o, after, f);
    positive = positive && was > 0 && is > 0;
    factor *= is / was;
    sum += is - was;
  }
  return positive ? start * factor : start + sum;
}

// From the nearest solved build that can tell.
double BuildEstimates::predicted(std::size_t build, std::size_t f) const {
  const auto tells = [&](std::size_t k) { return std::isfinite(predicted_from(k, build, f)); };
  const int from = nearest(build, coarse_, tells);
  return from < 0 ? std::nan("") : predicted_from(static_cast<std::size_t>(from), build, f);
}

// Whether one of its alternatives was never solved, in whatever company.
bool BuildEstimates::untried(std::size_t build) const {
  for (std::size_t o = 0; o < picks_[build].size(); ++o) {
    const bool tried = std::any_of(coarse_.begin(), coarse_.end(),
                                   [&](std::size_t k) { return picks_[k][o] == picks_[build][o]; });
    if (!tried) return true;
  }
  return false;
}

void BuildEstimates::update() {
  for (const std::size_t i : by_cost_) {
    FoundBuild& build = builds_[i];
    if (build.known == Known::kFull) continue;
    const bool coarse = !build.coarse.empty();
    build.known = coarse ? Known::kCoarse : Known::kPredicted;
    build.figures.assign(problem_.limits.size(), 0);
    for (std::size_t f = 0; f < build.figures.size(); ++f) {
      const double its = coarse ? build.coarse[f] : predicted(i, f);
      build.figures[f] = std::isfinite(problem_.known[i][f]) ? problem_.known[i][f]
                                                             : its * std::exp(correction(i, f));
    }
    build.use = use_of(build, problem_.limits.size());
  }
}

bool BuildEstimates::may_meet(std::size_t build, const Figures& margins) const {
  if (untried(build)) return true;
  for (std::size_t f = 0; f < margins.size(); ++f) {
    const double limit = problem_.limits[f];
    const bool sure = std::isfinite(problem_.known[build][f]);
    if (std::isfinite(limit) &&
        !(builds_[build].figures[f] <= limit * std::exp(sure ? 0 : margins[f])))
      return false;
  }
  return true;
}

double BuildEstimates::use_of(const FoundBuild& build, std::size_t without) const {
  double most = -std::numeric_limits<double>::infinity();
  for (std::size_t f = 0; f < problem_.limits.size(); ++f) {
    if (f == without || !std::isfinite(problem_.limits[f])) continue;
    if (std::isnan(build.figures[f])) return std::nan("");
    most = std::max(most, build.figures[f] / problem_.limits[f]);
  }
  return most;
}

}  // namespace totebench::studies
