// Continuation in the load: which loads it goes to, up and down, past failures, and what it
// reports.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
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

// One unknown w (the x of one node) in the potential U(w) - s w, where U' is a polynomial: a solve
// rolls downhill from where the state is.
struct Valley {
  std::function<double(double w)> force;  // U'
  std::function<double(double w)> energy;
  int solves = 0;

  solver::SolveReport roll(double load, solver::State& state) {
    ++solves;
    constexpr double kStep = 1e-3;
    double w = state.x(0, 0);
    const double way = load > force(w) ? 1 : -1;
    while (way * (load - force(w + way * kStep)) > 0) w += way * kStep;
    double low = w, high = w + way * kStep;
    for (int i = 0; i < 60; ++i) {
      const double middle = 0.5 * (low + high);
      (way * (load - force(middle)) > 0 ? low : high) = middle;
    }
    state.x(0, 0) = low;
    solver::SolveReport report;
    report.status = solver::SolveStatus::kConverged;
    return report;
  }

  solver::Continuation follow(int n_steps, std::vector<double>& loads) {
    solver::State state;
    state.x = Eigen::Matrix3Xd::Zero(3, 1);
    return solver::follow_load(
        [&](double s, solver::State& at) { return roll(s, at); }, 0, 1, state,
        {.first = 1.0 / n_steps, .largest = 1.0 / n_steps, .jump_width = 0.01},
        [&](double s, const solver::State&) { loads.push_back(s); },
        [&](double s, const solver::State& at) { return energy(at.x(0, 0)) - s * at.x(0, 0); });
  }
};

// Two shallow bars: U' = w (w - 1) (w - 2) has its limit 2 / (3 sqrt 3) = 0.3849 at 1 - 1 / sqrt 3,
// from where w goes to 1 + 2 / sqrt 3.
TEST(Continuation, FindsWhereTheShapeSnapsThrough) {
  constexpr double kLimit = 0.384900179;
  for (const int n : {1, 2, 3, 4, 7, 10, 40}) {
    Valley bars{[](double w) { return w * (w - 1) * (w - 2); },
                [](double w) { return w * w * (0.25 * w * w - w + 1); }};
    std::vector<double> loads;
    const solver::Continuation way = bars.follow(n, loads);
    ASSERT_EQ(way.jumps.size(), 1u) << n;
    const solver::Jump& jump = way.jumps.front();
    EXPECT_LT(jump.load_before, kLimit);
    EXPECT_GT(jump.load_after, kLimit);
    EXPECT_LE(jump.load_after - jump.load_before, 0.01);
    EXPECT_NEAR(jump.moved_m, std::sqrt(3.0), 0.1);
    EXPECT_GT(jump.energy_drop_J, 0.5);
    EXPECT_TRUE(std::is_sorted(loads.begin(), loads.end()));
    for (const double load : {jump.load_before, jump.load_after, 1.0}) {
      EXPECT_EQ(std::count(loads.begin(), loads.end(), load), 1) << load;
    }
  }
}

TEST(Continuation, TakesNothingSmoothForAJump) {
  const std::vector<Valley> valleys = {
      {[](double w) { return w; }, [](double w) { return 0.5 * w * w; }},
      // Steeper and steeper, and limp at first: w = s^(1/9).
      {[](double w) { return std::pow(w, 9); }, [](double w) { return 0.1 * std::pow(w, 10); }},
      // Softer and softer, without a limit.
      {[](double w) { return std::tanh(w) / 0.999; },
       [](double w) { return std::log(std::cosh(w)) / 0.999; }},
      // Nearly a limit at 1/2: U' = 1/2 + 4 (w - 1/2)^3 + (w - 1/2) / 1000.
      {[](double w) { return 0.5 + 4 * std::pow(w - 0.5, 3) + 1e-3 * (w - 0.5); },
       [](double w) { return 0.5 * w + std::pow(w - 0.5, 4) + 0.5e-3 * (w - 0.5) * (w - 0.5); }}};
  for (std::size_t i = 0; i < valleys.size(); ++i) {
    for (const int n : {1, 2, 4, 10}) {
      Valley valley = valleys[i];
      std::vector<double> loads;
      EXPECT_TRUE(valley.follow(n, loads).jumps.empty()) << i << ", " << n;
      EXPECT_EQ(loads.size(), static_cast<std::size_t>(n));
    }
  }
}

// A washboard, U' = w / 5 + 3 / 10 sin(2 pi w): limits where cos(2 pi w) = -1 / (3 pi), first at
// w = 0.26692 and a load of 0.35172, then each 1 and 0.2 further.
Valley washboard() {
  constexpr double kPi = std::numbers::pi;
  return {[](double w) { return 0.2 * w + 0.3 * std::sin(2 * kPi * w); },
          [](double w) { return 0.1 * w * w - 0.15 / kPi * std::cos(2 * kPi * w); }};
}

