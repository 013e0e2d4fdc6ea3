// A sweep's bags: hung, kept, and told from each other. What a bag is kept as.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <mutex>

#include "app/studies/sweep/bag_text.hpp"
#include "reader_fixture.hpp"
#include "totebench/studies/sweep.hpp"

namespace totebench {
namespace {

using studies::Swept;
using studies::SweptBag;

TEST(SweptBags, AreReadBackToTheLastBitAndACutTextIsNot) {
  SweptBag bag;
  bag.state = Swept::kAtRest;
  for (std::size_t f = 0; f < bag.figures.size(); ++f) {
    bag.figures[f] = 1.0 / (3.0 + static_cast<double>(f));
  }
  bag.figures[2] = std::nan("");
  bag.figures[3] = -1e-300;
  bag.strength_used = 0.1 + 0.2;
  bag.strength_used_where = "cloth of the \"front\", left .";
  bag.drops_load = true;
  const std::string text = studies::bag_text(bag);
  EXPECT_EQ(text.find('\n'), std::string::npos);
  SweptBag back;
  back.values = {{"4 kg", 4}};
  EXPECT_FALSE(studies::take_bag(text.substr(0, text.size() - 1), back));
  EXPECT_FALSE(studies::take_bag("[true]", back));
  EXPECT_EQ(back.state, Swept::kNotHung);
  ASSERT_TRUE(studies::take_bag(text, back));
  EXPECT_EQ(back.values.size(), 1u) << "its values are its own";
  EXPECT_TRUE(back.at_rest());
  for (std::size_t f = 0; f < bag.figures.size(); ++f) {
    if (f == 2) {
      EXPECT_TRUE(std::isnan(back.figures[f]));
    } else {
      EXPECT_EQ(back.figures[f], bag.figures[f]) << f;
    }
  }
  EXPECT_EQ(back.strength_used, bag.strength_used);
  EXPECT_EQ(back.strength_used_where, bag.strength_used_where);
  EXPECT_TRUE(back.drops_load);
  SweptBag lost;
  lost.state = Swept::kNoRest;
  lost.why = "why";
  ASSERT_TRUE(studies::take_bag(studies::bag_text(lost), back));
  EXPECT_EQ(back.state, Swept::kNoRest);
  EXPECT_EQ(back.why, "why");
}

// Stiff, with few triangles and few stitches: a bag takes a fraction of a second.
const std::string kQuick = R"({
  "schema_version": 1, "kind": "tote", "name": "quick",
  "bag": { "shape": "boxed", "width": "30 cm", "height": "25 cm", "depth": "12 cm" },
  "layers": { "upper": [ { "material": "cotton_duck_12oz" },
                         { "material": "stabilizer_nonwoven_1mm", "join": "sewn at edges" } ] },
  "straps": { "style": "two handles", "material": "web_cotton_25", "width": "25 mm",
              "length": "40 cm", "spacing": "12 cm",
              "attachment": { "pattern": "rows", "rows": 2, "length": "24 mm", "stitch_length": "9 mm" } },
  "base": { "kind": "stitched in", "material": "hdpe_sheet", "thickness": "2 mm" },
  "contents": { "kind": "even", "mass": "3 kg" },
  "mesh": { "size": "100 mm" },
  "solve": { "load_steps": 1, "shapes": 0, "contact": false },
  "sweep": { "factors": [
    { "key": "base.thickness", "levels": ["2 mm", "4 mm"] },
    { "key": "straps.spacing", "levels": ["12 cm", "26 cm"] },
    { "key": "bag.width", "levels": ["30 cm", "28 cm"] } ] }
})";

TEST(SweepStudy, HangsWhatCanBeMadeAndSaysOfTheRestWhyNot) {
  const scenes::ReadResult read = test::read(kQuick);
  ASSERT_TRUE(read.scene) << scenes::to_text(read.diagnostics);
  std::map<std::string, std::string> store;
  std::mutex guard;
  studies::SweepOptions options;
  options.coarse = true;
  options.kept.on_keep = [&](const std::string& key, const std::string& text) {
    const std::lock_guard<std::mutex> lock(guard);
    store[key] = text;
  };
  const auto run = [&] {
    return studies::sweep_totes(*read.scene->sweep, read.sweep, test::library(), options, {});
  };
  const studies::SweepResult result = run();
  ASSERT_EQ(result.bags.size(), 8u);
  EXPECT_FALSE(result.interrupted);
  EXPECT_EQ(result.count(Swept::kAtRest), 6);
  EXPECT_EQ(result.count(Swept::kImpossible), 2) << "straps at 26 cm do not fit on 28 cm";
  EXPECT_EQ(result.bags[3].state, Swept::kImpossible);
  EXPECT_NE(result.bags[3].why, "");
  EXPECT_EQ(store.size(), 6u);
  const auto sag = [&](std::size_t bag) { return result.bags[bag].figures[0]; };
  EXPECT_GT(sag(0), sag(4)) << "a base twice as thick sags less";
  EXPECT_GT(result.bags[0].strength_used, 0);
  // By hand: bag 0 is the scene itself.
  scenes::Scene scene = *read.scene;
  scene.solve.shapes = 0;
  const studies::HangResult hung =
      studies::hang_tote(scene, scenes::library_of(scene, test::library()), {}, 0);
  for (std::size_t f = 0; f < scenes::kFigures.size(); ++f) {
    EXPECT_EQ(result.bags[0].figures[f], scenes::kFigures[f].value(hung.findings))
        << scenes::kFigures[f].key;
  }
  // What was kept is taken over, to the last bit, and nothing hung again.
  int hung_again = 0;
  options.kept.on_find = [&](const std::string& key) -> std::optional<std::string> {
    const auto it = store.find(key);
    return it == store.end() ? std::nullopt : std::optional(it->second);
  };
  options.kept.on_keep = [&](const std::string&, const std::string&) { ++hung_again; };
  const studies::SweepResult again = run();
  EXPECT_EQ(hung_again, 0);
  for (std::size_t i = 0; i < 8; ++i) {
    EXPECT_EQ(studies::bag_text(again.bags[i]), studies::bag_text(result.bags[i])) << i;
  }
  // A finer mesh is another piece of work.
  options.coarse = false;
  int stopped_after = 0;
  const studies::SweepResult stopped =
      studies::sweep_totes(*read.scene->sweep, read.sweep, test::library(), options,
                           [&](const studies::HangProgress&) { return ++stopped_after < 12; });
  EXPECT_TRUE(stopped.interrupted);
  EXPECT_EQ(stopped.count(Swept::kAtRest), 0);
  EXPECT_EQ(stopped.count(Swept::kNotHung), 6);
}

}  // namespace
}  // namespace totebench
