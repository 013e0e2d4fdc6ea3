// Continuation in the load: which loads it goes to, up and down, past failures, and what it
// reports.
#include <gtest/gtest.h>

#include <functional>
#include <vector>

#include "totebench/solver/continuation.hpp"

namespace totebench {
namespace {

// A solve that succeeds where `reachable` says so, and writes the load into the state.
struct Road {
  std::function<bool(double from, double to)> reachable;
  std::vector<double> tried;
  solver::SolveReport operator()(double load_factor, solver::State& state) {
    tried.push_back(load_factor);
    solver::SolveReport report;
    const double from = state.turn[0];
    state.turn[0] = load_factor;
    const bool good = reachable(from, load_factor);
    report.status = good ? solver::SolveStatus::kConverged : solver::SolveStatus::kNotConverged;
    report.failure = good ? solver::SolveFailure::kNone : solver::SolveFailure::kStalled;
    return report;
  }
};

solver::State at_load(double load_factor) {
  solver::State state;
  state.turn = Eigen::VectorXd::Constant(1, load_factor);
  return state;
}

solver::Continuation follow(Road& road, double from, double to, solver::State& state,
                            const solver::LoadStepping& stepping,
                            std::vector<double>* reached = nullptr) {
  return solver::follow_load([&](double f, solver::State& s) { return road(f, s); }, from, to,
                             state, stepping,
                             [&](double f, const solver::State& s) {
                               EXPECT_EQ(s.turn[0], f);
                               if (reached != nullptr) reached->push_back(f);
                             });
}

TEST(Continuation, TakesAsManyStepsAsAskedFor) {
  for (const int n : {1, 3, 4, 7, 10, 100}) {
    Road road{[](double, double) { return true; }, {}};
    solver::State state = at_load(0);
    const auto way = follow(road, 0, 1, state, {.first = 1.0 / n, .largest = 1.0 / n});
    EXPECT_EQ(road.tried.size(), static_cast<std::size_t>(n));
    EXPECT_EQ(road.tried.back(), 1);  // to the last bit
    EXPECT_EQ(way.report.status, solver::SolveStatus::kConverged);
    EXPECT_EQ(way.report.load_factor, 1);
    EXPECT_FALSE(way.out_of_reach.has_value());
  }
}

TEST(Continuation, GoesDownAsItGoesUp) {
  Road road{[](double, double) { return true; }, {}};
  solver::State state = at_load(3);
  const auto way = follow(road, 3, 1, state, {.first = 0.5, .largest = 4, .growth = 2});
  EXPECT_EQ(road.tried, (std::vector<double>{2.5, 1.5, 1}));
  EXPECT_EQ(way.report.load_factor, 1);
  EXPECT_EQ(state.turn[0], 1);
}

TEST(Continuation, HalvesAFailedStepAndGrowsAgain) {
  // No single step over more than a quarter succeeds.
  Road road{[](double from, double to) { return to - from <= 0.25; }, {}};
  solver::State state = at_load(0);
  std::vector<double> reached;
  const auto way = follow(road, 0, 1, state, {.first = 1, .largest = 1}, &reached);
  EXPECT_EQ(road.tried,
            (std::vector<double>{1, 0.5, 0.25, 0.625, 0.4375, 0.71875, 0.578125, 0.7890625, 1}));
  EXPECT_EQ(reached.front(), 0.25);
  EXPECT_EQ(reached.back(), 1);
  EXPECT_EQ(way.report.status, solver::SolveStatus::kConverged);
}

TEST(Continuation, EndsBeforeALimitPointAndSaysWhereItIs) {
  constexpr double kLimit = 0.7;
  Road road{[](double, double to) { return to < kLimit; }, {}};
  solver::State state = at_load(0);
  const solver::LoadStepping stepping = {.first = 0.25, .largest = 0.25, .least = 1e-3};
  const auto way = follow(road, 0, 1, state, stepping);
  EXPECT_EQ(way.report.status, solver::SolveStatus::kNotConverged);
  EXPECT_EQ(way.report.failure, solver::SolveFailure::kStalled);
  EXPECT_EQ(way.report.wanted_load_factor, 1);
  EXPECT_EQ(state.turn[0], way.report.load_factor);  // the last equilibrium, not the failed trial
  EXPECT_LT(way.report.load_factor, kLimit);
  ASSERT_TRUE(way.out_of_reach.has_value());
  EXPECT_GE(*way.out_of_reach, kLimit);
  EXPECT_LT(*way.out_of_reach - way.report.load_factor, 2 * stepping.least);
}

TEST(Continuation, TriesNoStepShorterThanTheLeast) {
  Road road{[](double, double) { return false; }, {}};
  solver::State state = at_load(0);
  const auto way = follow(road, 0, 1, state, {.first = 1, .largest = 1, .least = 0.125});
  EXPECT_EQ(road.tried, (std::vector<double>{1, 0.5, 0.25, 0.125}));
  EXPECT_EQ(way.report.load_factor, 0);
  EXPECT_EQ(state.turn[0], 0);
}

TEST(Continuation, SolvesOnceWhereItAlreadyIs) {
  for (const bool good : {true, false}) {
    Road road{[&](double, double) { return good; }, {}};
    solver::State state = at_load(1);
    const auto way = follow(road, 1, 1, state, {.first = 0, .largest = 0, .least = 0});
    EXPECT_EQ(road.tried, (std::vector<double>{1}));
    EXPECT_EQ(way.report.status == solver::SolveStatus::kConverged, good);
  }
}

TEST(Continuation, StopsWhenInterrupted) {
  int solves = 0;
  solver::State state = at_load(0);
  const auto stopped = [&](double, solver::State&) {
    solver::SolveReport report;
    report.status =
        ++solves < 2 ? solver::SolveStatus::kConverged : solver::SolveStatus::kInterrupted;
    return report;
  };
  const auto way = solver::follow_load(stopped, 0, 1, state, {.first = 0.25, .largest = 0.25});
  EXPECT_EQ(solves, 2);
  EXPECT_EQ(way.report.status, solver::SolveStatus::kInterrupted);
  EXPECT_EQ(way.report.load_factor, 0.25);
  EXPECT_FALSE(way.out_of_reach.has_value());
}

}  // namespace
}  // namespace totebench
