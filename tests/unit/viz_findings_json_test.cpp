// findings.json: numbers that are there, and those that are not. Real results are held against the
// schema by tests/robustness/app_schemas.sh and the examples.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "app/present/findings_json.hpp"
#include "totebench/studies/sheet_cautions.hpp"

namespace totebench {
namespace {

using nlohmann::json;

studies::HangResult full_result() {
  studies::HangResult result;
  scenes::Findings& found = result.findings;
  found.empty.status = found.loaded.status = solver::SolveStatus::kConverged;
  found.empty.stable = found.loaded.stable = true;
  found.weight_N = 10;
  found.loaded.reaction_N = {0, 0, 10};
  found.bottom_sag_m = 0.02;
  scenes::StrapSeamFinding seam;
  seam.name = "front left";
  seam.peak_stitch_N = 3;
  found.strap_seams = {seam, seam};
  found.strap_seams[1].peak_stitch_N = 5;
  found.strap_seams[0].peak_N_per_m = 80;
  found.triangles = 4;
  found.utilisation.push_back({"thread", "thread", 1, 2, "N", 0.5, "a source", "estimate", true});
  found.other_shape.found = true;
  found.other_shape.starts_tried = 2;
  found.cautions = {"mind this"};
  result.stitch_band = studies::StitchBand{2, 6};
  result.coarse_findings = scenes::Findings();
  studies::DataScatter::Moves moves;
  moves.input = "thickness of a cloth";
  moves.at_low.fill(-0.001);
  moves.at_high.fill(0.002);
  result.data_scatter = studies::DataScatter{{moves}, 0};
  return result;
}

TEST(FindingsJson, WhatASceneExpectsIsReadFromTheFindings) {
  scenes::Scene scene;
  scene.expect = {{"bottom_sag_m", 0.01, 0.03},
                  {"peak_stitch_N", 0, 4},
                  {"no_such_key", 0, 1},
                  {"peak_N_per_m", 70, 90}};
  const json found = json::parse(app::findings_json(scene, full_result()));
  EXPECT_EQ(found["status"], "converged");
  EXPECT_TRUE(found["expectations"][0]["met"].get<bool>());
  EXPECT_EQ(found["expectations"][1]["value"], 5);  // the largest over the strap seams
  EXPECT_FALSE(found["expectations"][1]["met"].get<bool>());
  EXPECT_FALSE(found["expectations"][2]["met"].get<bool>());
  EXPECT_TRUE(found["expectations"][2]["value"].is_null());
  EXPECT_EQ(found["expectations"][3]["value"], 80);
}

// Each headline stands for itself, in what the mesh changes and in its likely range.
TEST(FindingsJson, HeadlinesAreToldWithWhatIsKnownOfThem) {
  const json found = json::parse(app::findings_json(scenes::Scene{}, full_result()));
  int headlines = 0, ranges = 0;
  for (const scenes::Figure& figure : scenes::kFigures) {
    EXPECT_EQ(found.contains(figure.key), figure.is_told(scenes::kToldInFile)) << figure.key;
    if (!figure.headline()) continue;
    ++headlines;
    const bool followed = figure.likely_from == scenes::LikelyFrom::kMaterials;
    EXPECT_EQ(found["mesh_change"].contains(figure.key), followed) << figure.key;
    ranges += static_cast<int>(found["likely_range"].contains(figure.key));
  }
  EXPECT_EQ(headlines, 7);
  EXPECT_EQ(ranges, 6);
  EXPECT_EQ(found["likely_range"]["peak_stitch_N"], (json{{"low", 2}, {"high", 6}}));
  EXPECT_EQ(found["likely_range"]["bottom_sag_m"]["from"][0]["input"], "thickness of a cloth");
  EXPECT_EQ(found["peak_stitch_band_N"], (json{2, 6}));
}

TEST(FindingsJson, OneShapeOfAUse) {
  const json found = json::parse(app::findings_json(scenes::Scene{}, full_result()));
  EXPECT_EQ(found["utilisation"][0], (json{{"mode", "thread"},
                                           {"what", "thread"},
                                           {"demand", 1},
                                           {"capacity", 2},
                                           {"unit", "N"},
                                           {"ratio", 0.5},
                                           {"source", "a source"},
                                           {"grade", "estimate"},
                                           {"drops_load", true}}));
}

TEST(FindingsJson, WithoutEquilibriumThereAreNoHeadlineNumbers) {
  studies::HangResult result = full_result();
  result.findings.loaded.status = solver::SolveStatus::kNotConverged;
  const json found = json::parse(app::findings_json(scenes::Scene{}, result));
  EXPECT_EQ(found["status"], "not_converged");
  for (const char* key : {"bottom_sag_m", "overall_lengthening_m", "strap_drop_empty_m",
                          "strap_drop_loaded_m", "peak_panel_force_N_per_m"}) {
    EXPECT_TRUE(found[key].is_null()) << key;
  }
  EXPECT_TRUE(found["strap_seams"].empty());
  EXPECT_TRUE(found["utilisation"].empty());
}

// A jump is told with its load, beside a caution that names it.
TEST(FindingsJson, JumpsAndRoundOffAreTold) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  studies::SheetHangResult result;
  Eigen::Matrix3Xd corners(3, 3);
  corners << 0, 1, 0, 0, 0, 2, 0, 0, 0;
  result.sheet.model.mesh = solver::second_order_mesh(corners, {{0, 1, 2}});
  solver::State state;
  state.x = result.sheet.model.mesh.position;
  result.steps = {{0.0, state}, {1.0, state}};
  result.report.status = solver::SolveStatus::kConverged;
  result.report.stable = true;
  json found = json::parse(app::findings_json(scene, result));
  EXPECT_TRUE(found["jumps"].empty());
  EXPECT_TRUE(found["cautions"].empty());
  EXPECT_FALSE(found["solve"]["at_round_off"].get<bool>());
  EXPECT_EQ(found["size_m"], (std::vector<double>{1, 2, 0}));
  result.jumps = {{0.36, 0.37, 0.02, 1.5}};
  result.report.at_round_off = true;
  result.report.round_off_relative = 4e-6;
  result.unseen_wrinkles = 0.3;
  result.cautions = studies::sheet_cautions(result);
  found = json::parse(app::findings_json(scene, result));
  EXPECT_EQ(found["jumps"][0]["load_before"], 0.36);
  EXPECT_EQ(found["jumps"][0]["moved_m"], 0.02);
  ASSERT_EQ(found["cautions"].size(), 2u);
  EXPECT_NE(found["cautions"][0].get<std::string>().find("at 36 % of the load"), std::string::npos);
  EXPECT_NE(found["cautions"][1].get<std::string>().find("30 % of the sheet"), std::string::npos);
  EXPECT_EQ(found["unseen_wrinkles"], 0.3);
  EXPECT_TRUE(found["solve"]["at_round_off"].get<bool>());
  EXPECT_EQ(found["solve"]["round_off_relative"], 4e-6);
}

TEST(FindingsJson, ProbesOfASheetCanBeExpected) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scene.sheet.probes = {{"tip.top", {0, 0, 0}}};
  scene.expect = {{"probes.tip.top.displacement_z_m", -0.3, -0.1}};
  studies::SheetHangResult result;
  Eigen::Matrix3Xd corners(3, 3);
  corners << 0, 1, 0, 0, 0, 1, 0, 0, 0;
  result.sheet.model.mesh = solver::second_order_mesh(corners, {{0, 1, 2}});
  result.sheet.probe_nodes = {1};
  solver::State state;
  state.x = result.sheet.model.mesh.position;
  result.steps = {{0.0, state}};
  state.x(2, 1) = -0.2;
  result.steps.push_back({1.0, state});
  result.report.status = solver::SolveStatus::kConverged;
  result.report.stable = true;
  const json found = json::parse(app::findings_json(scene, result));
  EXPECT_TRUE(found["expectations"][0]["met"].get<bool>());
  EXPECT_EQ(found["probes"][0]["steps"].size(), 2u);
  EXPECT_EQ(found["probes"][0]["displacement_m"][2], -0.2);
}

}  // namespace
}  // namespace totebench