TEST(Continuation, FindsEveryJumpOfAStepInItsOrder) {
  for (const int n : {2, 3, 4, 7, 10}) {
    Valley valley = washboard();
    std::vector<double> loads;
    const solver::Continuation way = valley.follow(n, loads);
    ASSERT_EQ(way.jumps.size(), 4u) << n;
    for (int j = 0; j < 4; ++j) {
      const double limit = 0.35172 + 0.2 * j;
      EXPECT_LT(way.jumps[j].load_before, limit) << n;
      EXPECT_GT(way.jumps[j].load_after, limit) << n;
      EXPECT_LE(way.jumps[j].load_after - way.jumps[j].load_before, 0.01) << n;
    }
    EXPECT_TRUE(std::is_sorted(loads.begin(), loads.end()));
    EXPECT_EQ(loads.back(), 1);
  }
}

// A solve that leaps over two limits at once lands where the load does not lead: one valley too
// far.
TEST(Continuation, GoesOnFromBehindAJumpAndNotFromALeap) {
  Valley valley = washboard();
  const auto leaping = [&](double s, solver::State& at) {
    const double from = at.x(0, 0);
    solver::SolveReport report = valley.roll(s, at);
    if (at.x(0, 0) > from + 1.5) {
      at.x(0, 0) = std::round(at.x(0, 0)) + 1;
      report = valley.roll(s, at);
    }
    return report;
  };
  const auto energy = [&](double s, const solver::State& at) {
    return valley.energy(at.x(0, 0)) - s * at.x(0, 0);
  };
  const auto end_of = [&](int n_steps, double width) {
    solver::State state;
    state.x = Eigen::Matrix3Xd::Zero(3, 1);
    const double step = 0.8 / n_steps;
    const auto way = solver::follow_load(
        leaping, 0, 0.8, state, {.first = step, .largest = step, .jump_width = width}, {}, energy);
    EXPECT_EQ(way.report.load_factor, 0.8);
    return state.x(0, 0);
  };
  EXPECT_NEAR(end_of(2, 0.01), end_of(100, 0), 1e-9);
  EXPECT_GT(end_of(2, 0), end_of(100, 0) + 0.5);  // a leap does go astray
}

// A solve that hops over a ridge, where the load does not lead: the step is made again.
TEST(Continuation, TakesAHopBack) {
  Valley bars{[](double w) { return w * (w - 1) * (w - 2); },
              [](double w) { return w * w * (0.25 * w * w - w + 1); }};
  solver::State state;
  state.x = Eigen::Matrix3Xd::Zero(3, 1);
  const auto hopping = [&](double s, solver::State& at) {
    if (s == 0.3 && at.x(0, 0) < 0.13) at.x(0, 0) = 1.5;  // from 0.2, the step before
    return bars.roll(s, at);
  };
  const auto way = solver::follow_load(
      hopping, 0, 0.3, state, {.first = 0.1, .largest = 0.1, .jump_width = 0.01}, {},
      [&](double s, const solver::State& at) { return bars.energy(at.x(0, 0)) - s * at.x(0, 0); });
  EXPECT_TRUE(way.jumps.empty());
  EXPECT_NEAR(bars.force(state.x(0, 0)), 0.3, 1e-9);
  EXPECT_LT(state.x(0, 0), 0.4);
}

TEST(Continuation, DoublesAStepWhoseLoadIsLostInRoundOff) {
  std::vector<double> tried;
  const auto solve = [&](double load, solver::State&) {
    tried.push_back(load);
    solver::SolveReport report;
    if (load < 0.9) report.failure = solver::SolveFailure::kRoundOff;
    report.status =
        load < 0.9 ? solver::SolveStatus::kNotConverged : solver::SolveStatus::kConverged;
    return report;
  };
  solver::State state = at_load(0);
  const auto way = solver::follow_load(solve, 0, 1, state, {.first = 0.25, .largest = 0.25});
  EXPECT_EQ(tried, (std::vector<double>{0.25, 0.5, 1}));
  EXPECT_EQ(way.report.status, solver::SolveStatus::kConverged);
  EXPECT_FALSE(way.out_of_reach.has_value());

  tried.clear();
  const auto all_lost = [&](double load, solver::State&) {
    tried.push_back(load);
    solver::SolveReport report;
    report.failure = solver::SolveFailure::kRoundOff;
    return report;
  };
  const auto lost = solver::follow_load(all_lost, 0, 1, state, {.first = 0.25, .largest = 0.25});
  EXPECT_EQ(tried, (std::vector<double>{0.25, 0.5, 1}));
  EXPECT_EQ(lost.report.failure, solver::SolveFailure::kRoundOff);
}

}  // namespace
}  // namespace totebench
