// What `compare` says about bags that were hung: differences in words, the sentence, the table, the
// picture at one scale. Nothing is solved here; findings are made up.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <nlohmann/json.hpp>

#include "app/present/compare_report.hpp"
#include "app/present/lesson_handout.hpp"
#include "reader_fixture.hpp"
#include "tests/support/source_folder.hpp"
#include "totebench/viz/compare_picture.hpp"
#include "viz_sample.hpp"

namespace totebench {
namespace {

scenes::Scene example(const std::string& name) {
  const auto path = test::source_folder() / "scenes/examples" / name;
  const scenes::ReadResult result = scenes::read_scene(path, test::library());
  if (!result.scene) throw std::runtime_error(scenes::to_text(result.diagnostics));
  return *result.scene;
}

studies::ComparedBag hung(const scenes::Scene& scene, const scenes::Scene& first, double sag_m) {
  studies::ComparedBag bag;
  bag.scene = scene;
  bag.from_first = studies::difference(first, scene, test::library(), "cm");
  scenes::Findings& found = bag.result.findings;
  found.empty.status = found.loaded.status = solver::SolveStatus::kConverged;
  found.bottom_sag_m = sag_m;
  found.strap_drop_loaded_m = 0.25;
  found.cautions = {"the same caution"};
  return bag;
}

studies::Comparison lesson() {
  const scenes::Scene first = example("lesson-1-fusible.json");
  studies::Comparison comparison;
  comparison.bags.push_back(hung(first, first, 0.041));
  comparison.bags.push_back(hung(example("lesson-2-stabilizer.json"), first, 0.018));
  comparison.bags.push_back(hung(example("lesson-3-base.json"), first, 0.0014));
  return comparison;
}

TEST(CompareDifference, TellsLayersAndBaseByName) {
  const studies::Comparison c = lesson();
  EXPECT_TRUE(c.bags[0].from_first.none());
  EXPECT_EQ(studies::difference_text(c.bags[1].from_first),
            "adding stiff nonwoven sew-in stabilizer 1 mm");
  EXPECT_EQ(
      studies::difference_text(c.bags[2].from_first),
      "adding stiff nonwoven sew-in stabilizer 1 mm and a base of HDPE bag-bottom sheet, 2 mm, "
      "stitched in");
  const studies::BagDifference back =
      studies::difference(c.bags[2].scene, c.bags[0].scene, test::library(), "cm");
  EXPECT_EQ(studies::difference_text(back).find("leaving out stiff nonwoven"), 0u)
      << studies::difference_text(back);
}

TEST(CompareDifference, TellsEveryOtherKeyInTheUnitsOfTheReader) {
  const scenes::Scene first = example("lesson-1-fusible.json");
  scenes::Scene second = first;
  second.bag.depth_m = 0.1524;
  second.contents.mass_kg = 3;
  second.name = "another name is no difference";
  EXPECT_EQ(studies::difference_text(studies::difference(first, second, test::library(), "in")),
            "changing bag.depth 6 in instead of 5 in and contents.mass 6 lb 10 oz instead of "
            "4 lb 7 oz");
  scenes::Scene third = first;
  std::swap(third.layers["upper"][0], third.layers["upper"][1]);
  EXPECT_NE(studies::difference_text(studies::difference(first, third, test::library(), "in"))
                .find("order"),
            std::string::npos);
}

TEST(CompareReport, TheSentenceSaysWhatTheChangeDoes) {
  EXPECT_EQ(app::comparison_sentence(lesson(), "cm"),
            "Adding stiff nonwoven sew-in stabilizer 1 mm takes the bottom sag from 4.1 cm to "
            "1.8 cm; adding a base of HDPE bag-bottom sheet, 2 mm, stitched in as well takes it "
            "to 1.4 mm.");
  studies::Comparison failed = lesson();
  failed.bags[1].result.findings.loaded.status = solver::SolveStatus::kNotConverged;
  EXPECT_NE(app::comparison_sentence(failed, "cm").find("no equilibrium"), std::string::npos);
  EXPECT_EQ(app::comparison_sentence(failed, "cm").find("1.8 cm"), std::string::npos)
      << "a number that is none";
  EXPECT_FALSE(failed.all_converged());
}

// 41 and 42 mm on the fine meshes. On coarse ones they differed by 3 mm: the 1 mm moved by 2, and
// no difference is told. By 1.5 mm: the 1 mm moved by half of one, and is.
TEST(CompareReport, ADifferenceWithinTheMeshesErrorIsNotTold) {
  const scenes::Figure& sag = scenes::figure_of<&scenes::Findings::bottom_sag_m>();
  studies::Comparison c = lesson();
  c.bags.resize(2);
  c.bags[1].result.findings.bottom_sag_m = 0.042;
  const auto on_coarse = [&](double first_m, double second_m) {
    for (auto [bag, its] : {std::pair(&c.bags[0], first_m), std::pair(&c.bags[1], second_m)}) {
      bag->result.findings.triangles = 2000;
      bag->result.coarse_findings = bag->result.findings;
      bag->result.coarse_findings->triangles = 500;
      bag->result.coarse_findings->bottom_sag_m = its;
    }
    return studies::can_be_told_apart(c.bags[0].result, c.bags[1].result, sag);
  };
  EXPECT_TRUE(studies::can_be_told_apart(c.bags[0].result, c.bags[1].result, sag))
      << "nothing is known of a coarse mesh";
  EXPECT_TRUE(on_coarse(0.038, 0.0395));
  EXPECT_FALSE(on_coarse(0.038, 0.041));
  EXPECT_NE(app::comparison_sentence(c, "cm").find(
                "makes no difference to the bottom sag that can be told (4.1 cm and 4.2 cm)"),
            std::string::npos)
      << app::comparison_sentence(c, "cm");
  const auto rows = app::comparison_table(c, "cm").rows;
  const bool marked = std::any_of(rows.begin(), rows.end(),
                                  [](const auto& row) { return row.cells.back() == "4.2 (~)"; });
  EXPECT_TRUE(marked);
  const auto json = nlohmann::json::parse(app::comparison_json(c));
  // What is equal on both meshes, as the made-up rest, is no difference either.
  EXPECT_EQ(json["bags"][1]["not_told_apart"][0], "bottom_sag_m");
  EXPECT_TRUE(json["bags"][0]["not_told_apart"].empty());
}

// 41 and 18 mm, and the first can also rest with 20: no difference is told. With 35 there is one.
TEST(CompareReport, ADifferenceWithinASecondShapeIsNotTold) {
  const scenes::Figure& sag = scenes::figure_of<&scenes::Findings::bottom_sag_m>();
  studies::Comparison c = lesson();
  auto& other = c.bags[0].result.findings.other_shape;
  const auto told = [&](double other_sag_m) {
    other.found = true;
    other.bottom_sag_m = other_sag_m;
    return studies::can_be_told_apart(c.bags[0].result, c.bags[1].result, sag);
  };
  EXPECT_FALSE(told(0.017));
  EXPECT_FALSE(told(0.018));
  EXPECT_TRUE(told(0.035));
  other.found = false;
  EXPECT_TRUE(studies::can_be_told_apart(c.bags[0].result, c.bags[1].result, sag));
}

// The second bag sags 5 mm less. Both draw on E, which moves the first by -1 and +2 mm and the
// second by -1.5 and +2.5: the difference by 0.5 either way. Only the second draws on t: 1.2 either
// way. In squares: sqrt(0.25 + 1.44) = 1.3 mm.
TEST(CompareReport, WhatBothBagsDrawOnMovesTheirDifferenceByWhatItMovesThemApart) {
  const scenes::Figure& sag = scenes::figure_of<&scenes::Findings::bottom_sag_m>();
  const std::size_t k = scenes::place_of(sag);
  studies::Comparison c = lesson();
  c.bags.resize(2);
  studies::HangResult& first = c.bags[0].result;
  studies::HangResult& second = c.bags[1].result;
  const auto add = [&](studies::HangResult& bag, const char* input, double low_m, double high_m) {
    if (!bag.data_scatter) bag.data_scatter.emplace();
    studies::DataScatter::Moves& moves = bag.data_scatter->moves.emplace_back();
    moves.input = input;
    moves.at_low[k] = low_m;
    moves.at_high[k] = high_m;
  };
  first.findings.bottom_sag_m = 0.041;
  second.findings.bottom_sag_m = 0.036;
  add(first, "E", -1e-3, 2e-3);
  add(second, "E", -1.5e-3, 2.5e-3);
  add(second, "t", -1.2e-3, 1.2e-3);
  const studies::Range range = studies::difference_range(first, second, sag);
  EXPECT_NEAR(range.low, -6.3e-3, 1e-15);
  EXPECT_NEAR(range.high, -3.7e-3, 1e-15);
  EXPECT_TRUE(studies::can_be_told_apart(first, second, sag));
  EXPECT_EQ(app::difference_rows(c, "cm")[1],
            (std::vector<std::string>{sag.name, "-6.3 mm to -3.7 mm"}));
  add(second, "u", -5e-3, 5e-3);  // sqrt(1.3^2 + 5^2) = 5.2 mm
  EXPECT_FALSE(studies::can_be_told_apart(first, second, sag));
  EXPECT_EQ(app::difference_rows(c, "cm")[1].back(), "none that can be told");
}

TEST(CompareReport, ADifferenceThatARulerDoesNotShowIsNone) {
  studies::Comparison c = lesson();
  c.bags.resize(2);
  c.bags[0].result.findings.bottom_sag_m = 0.1200 * 0.0254;  // 1/8 in both
  c.bags[1].result.findings.bottom_sag_m = 0.1290 * 0.0254;
  EXPECT_NE(app::comparison_sentence(c, "in").find(
                "makes no difference to the bottom sag that can be told (1/8 in and 1/8 in)"),
            std::string::npos)
      << app::comparison_sentence(c, "in");
}

TEST(CompareReport, TheTableHoldsValuesAndDifferences) {
  const app::ComparisonTable table = app::comparison_table(lesson(), "cm");
  ASSERT_FALSE(table.rows.empty());
  EXPECT_EQ(table.rows[0].what, "bottom sag, cm");
  EXPECT_EQ(table.rows[0].cells, (std::vector<std::string>{"4.1", "1.8 (-2.3)", "0.14 (-4.0)"}));
  studies::Comparison failed = lesson();
  failed.bags[2].result.findings.empty.status = solver::SolveStatus::kNotConverged;
  EXPECT_EQ(app::comparison_table(failed, "cm").rows[0].cells[2], "-");
}

TEST(CompareReport, ACautionOfAllIsToldOnce) {
  studies::Comparison comparison = lesson();
  comparison.bags[1].result.findings.cautions.push_back("only here");
  EXPECT_EQ(app::comparison_cautions(comparison),
            (std::vector<std::string>{"the same caution", "lesson-2-stabilizer: only here"}));
}

TEST(CompareReport, TheJsonHoldsFindingsAndDifferences) {
  const auto json = nlohmann::json::parse(app::comparison_json(lesson()));
  EXPECT_EQ(json["status"], "converged");
  ASSERT_EQ(json["bags"].size(), 3u);
  EXPECT_DOUBLE_EQ(json["bags"][1]["findings"]["bottom_sag_m"].get<double>(), 0.018);
  EXPECT_NEAR(json["bags"][2]["against_first"]["bottom_sag_m"].get<double>(), 0.0014 - 0.041,
              1e-12);
  studies::Comparison failed = lesson();
  failed.bags[0].result.findings.loaded.status = solver::SolveStatus::kNotConverged;
  const auto other = nlohmann::json::parse(app::comparison_json(failed));
  EXPECT_EQ(other["status"], "not_converged");
  EXPECT_TRUE(other["bags"][1]["against_first"]["bottom_sag_m"].is_null());
}

TEST(ComparePicture, AllBagsHangFromOneLevelAtOneScaleOfColour) {
  const sample::SampleTote one = sample::make_sample();
  sample::SampleTote two = sample::make_sample();
  for (auto& force : two.fields.membrane_force) force *= 3;
  const auto view = [](const sample::SampleTote& s, const char* label) {
    return viz::ComparedView{label, s.tote, s.empty_x_m, s.loaded_x_m, s.fields, 0.02, 0.03, true};
  };
  const viz::Picture alone = viz::compare_picture({view(one, "A")}, "cm");
  const viz::Picture both = viz::compare_picture({view(one, "A"), view(two, "B")}, "cm");
  EXPECT_NEAR(both.bar.high, 3 * alone.bar.high, 1e-9 * both.bar.high);
  std::vector<double> tops;
  for (const viz::DrawnSurface& surface : both.surfaces) {
    if (surface.points.cols() < 100 || !surface.value.empty()) continue;  // straps only
    double top = -1e9;
    for (Eigen::Index i = 0; i < surface.points.cols(); ++i) {
      top = std::max(top, both.view.flat(surface.points.col(i)).y());
    }
    tops.push_back(top);
  }
  ASSERT_EQ(tops.size(), 2u);
  EXPECT_NEAR(tops[0], tops[1], 1e-9);
}

TEST(ComparePicture, LabelsAreWrappedNotLost) {
  EXPECT_EQ(viz::wrapped("short", 10, 2), "short");
  EXPECT_EQ(viz::wrapped("stiff nonwoven", 10, 2), "stiff\nnonwoven");
  EXPECT_EQ(viz::wrapped("lesson-2-stabilizer", 10, 2), "lesson-2-\nstabilizer");
  EXPECT_EQ(viz::wrapped("a b c d e f g h", 5, 2), "a b c\nd ...");
  EXPECT_EQ(viz::wrapped("abcdefghijkl", 5, 3), "abcde\nfghij\nkl");
}

// Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed. 1959, Table 8: deflection
// of a simply supported plate under even load, 0.00406 and 0.01013 q a^4 / D for b / a = 1 and 2.
TEST(Handout, NavierSeriesGivesTheTextbooksPlates) {
  EXPECT_NEAR(app::navier_deflection(1, 1, 1, 1), 0.00406, 0.000005);
  EXPECT_NEAR(app::navier_deflection(1, 1, 2, 1), 0.01013, 0.000005);
  EXPECT_NEAR(app::navier_deflection(3, 0.4, 0.2, 5), 0.01013 * 3 * std::pow(0.2, 4) / 5, 1e-6);
}

TEST(Handout, GuessesArePrintedApartFromAnswersAndAMissingWhyIsExplained) {
  studies::Comparison comparison;
  comparison.bags.resize(1);
  const auto text = [&] {
    return viz::page_html(app::lesson_page(comparison, std::nullopt, "cm", ""));
  };
  const std::string html = text();
  const std::size_t guess = html.find("<h2>Guess first"), look = html.find("<h2>Look");
  ASSERT_NE(guess, std::string::npos);
  ASSERT_NE(look, std::string::npos);
  const std::size_t apart = html.find("<section class=\"new-page\">", guess);
  EXPECT_LT(apart, look);
  EXPECT_NE(html.find(".new-page { break-before: page; }"), std::string::npos);
  EXPECT_NE(html.find("none of these bags has one"), std::string::npos);
  comparison.bags[0].scene.base.kind = scenes::BaseKind::kStitched;
  EXPECT_EQ(text().find("none of these bags has one"), std::string::npos);
  EXPECT_NE(text().find("no base sheet of these bags could be computed alone"), std::string::npos);
}

TEST(Handout, BaseAloneSagsAsTheFormulasSayWhileItSagsLittle) {
  const materials::MaterialLibrary library = materials::MaterialLibrary::load();
  studies::ComparedBag bag;
  bag.scene.bag.width_m = 0.30;
  bag.scene.bag.depth_m = 0.12;
  bag.scene.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 0.004, 0.002, 0};
  bag.scene.contents.mass_kg = 0.01;
  bag.result.findings.empty.status = bag.result.findings.loaded.status =
      solver::SolveStatus::kConverged;
  studies::Comparison comparison;
  comparison.bags.push_back(std::move(bag));
  const auto base = app::base_alone(comparison, library, nullptr);
  ASSERT_TRUE(base);
  ASSERT_EQ(base->held.size(), 2U);
  // The long edges of a strip held at its ends curl a little, which the beam's formula leaves out.
  EXPECT_NEAR(base->held[0].computed_m / base->held[0].formula_m, 1, 0.03);
  EXPECT_NEAR(base->held[1].computed_m / base->held[1].formula_m, 1, 0.005);
  EXPECT_LT(base->held[1].computed_m, base->held[0].computed_m);
}

}  // namespace
}  // namespace totebench
