// What would move the headlines beside the materials: which changes are looked at, that each is the
// changed bag hung by itself, and how they are told.
#include "totebench/studies/circumstances.hpp"

#include <gtest/gtest.h>

#include "app/present/circumstances_table.hpp"
#include "builder_samples.hpp"
#include "totebench/materials/ageing.hpp"

namespace totebench {
namespace {

constexpr const scenes::Figure& kSagFigure = scenes::figure_of<&scenes::Findings::bottom_sag_m>();
constexpr const scenes::Figure& kStitchFigure = scenes::figure_of(scenes::peak_stitch_N);

using Words = std::vector<std::string>;

Words what_changes(const scenes::Scene& scene) {
  const materials::MaterialLibrary library =
      materials::under_load(samples::library(), scene.contents.carried_for_s);
  Words words;
  for (const auto& changed :
       studies::changed_circumstances(scene, scenes::build_tote(scene, library, 0))) {
    words.push_back(changed.what);
  }
  return words;
}

TEST(Circumstances, AreThoseThatTheSceneLeavesOpen) {
  scenes::Scene scene = samples::small_bag();
  EXPECT_EQ(what_changes(scene),
            (Words{"the load in the middle of the base", "the load at one end of the base",
                   "goods that fill the bag", "on a peg, not in a hand", "after a minute",
                   "after a day"}));
  scene.base = {};
  scene.support.kind = scenes::SupportKind::kHook;
  scene.layers["upper"].push_back({"quilting_cotton", scenes::LayerJoin::kSewnAtEdges});
  scene.contents.kind = scenes::ContentsKind::kLoose;
  scene.contents.bulk_density_kg_per_m3 = 1500;
  EXPECT_EQ(what_changes(scene),
            (Words{"a flat load on the base", "in a hand, not on a peg",
                   "all layers fused to each other", "all layers loose on each other"}));
}

// Each row is the changed bag hung by itself; its walls may buckle in other ways when the load
// rises from nothing, which moves the sag by less than a hundredth of itself. The base of a bag
// loaded at one end or in its middle bends more than under the same load all over; a plastic sheet
// gives more the longer it is loaded.
TEST(Circumstances, AreTheChangedBagsHung) {
  scenes::Scene scene = samples::small_bag();
  scene.solve.shapes = 0;
  const materials::MaterialLibrary library =
      materials::under_load(samples::library(), scene.contents.carried_for_s);
  const studies::HangResult hung = studies::hang_tote(scene, library, nullptr, 0);
  const auto circumstances = studies::circumstances(scene, library, hung, nullptr);
  ASSERT_TRUE(circumstances);
  const auto sag = [&](const std::string& what) {
    for (const studies::Circumstance& c : *circumstances) {
      if (c.what == what && c.moved) return (*c.moved)[scenes::place_of(kSagFigure)];
    }
    ADD_FAILURE() << what;
    return 0.0;
  };
  scenes::Scene one_end = scene;
  one_end.contents.place = scenes::ContentsPlace::kOneEnd;
  EXPECT_NEAR(sag("the load at one end of the base"),
              studies::hang_tote(one_end, library, nullptr, 0).findings.bottom_sag_m -
                  hung.coarse_findings->bottom_sag_m,
              0.01 * (hung.coarse_findings->bottom_sag_m + sag("the load at one end of the base")));
  EXPECT_GT(sag("the load at one end of the base"), 0);
  EXPECT_GT(sag("the load in the middle of the base"), 0);
  EXPECT_GT(sag("after a day"), 0);
  EXPECT_LT(sag("after a minute"), 0);
}

studies::HangResult by_hand() {
  studies::HangResult hung;
  hung.coarse_findings = scenes::Findings();
  hung.coarse_findings->strap_seams.resize(1);
  hung.coarse_findings->strap_seams[0].peak_stitch_N = 2;
  hung.circumstances.emplace();
  const auto add = [&](const char* what, double sag_m, double stitch_N) {
    studies::Circumstance& c = hung.circumstances->emplace_back();
    c.what = what;
    c.moved.emplace();
    (*c.moved)[scenes::place_of(kSagFigure)] = sag_m;
    (*c.moved)[scenes::place_of(kStitchFigure)] = stitch_N;
  };
  add("nothing", 0.00005, 0.01);
  add("up", 0.004, -0.5);
  add("down", -0.012, 1);
  hung.circumstances->push_back({"none", {}});
  return hung;
}

TEST(Circumstances, TellWhatMovesTheBagAndNothingElse) {
  const studies::HangResult hung = by_hand();
  const app::TextTable rows = app::circumstance_rows(hung, "cm");
  ASSERT_EQ(rows.size(), 4U);
  EXPECT_EQ(rows[1], (Words{"up", "+4.0 mm", "-", "-", "-25 %"}));
  EXPECT_EQ(rows[2], (Words{"down", "-1.2 cm", "-", "-", "+50 %"}));
  EXPECT_EQ(rows[3], (Words{"none", "no rest found"}));
  studies::HangResult slight = hung;
  (*slight.circumstances->at(1).moved)[scenes::place_of(kSagFigure)] = 0.0003;
  EXPECT_EQ(app::circumstance_rows(slight, "in")[1][1], "under 1/32 in more");
  EXPECT_EQ(studies::moves_most(*hung.circumstances, kSagFigure, 0)->what, "down");
  EXPECT_EQ(studies::moves_most(*hung.circumstances, kSagFigure, 0.02), nullptr);
  EXPECT_NE(app::circumstance_sentence(hung, "cm").find("\"down\": -1.2 cm"), std::string::npos);
  EXPECT_TRUE(app::circumstance_rows(studies::HangResult(), "cm").empty());
}

}  // namespace
}  // namespace totebench
