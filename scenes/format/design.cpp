#include "totebench/scenes/design.hpp"

#include <numeric>
#include <random>
#include <utility>

namespace totebench::scenes {
namespace {

// Own uniform numbers: the standard library's differ from one to the next.
double uniform(std::mt19937_64& random) { return static_cast<double>(random() >> 11) * 0x1.0p-53; }

}  // namespace

std::size_t n_combinations(const std::vector<int>& levels) {
  return std::accumulate(levels.begin(), levels.end(), std::size_t{1},
                         [](std::size_t n, int k) { return n * static_cast<std::size_t>(k); });
}

std::vector<int> combination(const std::vector<int>& levels, std::size_t run) {
  std::vector<int> out(levels.size(), 0);
  for (std::size_t f = levels.size(); f-- > 0;) {
    const auto n = static_cast<std::size_t>(levels[f]);
    out[f] = static_cast<int>(run % n);
    run /= n;
  }
  return out;
}

std::vector<std::vector<double>> latin_hypercube(std::size_t n_factors, std::size_t n_runs,
                                                 unsigned seed) {
  std::vector<std::vector<double>> runs(n_runs, std::vector<double>(n_factors));
  for (std::size_t i = 0; i < n_factors; ++i) {
    std::mt19937_64 random(0x9E3779B97F4A7C15ull * (seed + 1ull) + i);
    std::vector<std::size_t> order(n_runs);
    std::iota(order.begin(), order.end(), std::size_t{0});
    for (std::size_t k = n_runs; k > 1; --k) std::swap(order[k - 1], order[random() % k]);
    for (std::size_t k = 0; k < n_runs; ++k) {
      runs[k][i] = (static_cast<double>(order[k]) + uniform(random)) / static_cast<double>(n_runs);
    }
  }
  return runs;
}

}  // namespace totebench::scenes
