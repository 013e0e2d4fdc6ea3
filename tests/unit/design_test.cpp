// Designs of experiments: counts, order, strata, and that a seed gives the same digits.
#include "totebench/scenes/design.hpp"

#include <gtest/gtest.h>

#include <set>

namespace totebench {
namespace {

TEST(Design, AFullFactorialHasEveryCombinationOnceTheLastFactorRunningFastest) {
  const std::vector<int> levels = {2, 3, 4};
  EXPECT_EQ(scenes::n_combinations(levels), 24u);
  EXPECT_EQ(scenes::n_combinations({}), 1u);
  std::set<std::vector<int>> seen;
  for (std::size_t i = 0; i < 24; ++i) seen.insert(scenes::combination(levels, i));
  EXPECT_EQ(seen.size(), 24u);
  EXPECT_EQ(scenes::combination(levels, 0), (std::vector<int>{0, 0, 0}));
  EXPECT_EQ(scenes::combination(levels, 1), (std::vector<int>{0, 0, 1}));
  EXPECT_EQ(scenes::combination(levels, 4), (std::vector<int>{0, 1, 0}));
  EXPECT_EQ(scenes::combination(levels, 23), (std::vector<int>{1, 2, 3}));
}

TEST(Design, ALatinHypercubeHitsEachPartOfEachRangeOnce) {
  for (const std::size_t n : {1u, 2u, 7u, 40u, 1000u}) {
    const auto runs = scenes::latin_hypercube(3, n, 5);
    ASSERT_EQ(runs.size(), n);
    for (std::size_t f = 0; f < 3; ++f) {
      std::set<std::size_t> parts;
      for (const std::vector<double>& run : runs) {
        ASSERT_GE(run[f], 0);
        ASSERT_LT(run[f], 1);
        parts.insert(static_cast<std::size_t>(run[f] * static_cast<double>(n)));
      }
      EXPECT_EQ(parts.size(), n) << "factor " << f;
    }
  }
}

TEST(Design, ALatinHypercubeDependsOnItsSeedAndEachFactorOnItsPlaceAlone) {
  const auto runs = scenes::latin_hypercube(3, 20, 5);
  EXPECT_EQ(runs, scenes::latin_hypercube(3, 20, 5));
  EXPECT_NE(runs, scenes::latin_hypercube(3, 20, 6));
  const auto fewer = scenes::latin_hypercube(2, 20, 5);
  for (std::size_t k = 0; k < 20; ++k) {
    EXPECT_EQ(runs[k][1], fewer[k][1]) << "another factor changed this one";
    EXPECT_NE(runs[k][0], runs[k][1]) << "two factors move together";
  }
}

}  // namespace
}  // namespace totebench
