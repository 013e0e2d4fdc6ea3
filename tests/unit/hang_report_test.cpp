// What `hang` says in its first sentence and for how long its figures hold, from results by hand.
#include "app/present/hang_report.hpp"

#include <gtest/gtest.h>

namespace totebench {
namespace {

std::string report_of(double sag_m, double lengthening_m, double hung_for_s) {
  scenes::Scene scene;
  scene.name = "trial";
  scene.contents.mass_kg = 8;
  studies::HangResult result;
  scenes::Findings& found = result.findings;
  found.empty.status = found.loaded.status = solver::SolveStatus::kConverged;
  found.empty.stable = found.loaded.stable = true;
  found.bottom_sag_m = sag_m;
  found.overall_lengthening_m = lengthening_m;
  found.hung_for_s = hung_for_s;
  return app::hang_report(scene, result, "cm", {}, "out/trial");
}

bool says(const std::string& report, const std::string& words) {
  return report.find(words) != std::string::npos;
}

TEST(HangReport, SaysForHowLongItsFiguresHold) {
  const std::string creeps = report_of(0.011, 0.016, 1800);
  EXPECT_TRUE(says(creeps,
                   "trial with 8 kg, hung for 30 min: the bottom sags 1.1 cm and the bag hangs "
                   "1.6 cm lower overall"))
      << creeps;
  EXPECT_TRUE(says(creeps, "a bag that has hung loaded for 30 min")) << creeps;
  const std::string does_not = report_of(0.011, 0.016, 0);
  EXPECT_TRUE(says(does_not, "trial with 8 kg: the bottom sags")) << does_not;
  EXPECT_TRUE(says(does_not, "nothing of it has creep data")) << does_not;
}

TEST(HangReport, ABottomThatRisesDoesNotSag) {
  const std::string report = report_of(-0.019, -0.004, 0);
  EXPECT_TRUE(says(report,
                   "the bottom lies 1.9 cm higher in the bag than when empty and the bag hangs "
                   "4.0 mm higher overall"))
      << report;
  EXPECT_TRUE(says(report, "A bottom sag below zero")) << report;
  EXPECT_FALSE(says(report_of(0.019, 0.02, 0), "below zero"));
}

// What makes the answer doubtful stands in the first line, not below it.
TEST(HangReport, DoubtsStandInTheHeadline) {
  scenes::Scene scene;
  scene.name = "trial";
  scene.contents.mass_kg = 8;
  studies::HangResult result;
  scenes::Findings& found = result.findings;
  found.empty.status = found.loaded.status = solver::SolveStatus::kConverged;
  found.empty.stable = found.loaded.stable = true;
  found.bottom_sag_m = 0.011;
  const auto headline = [&] {
    const std::string report = app::hang_report(scene, result, "cm", {}, "out/trial");
    return report.substr(0, report.find('\n'));
  };
  EXPECT_FALSE(says(headline(), "Doubtful")) << headline();
  found.other_shape.starts_tried = 1;
  found.other_shape.found = true;
  found.other_shape.bottom_sag_m = 0.023;
  found.other_shape.energy_J = 1;
  found.other_shape.energy_of_first_J = 2;
  EXPECT_TRUE(says(headline(),
                   "Doubtful: the bag can also rest in another shape of lower energy, to which a "
                   "shake may take it, with a bottom sag of 2.3 cm."))
      << headline();
  found.other_shape.energy_J = 3;
  EXPECT_FALSE(says(headline(), "lower energy")) << headline();
  found.loaded.stable = false;
  EXPECT_TRUE(says(headline(), "Doubtful: this shape is not stable")) << headline();
  found.utilisation.resize(1);
  found.utilisation.front().what = "base sheet bent for good";
  found.utilisation.front().ratio = 1.2;
  EXPECT_TRUE(says(headline(), "base sheet bent for good is loaded beyond its strength"))
      << headline();
}

}  // namespace
}  // namespace totebench
