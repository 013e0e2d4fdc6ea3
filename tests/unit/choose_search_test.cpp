// The search for the least build, on figures that follow formulas instead of solves, against
// looking at every build.
#include "totebench/studies/choose_search.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <limits>
#include <random>
#include <set>

#include "totebench/scenes/design.hpp"

namespace totebench {
namespace {

constexpr double kNone = std::numeric_limits<double>::infinity();
constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();

// Each alternative multiplies the figures (0: "sag", 1: "use") and adds to the cost; `mixing` is
// the spread of what no product of single factors explains, `mesh` that of full over coarse
// figures.
struct StandIn {
  studies::SearchProblem problem;
  std::vector<studies::Figures> coarse, full;  // per build
  std::set<std::size_t> asked_coarse, asked_full;

  StandIn(unsigned seed, const std::vector<int>& alternatives, double mixing, double mesh) {
    std::mt19937 random(seed);
    const auto uniform = [&](double low, double high) {
      return low + (high - low) * static_cast<double>(random()) / 4294967295.0;
    };
    problem.alternatives = alternatives;
    std::vector<std::vector<std::array<double, 3>>> part;
    for (const int n : alternatives) {
      part.emplace_back();
      for (int k = 0; k < n; ++k) {
        part.back().push_back({uniform(0.4, 1.6), uniform(0.6, 1.4), uniform(0.0, 1.0)});
      }
    }
    const double shift = uniform(-0.2, 0.2);
    for (std::size_t i = 0; i < scenes::n_combinations(alternatives); ++i) {
      const std::vector<int> picks = scenes::combination(alternatives, i);
      double sag = 1, use = 1, cost = 3;
      for (std::size_t o = 0; o < picks.size(); ++o) {
        const auto& its = part[o][static_cast<std::size_t>(picks[o])];
        sag *= its[0];
        use *= its[1];
        cost += its[2];
      }
      coarse.push_back(
          {sag * std::exp(mixing * uniform(-1, 1)), use * std::exp(mixing * uniform(-1, 1)), cost});
      full.push_back({coarse[i][0] * std::exp(shift + mesh * uniform(-1, 1)),
                      coarse[i][1] * std::exp(shift + mesh * uniform(-1, 1)), cost});
      problem.cost.push_back(cost);
      problem.possible.push_back(true);
      problem.known.push_back({kUnknown, kUnknown, cost});
    }
    problem.limits = {uniform(0.3, 0.8), uniform(0.5, 1.0), kNone};
    problem.coarse = [this](const std::vector<std::size_t>& builds) {
      std::vector<studies::Figures> found;
      for (const std::size_t i : builds) {
        EXPECT_TRUE(asked_coarse.insert(i).second) << "build " << i << " was solved twice";
        found.push_back(coarse[i]);
      }
      return found;
    };
    problem.full = [this](std::size_t i) {
      EXPECT_TRUE(asked_full.insert(i).second) << "build " << i << " was solved in full twice";
      return full[i];
    };
  }
  StandIn(const StandIn&) = delete;
  StandIn& operator=(const StandIn&) = delete;

