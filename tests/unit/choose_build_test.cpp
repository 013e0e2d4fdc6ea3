// What one build of a choice is held to.
#include "totebench/studies/choose_build.hpp"

#include <gtest/gtest.h>

#include "builder_samples.hpp"
#include "totebench/studies/rate_climb.hpp"

namespace totebench {
namespace {

// Asked to carry 3 kg with a design factor of 5 and a shock factor of 2, a bag is looked at with 15
// kg in it for what drops the load and with 6 kg for what spoils it.
TEST(ChooseBuild, IsHeldToTheLoadItCarriesTimesItsFactors) {
  studies::ChooseBuild build;
  build.scene = samples::small_bag();
  build.scene.mesh.size_m = 0.06;
  build.scene.solve.shapes = 0;
  const studies::BuildSolve solved = studies::solve_build(
      build, samples::library(), {3, 5, 2}, 0, [] { return true; }, nullptr);

  const studies::HangResult hung = studies::hang_tote(build.scene, samples::library(), nullptr, 0);
  const auto use_with = [&](double kg, studies::FailureClass of) {
    studies::Climb climb(build.scene, hung.tote, hung.loaded, 1);
    return studies::most_used(*climb.to(kg / 7.5), of, {})->ratio;
  };
  const double drops = use_with(15, studies::FailureClass::kDropsLoad);
  const double spoils = use_with(6, studies::FailureClass::kSpoilsBag);
  EXPECT_NEAR(solved.figures[studies::kFigureDropsUse], drops, 1e-3 * drops);
  EXPECT_NEAR(solved.figures[studies::kFigureSpoilsUse], spoils, 1e-3 * spoils);
  EXPECT_GT(drops, 1.5 * use_with(6, studies::FailureClass::kDropsLoad));
}

}  // namespace
}  // namespace totebench
