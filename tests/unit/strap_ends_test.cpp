// Ways to sew a strap on: which are compared, the work of each by hand, bounds on what they hold.
#include "totebench/studies/strap_ends.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "app/present/strap_ends_report.hpp"
#include "builder_samples.hpp"

namespace totebench {
namespace {

const studies::StrapEnd& named(const std::vector<studies::StrapEnd>& ends,
                               const std::string& name) {
  const auto found =
      std::find_if(ends.begin(), ends.end(), [&](const auto& end) { return end.name == name; });
  if (found == ends.end()) throw std::runtime_error("there is no " + name);
  return *found;
}

TEST(StrapEnds, TheSameStrapInEveryPattern) {
  const scenes::Scene scene = samples::boxed();
  const std::vector<studies::StrapEnd> ends = studies::strap_ends_of(scene);
  std::vector<std::string> names;
  for (const studies::StrapEnd& end : ends) {
    names.push_back(end.name);
    EXPECT_EQ(end.strap.material, scene.straps.front().material);
    EXPECT_EQ(end.strap.width_m, scene.straps.front().width_m);
    EXPECT_EQ(end.strap.attachment.thread, scene.straps.front().attachment.thread);
    EXPECT_EQ(end.in_scene, end.name == "box with cross");
    scenes::Scene with = scene;
    with.straps.front() = end.strap;
    EXPECT_EQ(scenes::faults_of(with, samples::library()), "") << end.name;
  }
  EXPECT_EQ(names,
            (std::vector<std::string>{"box with cross", "box", "3 rows across", "2 bartacks",
                                      "2 rivets", "in the turned hem", "down to the base seam",
                                      "box with cross, with a patch"}));
  EXPECT_EQ(named(ends, "in the turned hem").strap.overlap_m, scene.bag.hem_m);
  EXPECT_EQ(named(ends, "down to the base seam").strap.overlap_m, scene.bag.height_m);
}

// A strap of 36 mm is stitched 3.175 mm from its edges: a box of 29.65 by 36 mm, 131.3 mm around,
// with 10 and 12 stitches of 3 mm along its sides, 44 in all. Rules: 2.8 times the length and 0.2 m
// of thread; 60 s, 4 s for each of 4 lines, 0.2 s a stitch.
TEST(StrapEnds, ThreadAndTimeByHand) {
  std::vector<studies::StrapEnd> ends = studies::strap_ends_of(samples::boxed());
  for (studies::StrapEnd& end : ends) studies::add_work(end, samples::library());
  const studies::StrapEnd& box = named(ends, "box");
  EXPECT_EQ(box.fastenings, 44);
  EXPECT_NEAR(box.thread_m, 2.8 * 0.1313 + 0.2, 1e-12);
  EXPECT_NEAR(box.sewing_s, 60 + 4 * 4 + 44 * 0.2, 1e-12);
  const studies::StrapEnd& rivets = named(ends, "2 rivets");
  EXPECT_EQ(rivets.fastenings, 2);
  EXPECT_EQ(rivets.thread_m, 0);
  EXPECT_NEAR(rivets.sewing_s, 60 + 2 * 60, 1e-12);
  const studies::StrapEnd& tacks = named(ends, "2 bartacks");
  EXPECT_NEAR(tacks.sewing_s, 60 + 2 * 10 + 2 * 28 * 0.2, 1e-12);
  const double patch =
      named(ends, "box with cross, with a patch").sewing_s - named(ends, "box with cross").sewing_s;
  EXPECT_NEAR(patch, 90, 1e-12);
}

// Four ends carry bag and contents. Two rivets an end that shared evenly, in shear alone, would
// hold 2 x 500 N (rule rivet_shear): nothing holds more than that. Twice the set load changes
// nothing.
TEST(StrapEnds, NothingHoldsMoreThanItsFastenings) {
  scenes::Scene scene = samples::small_bag();
  scene.mesh.size_m = 0.08;
  const auto compared = [&] {
    return studies::compare_strap_ends(scene, samples::library(), nullptr, 0);
  };
  const studies::StrapEnds ends = compared();
  ASSERT_FALSE(ends.interrupted);
  ASSERT_TRUE(ends.ends.front().known()) << ends.ends.front().why_not;
  ASSERT_NE(ends.of_scene(), nullptr);
  double before = 1e9;
  int known = 0;
  for (const studies::StrapEnd& end : ends.ends) {
    if (!end.known()) continue;
    ++known;
    EXPECT_LE(end.fails.load_factor, before) << "the strongest first";
    before = end.fails.load_factor;
    EXPECT_TRUE(studies::at_strap_end(end.nearest.mode)) << end.nearest.mode;
    if (!end.fails.found) continue;
    EXPECT_TRUE(studies::at_strap_end(end.fails.governing.mode)) << end.fails.governing.mode;
    if (end.fails.at_jump) continue;
    EXPECT_NEAR(end.fails.governing.ratio, 1, 0.01) << end.name;
  }
  EXPECT_GE(known, 6);
  const studies::StrapEnd& rivets = named(ends.ends, "2 rivets");
  ASSERT_TRUE(rivets.known()) << rivets.why_not;
  const double kg = rivets.fails.load_factor * scene.contents.mass_kg;
  EXPECT_LT(kg * 9.80665 / 4, 2 * 500.0);
  EXPECT_GT(kg * 9.80665 / 4, 0.1 * 2 * 500.0);

  scene.contents.mass_kg /= 2;
  const studies::StrapEnds lighter = compared();
  const studies::StrapEnd& again = named(lighter.ends, "2 rivets");
  ASSERT_TRUE(again.known()) << again.why_not;
  EXPECT_NEAR(again.fails.load_factor * scene.contents.mass_kg, kg, 0.02 * kg);
}

studies::StrapEnds made_ends() {
  studies::StrapEnds result;
  result.set_mass_kg = 8;
  const std::vector<studies::StrapEnd> all = studies::strap_ends_of(samples::boxed());
  for (const auto& [name, load] :
       {std::pair("box with cross", 20.0), std::pair("box", 19.5), std::pair("2 rivets", 5.0)}) {
    studies::StrapEnd end = named(all, name);
    studies::add_work(end, samples::library());
    end.nearest.what = end.fails.governing.what = std::string("thread of the ") + name;
    end.nearest.mode = end.fails.governing.mode = "strap_fastening";
    end.nearest.ratio = 1 / load;
    end.fails.found = true;
    end.fails.load_factor = load;
    result.ends.push_back(end);
  }
  studies::StrapEnd none = named(all, "in the turned hem");
  none.why_not = "the bag did not come to rest";
  result.ends.push_back(none);
  return result;
}

// With cross: 131.3 mm of box and two diagonals of 46.64 mm, 224.6 mm of stitching, 6 lines.
TEST(StrapEndsReport, SetsLikeBesideLike) {
  scenes::Scene scene = samples::boxed();
  scene.name = "trial";
  const studies::StrapEnds ends = made_ends();
  EXPECT_EQ(app::strap_ends_sentence(scene, ends, "cm"),
            "trial: of 3 ways to sew the strap on, box with cross and box hold most at the strap's "
            "end, until about 160 kg (thread of the box with cross); no difference between them "
            "that can be told. The least holds 2 rivets: 40 kg (thread of the 2 rivets). As the "
            "scene has it, box with cross: 160 kg. These are typical strengths and no rating; "
            "another part of the bag can fail before.");
  const app::TextTable table = app::strap_ends_table(ends, "cm");
  ASSERT_EQ(table.size(), 5U);
  EXPECT_EQ(table[0],
            (std::vector<std::string>{"sewn on", "of its strength used", "first to go there",
                                      "at about", "thread an end", "sewing an end"}));
  EXPECT_EQ(table[1], (std::vector<std::string>{"box with cross (the scene's)", "5.0 %",
                                                "thread of the box with cross", "160 kg", "0.83 m",
                                                "1.6 min"}));
  EXPECT_EQ(table[3], (std::vector<std::string>{"2 rivets", "20 %", "thread of the 2 rivets",
                                                "40 kg", "none", "3.0 min"}));
  EXPECT_EQ(table[4][2], "the bag did not come to rest");
  for (const auto& row : table) {
    for (const std::string& cell : row) EXPECT_EQ(cell.find(" N"), std::string::npos) << cell;
  }
}

std::size_t count_of(const std::string& text, const std::string& what) {
  std::size_t n = 0;
  for (std::size_t at = text.find(what); at != std::string::npos; at = text.find(what, at + 1)) ++n;
  return n;
}

// 36 mm of strap are 120 px in every drawing: a rivet's cap of 9 mm is 30 px across.
TEST(StrapEndsReport, DrawsAllAtOneScale) {
  std::vector<viz::StrapEndPlan> plans;
  for (const studies::StrapEnd& end : studies::strap_ends_of(samples::boxed())) {
    plans.push_back({end.name, {}, end.strap, 0.03, false});
  }
  const viz::StrapEndScale scale = viz::scale_for(plans);
  EXPECT_NEAR(scale.px_per_m, 120 / 0.036, 1e-6);
  for (const viz::StrapEndPlan& plan : plans) {
    const std::string svg = viz::strap_end_svg(plan, scale, "in");
    EXPECT_EQ(count_of(svg, "width=\"120.0\""), 1U) << plan.title;
    const bool rivets = plan.title == "2 rivets";
    EXPECT_EQ(count_of(svg, "r=\"15.0\""), rivets ? 2U : 0U) << plan.title;
    EXPECT_EQ(count_of(svg, "patch behind"), plan.strap.attachment.patch ? 1U : 0U);
    EXPECT_EQ(count_of(svg, "<polyline"), plan.title == "down to the base seam" ? 2U : 0U);
  }
  EXPECT_EQ(count_of(viz::strap_ends_svg(plans, "in"), "<g "), plans.size());
}

}  // namespace
}  // namespace totebench
