// A bag in motion, through the study behind `totebench carry`, on a mesh that is coarse enough to
// be quick: bounds that hold whatever the bag is.
#include "totebench/studies/carry.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/support/source_folder.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench {
namespace {

struct Bench {
  materials::MaterialLibrary library = materials::MaterialLibrary::load();
  scenes::Scene scene;
  materials::MaterialLibrary own;
  Bench() {
    const scenes::ReadResult read =
        scenes::read_scene(test::source_folder() / "scenes/examples/lesson-3-base.json", library);
    EXPECT_TRUE(read.scene) << scenes::to_text(read.diagnostics);
    scene = *read.scene;
    scene.contents.kind = scenes::ContentsKind::kEven;
    scene.mesh.size_m = 0.1;
    own = scenes::library_of(scene, library);
  }
};

// The weight coming on in a straight line over `rise` seconds.
studies::CarryEvent ramp(const std::string& name, double rise, double duration) {
  studies::CarryEvent event;
  event.name = name;
  event.weight_taken_up = true;
  event.duration_s = duration;
  event.at = [rise](double t) {
    return solver::Excitation{std::min(1.0, t / rise), Eigen::Vector3d::Zero()};
  };
  return event;
}

TEST(Carry, FollowsTheBoundsOfTheOscillator) {
  const Bench bench;
  studies::CarryOptions options;
  options.damping_ratio = 0.1;
  options.events = {ramp("gently", 0.5, 0.8), ramp("at once", 1e-3, 0.2)};
  studies::CarryEvent still;
  still.name = "held still";
  still.duration_s = 0.05;
  still.at = [](double) { return solver::Excitation{}; };
  options.events.push_back(still);
  const studies::CarryResult result = studies::carry_tote(bench.scene, bench.own, options, nullptr);
  ASSERT_EQ(result.events.size(), 3U);
  for (const studies::CarryEventResult& event : result.events)
    ASSERT_TRUE(event.complete) << event.name;

  // Held still nothing moves.
  EXPECT_NEAR(result.events[2].dynamic_factor, 1, 1e-4);
  EXPECT_NEAR(result.events[2].stitch_factor, 1, 1e-3);
  // Ramp: at most 1 + 1 / (pi t_r / T) (Biggs, Introduction to Structural Dynamics, section 2.5),
  // and some more for the modes above the bounce.
  const double rise_in_periods = 0.5 * result.bounce_Hz;
  EXPECT_GT(result.events[0].dynamic_factor, 0.999);
  EXPECT_LT(result.events[0].dynamic_factor, 1 + 1.5 / (M_PI * rise_in_periods));
  EXPECT_NEAR(result.events[0].samples.back().support_force_N / result.still.findings.weight_N, 1,
              0.02);
  // A load put on at once: no linear oscillator passes twice the weight.
  EXPECT_GT(result.events[1].dynamic_factor, 1.3);
  EXPECT_LT(result.events[1].dynamic_factor, 2.1);
}

TEST(Carry, SetDown_BlowIsThatOfAMassOnTheGround) {
  // A mass that meets a spring at v, its weight on it, peaks at 1 + sqrt(1 + v^2 / (g d)) of its
  // weight (energy; d = 5.25 mm is what floor_under() gives under the weight). Of a bag that is put
  // down hard the hand has let go before the peak; its base bends, which makes the blow softer,
  // and its parts peak one after the other: within 30 %. Put down gently the hand still carries.
  const Bench bench;
  studies::CarryOptions options;
  options.events = {studies::set_down("hard", 1.0), studies::set_down("gently", 0.1)};
  const studies::CarryResult result = studies::carry_tote(bench.scene, bench.own, options, nullptr);
  for (const studies::CarryEventResult& event : result.events) {
    ASSERT_TRUE(event.complete) << event.name;
    EXPECT_LT(event.dynamic_factor, 1.1) << "a hand that goes down feels no more than the weight";
    EXPECT_EQ(event.samples.front().floor_force_N, 0) << "10 mm to go";
  }
  const double rigid = 1 + std::sqrt(1 + 1 / (9.80665 * 5.25e-3));
  EXPECT_NEAR(result.events[0].floor_factor, rigid, 0.3 * rigid);
  EXPECT_LT(result.events[1].floor_factor, 1.5);
  // Single values ring from one step to the next (the trapezoid rule damps nothing): an impulse
  // does not. From the peak of the blow on:
  const std::vector<studies::CarrySample>& samples = result.events[0].samples;
  const auto peak = std::max_element(
      samples.begin(), samples.end(),
      [](const auto& a, const auto& b) { return a.floor_force_N < b.floor_force_N; });
  double impulse_Ns = 0;
  for (auto it = peak + 1; it != samples.end(); ++it) {
    impulse_Ns += it->support_force_N * (it->time_s - (it - 1)->time_s);
  }
  EXPECT_LT(std::abs(impulse_Ns),
            0.05 * result.still.findings.weight_N * (samples.back().time_s - peak->time_s))
      << "slack straps neither pull nor push";
}

TEST(Carry, BounceIsThatOfTheLengthening) {
  // The mode that moves most mass up and down is near sqrt(g / lengthening) / (2 pi): the bag
  // lengthens by the bounce's own softness for the most part. Within a third, as the lengthening is
  // nonlinear from empty and its shape is not the mode's.
  const Bench bench;
  studies::CarryOptions options;
  studies::CarryEvent still;
  still.name = "held still";
  still.duration_s = 0.01;
  still.at = [](double) { return solver::Excitation{}; };
  options.events = {still};
  const studies::CarryResult result = studies::carry_tote(bench.scene, bench.own, options, nullptr);
  const double estimate =
      std::sqrt(9.80665 / result.still.findings.overall_lengthening_m) / (2 * M_PI);
  EXPECT_GT(result.bounce_mass_share, 0.3);
  EXPECT_GT(result.bounce_Hz, estimate / 1.5);
  EXPECT_LT(result.bounce_Hz, estimate * 2.5);
}

TEST(Carry, StopsWhenAskedTo) {
  const Bench bench;
  studies::CarryOptions options;
  options.events = {ramp("gently", 1.0, 1.6)};
  const studies::CarryResult result = studies::carry_tote(
      bench.scene, bench.own, options,
      [](const studies::HangProgress& progress) { return progress.stage != "gently"; });
  ASSERT_EQ(result.events.size(), 1U);
  EXPECT_FALSE(result.events[0].complete);
  EXPECT_TRUE(result.interrupted);
  const studies::CarryResult at_once = studies::carry_tote(
      bench.scene, bench.own, options, [](const studies::HangProgress&) { return false; });
  EXPECT_TRUE(at_once.events.empty());
  EXPECT_TRUE(at_once.interrupted) << "a stop is not a bag that finds no rest";
}

}  // namespace
}  // namespace totebench
