// What a rating's report must say and must not, from a result made by hand.
#include "app/present/rate_report.hpp"

#include <gtest/gtest.h>

#include "app/present/rate_tables.hpp"

namespace totebench {
namespace {

studies::RateResult made_result() {
  studies::RateResult result;
  scenes::Findings& found = result.hang.findings;
  found.empty.status = found.loaded.status = solver::SolveStatus::kConverged;
  found.empty.stable = found.loaded.stable = true;
  studies::Rating& r = result.rating;
  r.set_mass_kg = 8;
  r.drops.found = true;
  r.drops.load_factor = 10;
  r.drops.governing.mode = "tear_out";
  r.drops.governing.what = "cloth torn out at a strap stitch, front left";
  r.drops.governing.grade = r.weakest_grade = materials::kGradeEstimate;
  r.drops.governing.drops_load = true;
  r.spoilt = studies::not_reached(10, "the load drops before");
  r.bags = {{8, 0, "tear_out", ""}, {12, 0, "tear_out", ""}};
  r.drops_spread.sampled_kg = studies::band_of({64, 96});
  r.drops_spread.first_order_kg = 5;
  r.drops_spread.first_order.slope = {0.0};
  r.drops_rating_kg = 13.04;
  r.rated_kg = 13;
  result.at_rated_load.one_hand_kg = result.at_set_load.one_hand_kg = 8;
  return result;
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

TEST(RateReport, FirstLineHasRatingGradeAndCaution) {
  scenes::Scene scene;
  scene.name = "trial";
  const std::string report =
      app::rate_report(scene, made_result(), "cm", {{"rating.json"}, {}, {}}, "out/x");
  const std::string line = first_line(report);
  for (const char* words :
       {"trial: rated 13 kg by calculation", "cloth torn out at a strap stitch, front left, at 80",
        "estimate, low grade", "No lifting device", "never for people, infants or loads overhead",
        "no certificate", "test a sample to failure", "One hand should carry far less: about 8"}) {
    EXPECT_NE(line.find(words), std::string::npos) << words << " in: " << line;
  }
  for (const char* words : {"Age, wear, washing, wet, sunlight", "Local codes", "licensed",
                            "Sampled and first-order deviation lie apart", "out/x: rating.json",
                            "65.2 kg / 5 = 13.0 kg"}) {
    EXPECT_NE(report.find(words), std::string::npos) << words << " in: " << report;
  }
  EXPECT_LT(report.find("Cautions:"), report.find("Written in"));
}

TEST(RateReport, NeverSaysSafe) {
  scenes::Scene scene;
  for (const bool stopped : {false, true}) {
    studies::RateResult result = made_result();
    result.interrupted = stopped;
    for (const std::string& text :
         {app::rate_report(scene, result, "in", {}, "out"), app::rating_json(scene, result)}) {
      std::size_t at = 0;
      while ((at = text.find("safe", at)) != std::string::npos) {
        EXPECT_EQ(text.compare(at, 6, "safety"), 0) << text.substr(at, 40);
        ++at;
      }
    }
  }
}

TEST(RateReport, CautionsAreInTheUnitsOfTheReport) {
  studies::RateResult result = made_result();
  result.rating.set_mass_kg = 20;  // above the rated 13
  result.at_set_load.high_Pa = 50e3;
  const std::string report = app::rate_report(scenes::Scene(), result, "in", {}, "out");
  // 13 kg are 28.66 lb: told as 28, never 29.
  EXPECT_NE(report.find("rated 28 lb by calculation"), std::string::npos) << report;
  for (const char* words : {"The load of this scene (44.1 lb) is above the rated mass",
                            "Above about 17.6 lb two hands", "7.25 psi"}) {
    EXPECT_NE(report.find(words), std::string::npos) << words << " in: " << report;
  }
  EXPECT_EQ(report.find(" kg"), std::string::npos) << report;
  EXPECT_EQ(report.find(" kPa"), std::string::npos) << report;
  EXPECT_NE(app::rate_report(scenes::Scene(), result, "cm", {}, "out").find("(20.0 kg) is above"),
            std::string::npos);
}

TEST(RateReport, StoppedGivesNoRating) {
  studies::RateResult result = made_result();
  result.interrupted = true;
  const std::string report = app::rate_report(scenes::Scene(), result, "in", {}, "out");
  EXPECT_EQ(first_line(report).find("Stopped on request: no rating"), 0u);
  EXPECT_NE(app::rating_json(scenes::Scene(), result).find(R"("rated_mass_kg": null)"),
            std::string::npos);
}

// No rating, no caution about it: what was held is told instead.
TEST(RateReport, WithoutAFailureSaysWhyAndWhatWasHeld) {
  studies::RateResult result = made_result();
  studies::Rating& r = result.rating;
  r.drops = studies::not_reached(3, "no equilibrium was found above this load");
  r.bags.clear();
  r.rated_kg = 0;
  EXPECT_FALSE(r.can_be_given());
  const std::string report = app::rate_report(scenes::Scene(), result, "cm", {}, "out");
  for (const char* words : {"is not known (no equilibrium was found above this load), so there is "
                            "no rating. The largest load it was seen to hold is 24.0 kg",
                            "Cautions:", "no certificate"}) {
    EXPECT_NE(report.find(words), std::string::npos) << words << " in: " << report;
  }
  EXPECT_EQ(report.find("above the rated mass"), std::string::npos) << report;
  EXPECT_EQ(report.find("the rating rests"), std::string::npos) << report;
}

// Half kilos, tenths below 2 kg, never up.
// By hand: 10 times 8 kg is 80 kg; a kilogram is 1 / 0.45359237 lb.
TEST(RateTables, RowsSayWhatWasFoundAndWhatWasNot) {
  using Row = std::vector<std::string>;
  studies::Rating r = made_result().rating;
  r.drops.at_jump = true;
  r.spoilt_spread = r.drops_spread;
  const app::TextTable failures = app::failures_table(r, "cm");
  ASSERT_EQ(failures.size(), 3U);
  EXPECT_EQ(failures[0], Row({"first failure, solved at rising load", "typical bag", "5 % below",
                              "5 % above", "deviation", "to first order", "by", "strength from"}));
  ASSERT_EQ(failures[1].size(), 8U);
  EXPECT_EQ(failures[1][0], "load dropped");
  EXPECT_EQ(failures[1][1], "80.0 kg");
  EXPECT_EQ(failures[1][5], "5.00 kg");
  EXPECT_EQ(failures[1][6], r.drops.governing.what + " (the shape jumps)");
  EXPECT_EQ(failures[1][7], materials::kGradeEstimate);
  EXPECT_EQ(failures[2],
            Row({"bag spoilt", "none up to 80.0 kg", "", "", "", "", "the load drops before", ""}));
  r.drops_spread = {};
  EXPECT_EQ(app::failures_table(r, "in")[1][1], "176 lb");
  for (const std::size_t sampled : {2U, 3U, 4U, 5U}) {
    EXPECT_EQ(app::failures_table(r, "cm")[1][sampled], "-");
  }

  studies::Change solved{"a longer box", 1, true, "", r.drops, studies::not_reached(12, "")};
  solved.rated_kg = 13.4;
  studies::Change unsolved;
  unsolved.what = "two layers";
  unsolved.why_not = "no equilibrium";
  r.changes = {solved, unsolved};
  EXPECT_EQ(app::changes_table(r, "cm"),
            app::TextTable({{"changed (each solved anew)", "rated", "drops at", "spoilt at"},
                            {"a longer box", "13 kg", "80.0 kg", "above 96.0 kg"},
                            {"two layers", "not solved: no equilibrium", "", ""}}));
}

TEST(RoundedDown, NeverUp) {
  EXPECT_DOUBLE_EQ(studies::rounded_down_kg(13.49), 13.0);
  EXPECT_DOUBLE_EQ(studies::rounded_down_kg(13.5), 13.5);
  EXPECT_NEAR(studies::rounded_down_kg(1.99), 1.9, 1e-12);
  EXPECT_EQ(studies::rounded_down_kg(0.04), 0);
}

}  // namespace
}  // namespace totebench