  [[nodiscard]] bool meets(std::size_t i) const {
    return problem.possible[i] && full[i][0] <= problem.limits[0] &&
           full[i][1] <= problem.limits[1];
  }
  [[nodiscard]] int by_looking_at_all() const {
    int best = -1;
    for (std::size_t i = 0; i < full.size(); ++i) {
      const bool less = best < 0 || problem.cost[i] < problem.cost[static_cast<std::size_t>(best)];
      if (meets(i) && less) best = static_cast<int>(i);
    }
    return best;
  }
};

TEST(ChooseSearch, FindsWhatLookingAtAllFindsWithFarFewerSolves) {
  double share = 0;
  int found = 0;
  for (unsigned seed = 1; seed <= 60; ++seed) {
    StandIn stand_in(seed, {4, 3, 4, 3, 3}, 0.02, 0.01);
    const studies::SearchResult result = studies::search_builds(stand_in.problem);
    const int best = stand_in.by_looking_at_all();
    EXPECT_EQ(result.chosen, best) << "seed " << seed;
    found += best >= 0 ? 1 : 0;
    share += static_cast<double>(stand_in.asked_coarse.size()) / 432.0 / 60.0;
    EXPECT_LE(stand_in.asked_full.size(), 8u) << "seed " << seed;
    int predicted = 0;
    for (const studies::FoundBuild& build : result.builds) predicted += build.solved() ? 0 : 1;
    EXPECT_EQ(result.ruled_out + result.dearer, predicted);
    EXPECT_EQ(predicted + static_cast<int>(stand_in.asked_coarse.size()), 432);
  }
  EXPECT_GT(found, 40);
  EXPECT_LT(share, 0.2);
}

TEST(ChooseSearch, MarginsFollowTheErrorsSeen) {
  int same = 0;
  for (unsigned seed = 1; seed <= 40; ++seed) {
    StandIn stand_in(seed, {4, 4, 4, 4}, 0.3, 0.1);
    const studies::SearchResult result = studies::search_builds(stand_in.problem);
    const int best = stand_in.by_looking_at_all();
    if (result.chosen >= 0) {
      EXPECT_TRUE(stand_in.meets(static_cast<std::size_t>(result.chosen))) << "seed " << seed;
    }
    same += result.chosen == best ? 1 : 0;
  }
  // What two options do together is here as large as what they do alone.
  EXPECT_GE(same, 32);
}

TEST(ChooseSearch, FewBuildsAreAllSolved) {
  StandIn stand_in(5, {4, 4, 2}, 0.5, 0.0);
  const studies::SearchResult result = studies::search_builds(stand_in.problem);
  EXPECT_EQ(stand_in.asked_coarse.size(), 32u);
  EXPECT_EQ(result.chosen, stand_in.by_looking_at_all());
  EXPECT_EQ(result.ruled_out + result.dearer, 0);
}

TEST(ChooseSearch, ABuildThatFailsInFullGivesWayToTheNext) {
  StandIn stand_in(7, {3, 3, 3}, 0, 0);
  stand_in.problem.limits = {0.6, 1.2, kNone};
  const studies::SearchResult before = studies::search_builds(stand_in.problem);
  ASSERT_GE(before.chosen, 0);
  ASSERT_GE(before.runner_up, 0);
  StandIn again(7, {3, 3, 3}, 0, 0);
  again.problem.limits = {0.6, 1.2, kNone};
  again.full[static_cast<std::size_t>(before.chosen)][0] = kUnknown;  // no equilibrium
  const studies::SearchResult after = studies::search_builds(again.problem);
  EXPECT_EQ(after.chosen, before.runner_up);
  EXPECT_EQ(after.fell, std::vector<int>{before.chosen});
}

TEST(ChooseSearch, ABuildTheCoarseMeshJudgesTooHardlyIsStillFound) {
  StandIn stand_in(11, {3, 3, 3}, 0, 0);
  stand_in.problem.limits = {0.6, 1.2, kNone};
  const int best = studies::search_builds(stand_in.problem).chosen;
  ASSERT_GE(best, 0);
  StandIn again(11, {3, 3, 3}, 0, 0);
  again.problem.limits = {0.6, 1.2, kNone};
  // 4 % over the limit on the coarse mesh, within it in full.
  again.coarse[static_cast<std::size_t>(best)][0] = 0.6 * 1.04;
  EXPECT_EQ(studies::search_builds(again.problem).chosen, best);
}

TEST(ChooseSearch, NamesTheNearestMissAndWhatStandsInTheWay) {
  for (const std::vector<int>& sizes : {std::vector<int>{3, 3, 3}, {4, 4, 4, 4}}) {
    StandIn stand_in(13, sizes, 0.02, 0);
    double least = kNone;
    std::size_t nearest = 0;
    for (std::size_t i = 0; i < stand_in.full.size(); ++i) {
      if (stand_in.full[i][0] < least) {
        least = stand_in.full[i][0];
        nearest = i;
      }
    }
    stand_in.problem.limits = {0.8 * least, kNone, kNone};
    const studies::SearchResult result = studies::search_builds(stand_in.problem);
    EXPECT_EQ(result.chosen, -1);
    EXPECT_EQ(result.nearest, static_cast<int>(nearest));
    EXPECT_NEAR(result.builds[nearest].use, 1.25, 1e-9);
    EXPECT_EQ(result.missed[0], static_cast<int>(stand_in.full.size()));
    EXPECT_EQ(result.missed[1], 0);
  }
}

TEST(ChooseSearch, LeavesOutWhatCannotBeMadeAndTakesTheFirstListedOfEquals) {
  StandIn stand_in(17, {3, 3, 3}, 0, 0);
  stand_in.problem.limits = {kNone, 10, kNone};
  const int best = studies::search_builds(stand_in.problem).chosen;
  ASSERT_EQ(best, stand_in.by_looking_at_all());
  StandIn again(17, {3, 3, 3}, 0, 0);
  again.problem.limits = {kNone, 10, kNone};
  again.problem.possible[static_cast<std::size_t>(best)] = false;
  EXPECT_EQ(studies::search_builds(again.problem).chosen, again.by_looking_at_all());
  EXPECT_EQ(again.asked_coarse.count(static_cast<std::size_t>(best)), 0u);
  StandIn equal(17, {3, 3, 3}, 0, 0);
  equal.problem.limits = {kNone, 10, kNone};
  equal.problem.cost.assign(27, 1.0);
  EXPECT_EQ(studies::search_builds(equal.problem).chosen, 0);
}

TEST(ChooseSearch, TriesAnAlternativeThatGoesOnlyWithOthers) {
  StandIn stand_in(29, {4, 4, 4, 3}, 0.02, 0.01);
  stand_in.problem.limits = {0.8, 1.5, kNone};
  // The last alternative of the first option cannot be made with the first of the second.
  for (std::size_t i = 0; i < stand_in.full.size(); ++i) {
    const std::vector<int> picks = scenes::combination(stand_in.problem.alternatives, i);
    if (picks[0] == 3 && picks[1] == 0) stand_in.problem.possible[i] = false;
    // It is by far the best otherwise.
    if (picks[0] == 3) {
      stand_in.problem.cost[i] -= 1.5;
      stand_in.problem.known[i][2] -= 1.5;
    }
  }
  const int best = stand_in.by_looking_at_all();
  ASSERT_GE(best, 0);
  ASSERT_EQ(scenes::combination(stand_in.problem.alternatives, static_cast<std::size_t>(best))[0],
            3);
  EXPECT_EQ(studies::search_builds(stand_in.problem).chosen, best);
}

TEST(ChooseSearch, StopsWhenAsked) {
  StandIn stand_in(19, {4, 4, 4, 4}, 0.02, 0);
  int left = 3;
  stand_in.problem.keep_going = [&left] { return --left > 0; };
  const studies::SearchResult result = studies::search_builds(stand_in.problem);
  EXPECT_TRUE(result.interrupted);
  EXPECT_EQ(result.chosen, -1);
}

TEST(ChooseSearch, TheFrontIsWhatNoBuildBeatsInBoth) {
  StandIn stand_in(23, {4, 4, 3}, 0.1, 0);
  const studies::SearchResult result = studies::search_builds(stand_in.problem);
  ASSERT_FALSE(result.front.empty());
  const std::set<int> front(result.front.begin(), result.front.end());
  const auto within = [&](std::size_t i) {
    return result.builds[i].figures[1] <= stand_in.problem.limits[1];
  };
  // Whether k is no dearer than i and its drawn figure no larger, less a share of it.
  const auto beats = [&](std::size_t k, std::size_t i, double share) {
    return k != i && within(k) && stand_in.problem.cost[k] <= stand_in.problem.cost[i] &&
           result.builds[k].figures[0] < (1 - share) * result.builds[i].figures[0];
  };
  for (std::size_t i = 0; i < result.builds.size(); ++i) {
    bool beaten = false;
    bool matched = false;
    for (std::size_t k = 0; k < result.builds.size(); ++k) {
      beaten |= beats(k, i, 2 * studies::kSameFigure);
      matched |= beats(k, i, -2 * studies::kSameFigure);
    }
    const bool there = front.count(static_cast<int>(i)) > 0;
    EXPECT_FALSE(there && (!within(i) || beaten)) << i;
    EXPECT_TRUE(there || !within(i) || matched) << i;
  }
}

TEST(ChooseSearch, AFrontByHand) {
  EXPECT_EQ(studies::pareto_front({3, 1, 2, 2, 4, 1}, {1, 5, 3, 2, 1, 6}),
            (std::vector<int>{1, 3, 0}));
  // Half a per cent less is no less, and of equals the first given stays.
  EXPECT_EQ(studies::pareto_front({1, 1, 2}, {5, 4.98, 4.96}), (std::vector<int>{0}));
  EXPECT_TRUE(studies::pareto_front({}, {}).empty());
}

}  // namespace
}  // namespace totebench
