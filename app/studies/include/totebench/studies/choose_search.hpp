// The search behind `totebench choose`: which of many builds costs least among those that keep to
// limits, when asking a build for its figures is dear. It knows nothing of bags.
//
// Each build is known in one of three ways:
//   predicted  from the solved build nearest to it (fewest options apart): each option in which
//   they
//              differ multiplies a figure by the ratio its two alternatives had when they were
//              solved one at a time (adds their difference where a figure is not positive)
//   coarse     solved on a coarse mesh, each figure times its ratio between the full and the coarse
//              mesh at the fully solved build nearest to it
//   full       solved on the full mesh
// A build is solved more closely in order of cost as long as it might, within a margin, cost less
// than the best that is known to keep to the limits; the margins follow the errors seen. So a build
// that is ruled out by prediction was not solved, and the counts say how many those are.
// Nothing here depends on the number of threads: batches have a fixed size.
#pragma once

#include <functional>
#include <string>
#include <vector>

namespace totebench::studies {

// Of one build, one number per limit; NaN where it could not be found.
using Figures = std::vector<double>;

// Builds are the combinations of the alternatives, numbered as scenes::combination() does.
struct SearchProblem {
  std::vector<int> alternatives;  // per option: how many
  Figures limits;                 // the most allowed, above 0; infinity = no limit
  std::vector<bool> possible;     // per build: it can be made
  std::vector<double> cost;       // per build, known beforehand
  std::vector<Figures> known;     // per build: figures known beforehand; NaN = to be solved
  std::size_t drawn = 0;          // the figure that is drawn against cost
  // Coarse figures of several builds, which may be solved side by side.
  std::function<std::vector<Figures>(const std::vector<std::size_t>& builds)> coarse;
  std::function<Figures(std::size_t build)> full;
  std::function<bool()> keep_going;  // may be empty
};

enum class Known { kImpossible, kPredicted, kCoarse, kFull };

struct FoundBuild {
  Known known = Known::kImpossible;
  Figures figures;  // best known
  Figures coarse;   // as solved there; empty = not
  double use = 0;   // largest figure over its limit; NaN = not known
  [[nodiscard]] bool solved() const { return known == Known::kCoarse || known == Known::kFull; }
  [[nodiscard]] bool meets() const { return solved() && use <= 1; }
};

struct SearchResult {
  std::vector<FoundBuild> builds;
  int chosen = -1;         // solved in full and within the limits; -1 = none found
  int runner_up = -1;      // the next by cost that meets them by what is known of it; -1 = none
  int nearest = -1;        // where none meets them: the one that misses by least
  std::vector<int> front;  // solved builds within the other limits that no other beats both in cost
                           // and in the drawn figure; by cost
  std::vector<int> missed;  // per limit: builds of less cost than the chosen (or all) that miss it
  std::vector<int> fell;    // met the limits by coarse figures, missed them in full
  int ruled_out = 0;        // never solved, predicted to miss a limit; of less cost than the chosen
  int dearer = 0;           // never solved, not of less cost than the runner-up (or the chosen)
  int undecided = 0;        // of less cost, missing a limit on the coarse mesh by no more than its
                            // margin, and not solved in full
  Figures coarse_margin;    // logarithms, by which full figures may differ from coarse ones
  Figures predict_margin;   // likewise coarse ones from predicted ones
  bool interrupted = false;
};

[[nodiscard]] SearchResult search_builds(const SearchProblem& problem);

// Indices of the points that no other equals or beats in both, by x, each x once. A y that is less
// by no more than the share kSameFigure is the same; of equals the first given stays.
[[nodiscard]] std::vector<int> pareto_front(const std::vector<double>& x,
                                            const std::vector<double>& y);
inline constexpr double kSameFigure = 0.01;

// Up to so many builds all are solved on the coarse mesh.
inline constexpr std::size_t kSolveAll = 64;

}  // namespace totebench::studies
