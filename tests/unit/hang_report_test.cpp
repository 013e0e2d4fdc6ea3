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
                   "trial with 8 kg, hung for 30 min: the bottom sags 1.10 cm and the bag hangs "
                   "1.60 cm lower overall"))
      << creeps;
  EXPECT_TRUE(says(creeps, "a bag that has hung loaded for 30 min")) << creeps;
  const std::string does_not = report_of(0.011, 0.016, 0);
  EXPECT_TRUE(says(does_not, "trial with 8 kg: the bottom sags")) << does_not;
  EXPECT_TRUE(says(does_not, "nothing of it has creep data")) << does_not;
}

TEST(HangReport, ABottomThatRisesDoesNotSag) {
  const std::string report = report_of(-0.019, -0.004, 0);
  EXPECT_TRUE(says(report,
                   "the bottom lies 1.90 cm higher in the bag than when empty and the bag hangs "
                   "0.400 cm higher overall"))
      << report;
  EXPECT_TRUE(says(report, "A bottom sag below zero")) << report;
  EXPECT_FALSE(says(report_of(0.019, 0.02, 0), "below zero"));
}

}  // namespace
}  // namespace totebench
