// What `wear` makes of the forces that hanging and carrying ask for, by hand from its own shares.
#include "totebench/studies/wear.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "builder_samples.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench {
namespace {

// Palmgren and Miner: a use takes n / 10^((1 - s) / b) of the life for n peaks of share s of the
// strength, from S-N lines s = 1 - b log10 N.
double uses_by_hand(const studies::WearMode& mode, double steps, double lifts, double b) {
  const auto taken = [b](double n, double share) { return n / std::pow(10, (1 - share) / b); };
  return 1 / (taken(1, mode.share_still) + taken(steps, mode.share_walking) +
              taken(lifts, mode.share_lifted));
}

TEST(Wear, UsesAreThoseOfTheMinerSumOfOneUse) {
  // The shipped slopes of cloth and of its seams are equal; here they are told apart.
  materials::MaterialLibrary library = samples::library();
  library.for_each_quantity(
      [](std::string_view, std::string_view id, std::string_view, materials::Quantity& quantity) {
        if (id == "fatigue_slope_cotton") quantity.value = 0.12;
      });
  ASSERT_EQ(library.rule("fatigue_slope_cotton").value, 0.12);
  const scenes::ReadResult read =
      scenes::read_scene(test::source_folder() / "tests/robustness/page_tote.json", library);
  ASSERT_TRUE(read.scene) << scenes::to_text(read.diagnostics);
  scenes::Scene scene = *read.scene;
  scene.solve.shapes = 0;
  scene.mesh.size_m = 0.06;
  scene.use = {.times_a_week = 3, .walk_m = 1e5, .lifts = 4, .loaded_hours = 2, .uses = 30};
  const studies::WearResult worn = studies::wear_tote(scene, library, nullptr);
  ASSERT_TRUE(worn.whole()) << worn.not_found;
  const double steps = 1e5 / library.rule("walking_step_length").value;
  EXPECT_DOUBLE_EQ(worn.steps_a_use, steps);
  EXPECT_GT(worn.walking_factor, 1);
  EXPECT_GT(worn.lifted_factor, 1);

  ASSERT_GE(worn.modes.size(), 4U);
  for (const studies::WearMode& mode : worn.modes) {
    const auto& uses = worn.fresh.findings.utilisation;
    const auto use =
        std::find_if(uses.begin(), uses.end(), [&](const auto& u) { return u.mode == mode.mode; });
    ASSERT_NE(use, uses.end()) << mode.mode;
    EXPECT_DOUBLE_EQ(mode.share_still, use->ratio);
    // What holds a stitch, and the cloth around it, follows the hardest stitch.
    const bool at_stitch =
        mode.mode == "strap_fastening" || mode.mode == "tear_out" || mode.mode == "cloth_at_strap";
    EXPECT_DOUBLE_EQ(mode.share_walking,
                     use->ratio * (at_stitch ? worn.walking_stitch_factor : worn.walking_factor));
    EXPECT_DOUBLE_EQ(mode.share_lifted,
                     use->ratio * (at_stitch ? worn.lifted_stitch_factor : worn.lifted_factor));
    const materials::Quantity& slope =
        library.rule(mode.mode == "cloth" ? "fatigue_slope_cotton" : "fatigue_slope_sewn_seam");
    const double by_hand = uses_by_hand(mode, steps, 4, slope.value);
    EXPECT_NEAR(mode.uses, std::min(by_hand, studies::kMostUses), 1e-9 * mode.uses) << mode.mode;
    // A steeper line and a weaker part both shorten the life.
    EXPECT_LT(mode.uses_low, uses_by_hand(mode, steps, 4, slope.high)) << mode.mode;
    EXPECT_GE(mode.uses_high, std::min(studies::kMostUses, uses_by_hand(mode, steps, 4, slope.low)))
        << mode.mode;
  }
  for (std::size_t i = 1; i < worn.modes.size(); ++i) {
    EXPECT_LE(worn.modes[i - 1].uses_low, worn.modes[i].uses_low) << "the first to go stands first";
  }
  EXPECT_EQ(worn.modes.front().uses_low < 30, *worn.carry_test != studies::Verdict::kEndures);

  // Three times a week for two hours; the first day is a day of carrying.
  ASSERT_EQ(worn.shapes.size(), 3U);
  EXPECT_DOUBLE_EQ(worn.shapes[0].loaded_s, 7200);
  EXPECT_DOUBLE_EQ(worn.shapes[1].loaded_s, 7200 * 3 * (365.25 / 12) / 7);
  EXPECT_DOUBLE_EQ(worn.shapes[2].loaded_s, 7200 * 3 * 365.25 / 7);
}

TEST(Wear, VerdictsLookAtBothEndsOfTheBand) {
  using studies::Verdict;
  EXPECT_EQ(studies::verdict_of(100, 100, 5000), Verdict::kEndures);
  EXPECT_EQ(studies::verdict_of(100, 99, 5000), Verdict::kNotDecided);
  EXPECT_EQ(studies::verdict_of(100, 20, 99), Verdict::kFails);
  EXPECT_EQ(studies::verdict_of(100, 20, 100), Verdict::kNotDecided);
}

}  // namespace
}  // namespace totebench
