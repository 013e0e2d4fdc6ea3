// What is told of a sweep: the sentence, the bags that no other beats, the table for spreadsheets.
#include "app/present/sweep_report.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "app/present/sweep_axes.hpp"

namespace totebench {
namespace {

using studies::Swept;

// Two masses of the load by three cloths; the last is lost.
studies::SweepResult sample() {
  studies::SweepResult r;
  r.spec.across = "bag_mass_kg";
  r.spec.up = "bottom_sag_m";
  r.factors = {{"contents.mass", scenes::Dimension::kMass, true},
               {"layers.upper.1.material", scenes::Dimension::kNone, false}};
  const double sags[] = {0.010, 0.020, 0.004, 0.012, 0.030, 0};
  const double masses[] = {0.2, 0.3, 0.4, 0.2, 0.3, 0};
  const char* cloths[] = {"thin", "a \"fine\", soft one", "thick"};
  for (std::size_t i = 0; i < 6; ++i) {
    studies::SweptBag bag;
    bag.values = {{i < 3 ? "4 kg" : "8 kg", i < 3 ? 4.0 : 8.0}, {cloths[i % 3]}};
    bag.state = i < 5 ? Swept::kAtRest : Swept::kNoRest;
    if (i == 5) bag.why = "no equilibrium, of the empty bag";
    bag.figures.fill(0.5);
    bag.figures[scenes::place_of(scenes::figure_of<&scenes::Findings::bottom_sag_m>())] = sags[i];
    bag.figures[scenes::place_of(scenes::figure_of<&scenes::Findings::bag_mass_kg>())] = masses[i];
    bag.strength_used = 0.25;
    bag.strength_used_where = "thread";
    bag.drops_load = true;
    r.bags.push_back(bag);
  }
  return r;
}

scenes::Scene scene() {
  scenes::Scene scene;
  scene.name = "trial";
  return scene;
}

TEST(SweepReport, BeginsWithASentence) {
  EXPECT_EQ(
      app::sweep_sentence(scene(), sample(), "cm"),
      "trial: 5 of 6 bags came to rest, 1 found no equilibrium; bottom sag from 4.0 mm (bag 3: "
      "contents.mass 4 kg, layers.upper.1.material thick) to 3.0 cm (bag 5: contents.mass 8 "
      "kg, layers.upper.1.material a \"fine\", soft one). What moves it most is "
      "layers.upper.1.material.");
  studies::SweepResult none = sample();
  for (studies::SweptBag& bag : none.bags) bag.state = Swept::kImpossible;
  EXPECT_EQ(app::sweep_sentence(scene(), none, "cm"),
            "trial: 0 of 6 bags came to rest, 6 cannot be made.");
  EXPECT_EQ(app::sweep_chart_svg(none, "cm"), "");
  EXPECT_EQ(app::effect_rows(none, "cm").size(), 1u);
}

TEST(SweepReport, MarksTheBagsThatNoOtherBeats) {
  EXPECT_EQ(app::unbeaten_bags(sample()), (std::vector<int>{0, 2}));
  const app::TextTable rows = app::sweep_rows(sample(), "cm", 100);
  ASSERT_EQ(rows.size(), 7u);
  EXPECT_EQ(rows[1][0], "1*");
  EXPECT_EQ(rows[2][0], "2");
  EXPECT_EQ(rows[3][0], "3*");
  EXPECT_EQ(rows[6].back(), "no equilibrium, of the empty bag");
  EXPECT_EQ(rows[6][3], "-");
  const app::TextTable few = app::sweep_rows(sample(), "cm", 3);
  ASSERT_EQ(few.size(), 4u) << "those that no other beats, then the first";
  EXPECT_EQ(few[1][0], "1*");
  EXPECT_EQ(few[2][0], "2");
  EXPECT_EQ(few[3][0], "3*");
}

// Where every bag weighs the same there is no trade-off of masses: the first factor stands across.
TEST(SweepReport, DrawsTheFirstFactorWhereTheFigureDoesNotDiffer) {
  studies::SweepResult same = sample();
  for (studies::SweptBag& bag : same.bags) {
    bag.figures[scenes::place_of(scenes::figure_of<&scenes::Findings::bag_mass_kg>())] = 0.2;
  }
  EXPECT_EQ(app::across_axis(same).name, "contents.mass");
  EXPECT_EQ(app::across_axis(same).values[4], 8);
  EXPECT_TRUE(app::unbeaten_bags(same).empty());
  same.factors[0].number = false;
  EXPECT_EQ(app::across_axis(same).name, "bag");
  EXPECT_NE(app::sweep_chart_svg(same, "cm").find("Bottom sag against bag"), std::string::npos);
}

TEST(SweepReport, SaysWhatEachFactorDoesOnAverage) {
  const app::TextTable rows = app::effect_rows(sample(), "cm");
  ASSERT_EQ(rows.size(), 3u);
  using Row = std::vector<std::string>;
  // Means over the bags at rest: thin (10 + 12) / 2, fine (20 + 30) / 2, thick 4; 34 / 3 and 42
  // / 2.
  EXPECT_EQ(rows[1], Row({"layers.upper.1.material", "with thick", "4.0 mm",
                          "with a \"fine\", soft one", "2.5 cm"}));
  EXPECT_EQ(rows[2], Row({"contents.mass", "with 4 kg", "1.1 cm", "with 8 kg", "2.1 cm"}));
}

// The rows of a table in the form of RFC 4180, read as a spreadsheet reads them.
std::vector<std::vector<std::string>> parsed(const std::string& csv) {
  std::vector<std::vector<std::string>> rows(1, {""});
  bool quoted = false;
  for (std::size_t i = 0; i < csv.size(); ++i) {
    std::string& cell = rows.back().back();
    if (quoted && csv[i] == '"' && i + 1 < csv.size() && csv[i + 1] == '"') {
      cell += csv[++i];
    } else if (csv[i] == '"') {
      quoted = !quoted;
    } else if (!quoted && csv[i] == ',') {
      rows.back().emplace_back();
    } else if (!quoted && csv[i] == '\n') {
      if (i + 1 < csv.size()) rows.push_back({""});
    } else {
      cell += csv[i];
    }
  }
  return rows;
}

TEST(SweepReport, TheTableForSpreadsheetsHoldsWhatTheFileForProgramsHolds) {
  const auto rows = parsed(app::sweep_csv(sample()));
  const auto json = nlohmann::json::parse(app::sweep_json(scene(), sample()));
  ASSERT_EQ(rows.size(), 7u);
  for (const auto& row : rows) ASSERT_EQ(row.size(), rows[0].size());
  const auto column = [&](const std::string& name) {
    const auto it = std::find(rows[0].begin(), rows[0].end(), name);
    EXPECT_NE(it, rows[0].end()) << name;
    return static_cast<std::size_t>(it - rows[0].begin());
  };
  EXPECT_EQ(rows[2][column("contents.mass_kg")], "4.0");
  EXPECT_EQ(rows[2][column("layers.upper.1.material")], "a \"fine\", soft one");
  EXPECT_EQ(rows[6][column("why")], "no equilibrium, of the empty bag");
  EXPECT_EQ(rows[6][column("state")], "no rest");
  EXPECT_EQ(rows[6][column("bottom_sag_m")], "");
  EXPECT_EQ(rows[1][column("unbeaten")], "true");
  EXPECT_EQ(rows[2][column("unbeaten")], "false");
  for (const scenes::Figure& figure : scenes::kFigures) {
    for (std::size_t i = 0; i < 5; ++i) {
      EXPECT_EQ(std::stod(rows[i + 1][column(figure.key)]),
                json["bags"][i][figure.key].get<double>());
    }
    EXPECT_TRUE(json["bags"][5][figure.key].is_null());
  }
  EXPECT_EQ(json["bags"][4]["values"]["contents.mass_kg"], 8);
  EXPECT_EQ(json["status"], "done");
  EXPECT_EQ(json["factors"], nlohmann::json({"contents.mass_kg", "layers.upper.1.material"}));
}

TEST(SweepReport, NeverTellsOfStrengthWithoutItsCautions) {
  const std::string text = app::sweep_report(scene(), sample(), "cm", {}, "out");
  EXPECT_NE(text.find("Never use it for people"), std::string::npos);
  EXPECT_NE(text.find("no rating"), std::string::npos);
  EXPECT_NE(text.find("only because it carries less"), std::string::npos) << "loads differ";
  studies::SweepResult one_load = sample();
  one_load.factors[0].key = "base.thickness";
  EXPECT_EQ(app::sweep_report(scene(), one_load, "cm", {}, "out").find("carries less"),
            std::string::npos);
  studies::SweepResult coarse = sample();
  coarse.coarse = true;
  EXPECT_NE(app::sweep_report(scene(), coarse, "cm", {}, "out").find("up to twice too large"),
            std::string::npos);
}

}  // namespace
}  // namespace totebench
