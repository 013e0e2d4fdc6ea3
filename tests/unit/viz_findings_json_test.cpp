// findings.json and its schema describe the same keys.
#include <gtest/gtest.h>

#include <fstream>
#include <nlohmann/json.hpp>

#include "app/present/findings_json.hpp"

namespace totebench {
namespace {

using nlohmann::json;

json schema() {
  std::ifstream file(TOTEBENCH_SOURCE_DIR "/scenes/findings.schema.json");
  return json::parse(file);
}

// Every key of `value` stands in `described`, and every key that is required is there.
void expect_described(const json& value, const json& described, const std::string& where) {
  if (value.is_object()) {
    const bool any_key =
        described.contains("additionalProperties") && described["additionalProperties"].is_object();
    ASSERT_TRUE(any_key || described.contains("properties")) << where;
    for (const auto& [key, below] : value.items()) {
      if (any_key) {
        expect_described(below, described["additionalProperties"], where + "/" + key);
        continue;
      }
      ASSERT_TRUE(described["properties"].contains(key)) << where << "/" << key;
      expect_described(below, described["properties"][key], where + "/" + key);
    }
    for (const json& key : described.value("required", json::array())) {
      EXPECT_TRUE(value.contains(key.get<std::string>())) << where << " lacks " << key;
    }
  } else if (value.is_array() && described.contains("items")) {
    for (const json& item : value) expect_described(item, described["items"], where + "/*");
  }
}

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
  found.utilisation.push_back({"thread", "thread", 1, 2, "N", 0.5, "a source", "estimate", true});
  found.other_shape.found = true;
  found.other_shape.starts_tried = 2;
  found.cautions = {"mind this"};
  result.stitch_band = studies::StitchBand{2, 6};
  result.coarse_findings = scenes::Findings();
  studies::DataScatter::Moves moves;
  moves.input = "thickness of a cloth";
  moves.at_low_m.fill(-0.001);
  moves.at_high_m.fill(0.002);
  result.data_scatter = studies::DataScatter{{moves}, 0};
  return result;
}

TEST(FindingsJson, ATotesKeysAreDescribed) {
  scenes::Scene scene;
  scene.expect = {{"bottom_sag_m", 0.01, 0.03}, {"peak_stitch_N", 0, 4}, {"no_such_key", 0, 1}};
  const json found = json::parse(app::findings_json(scene, full_result()));
  expect_described(found, schema(), "");
  for (const json& key : schema()["then"]["required"]) {
    EXPECT_TRUE(found.contains(key.get<std::string>())) << key;
  }
  EXPECT_EQ(found["status"], "converged");
  EXPECT_TRUE(found["expectations"][0]["met"].get<bool>());
  EXPECT_EQ(found["expectations"][1]["value"], 5);  // the largest over the strap seams
  EXPECT_FALSE(found["expectations"][1]["met"].get<bool>());
  EXPECT_FALSE(found["expectations"][2]["met"].get<bool>());
}

TEST(FindingsJson, WithoutEquilibriumThereAreNoHeadlineNumbers) {
  studies::HangResult result = full_result();
  result.findings.loaded.status = solver::SolveStatus::kNotConverged;
  const json found = json::parse(app::findings_json(scenes::Scene{}, result));
  expect_described(found, schema(), "");
  EXPECT_EQ(found["status"], "not_converged");
  for (const char* key : {"bottom_sag_m", "overall_lengthening_m", "strap_drop_empty_m",
                          "strap_drop_loaded_m", "peak_panel_force_N_per_m"}) {
    EXPECT_TRUE(found[key].is_null()) << key;
  }
  EXPECT_TRUE(found["strap_seams"].empty());
  EXPECT_TRUE(found["utilisation"].empty());
}

TEST(FindingsJson, ASheetsKeysAreDescribedAndProbesCanBeExpected) {
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
  expect_described(found, schema(), "");
  EXPECT_TRUE(found["expectations"][0]["met"].get<bool>());
  EXPECT_EQ(found["probes"][0]["steps"].size(), 2u);
  EXPECT_EQ(found["probes"][0]["displacement_m"][2], -0.2);
}

}  // namespace
}  // namespace totebench
