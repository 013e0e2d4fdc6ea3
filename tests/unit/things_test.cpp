// Things in the bag: how they are put in, what is refused, and that a bag carries them.
#include "totebench/scenes/things.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/unit/builder_samples.hpp"
#include "tests/unit/reader_fixture.hpp"
#include "totebench/scenes/findings.hpp"
#include "totebench/scenes/packing.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;
using scenes::Item;
using scenes::ItemShape;
using scenes::ItemWay;

Item box(double length_m, double width_m, double height_m, double mass_kg, int count = 1) {
  Item item;
  item.length_m = length_m;
  item.width_m = width_m;
  item.height_m = height_m;
  item.mass_kg = mass_kg;
  item.friction = 0.4;
  item.count = count;
  return item;
}

scenes::Scene with_items(scenes::Scene scene, std::vector<Item> items) {
  scene.contents.kind = scenes::ContentsKind::kItems;
  scene.contents.items = std::move(items);
  scene.contents.mass_kg = 0;
  for (const Item& item : scene.contents.items) {
    scene.contents.mass_kg += item.count * item.mass_kg;
  }
  return scene;
}

TEST(Things, HaveWholeSizesAndWeighWhatTheirSizeAllows) {
  const auto& things = scenes::ordinary_things();
  for (std::size_t i = 1; i < things.size(); ++i) {
    const Vector3d extent = scenes::extent_of(things[i].item);
    EXPECT_GT(extent.minCoeff(), 0) << things[i].name;
    // Between a lunch box with air in it and glass.
    const double density = things[i].item.mass_kg / extent.prod();
    EXPECT_GT(density, 250) << things[i].name;
    EXPECT_LT(density, 2500) << things[i].name;
    EXPECT_FALSE(things[i].source.empty());
    EXPECT_EQ(things[i].item.what, static_cast<int>(i));
  }
  // Paper of 80 g/m2: 150 leaves of 148 x 210 mm.
  EXPECT_NEAR(things[1].item.mass_kg, 150 * 0.148 * 0.210 * 0.080, 0.02);
}

TEST(Things, LieOrStandAsTheyArePut) {
  Item item = box(0.2, 0.03, 0.15, 1);
  EXPECT_EQ(scenes::extent_of(item), Vector3d(0.2, 0.03, 0.15));
  item.way = ItemWay::kLaidFlat;
  EXPECT_EQ(scenes::extent_of(item), Vector3d(0.2, 0.15, 0.03));
  item.way = ItemWay::kOnEnd;
  EXPECT_EQ(scenes::extent_of(item), Vector3d(0.15, 0.03, 0.2));
}

TEST(Things, ArePackedApartAndWithinTheWalls) {
  const scenes::Scene bag = samples::boxed();  // 38 x 15 cm, 36 high
  for (const auto place : {scenes::ContentsPlace::kAllOver, scenes::ContentsPlace::kOneEnd}) {
    scenes::Scene scene =
        with_items(bag, {box(0.234, 0.028, 0.156, 0.7, 3), box(0.19, 0.14, 0.07, 0.8),
                         box(0.10, 0.30, 0.05, 1), box(0.05, 0.05, 0.05, 0.1, 9)});
    scene.contents.place = place;
    const std::vector<scenes::PackedItem> packed = scenes::pack_items(scene);
    ASSERT_EQ(packed.size(), 14U);
    for (std::size_t i = 0; i < packed.size(); ++i) {
      EXPECT_LE(packed[i].high.cwiseAbs().maxCoeff(), 0.5);
      EXPECT_LT(packed[i].high.x(), 0.19);
      EXPECT_GT(packed[i].low.x(), -0.19);
      EXPECT_LT(packed[i].high.y(), 0.075);
      EXPECT_GT(packed[i].low.y(), -0.075);
      EXPECT_GE(packed[i].low.z(), 0);
      for (std::size_t k = 0; k < i; ++k) {
        const Vector3d between =
            (packed[i].low - packed[k].high).cwiseMax(packed[k].low - packed[i].high);
        EXPECT_GT(between.maxCoeff(), 1.9e-3) << i << " " << k;
      }
    }
    // The third does not fit along the depth as it is listed.
    EXPECT_TRUE(packed[4].turned);
    const double end = packed[0].high.x();
    EXPECT_NEAR(end, place == scenes::ContentsPlace::kOneEnd ? 0.185 : 0.117, 1e-9);
  }
  EXPECT_TRUE(scenes::too_large(bag.bag, {0.2, 0.16, 0.05}));
  EXPECT_FALSE(scenes::too_large(bag.bag, {0.14, 0.36, 0.05}));
}

std::string with_contents(const std::string& contents) {
  return test::changed(test::kTote, R"({ "kind": "even", "mass": "8 kg" })", contents);
}

TEST(Things, AreReadWithWhatIsKnownOfThem) {
  const scenes::ReadResult read = test::read(with_contents(
      R"({ "kind": "items", "items": [ { "what": "hardback book", "count": 3 },
           { "what": "apple", "mass": "200 g" },
           { "shape": "cylinder", "diameter": "8 cm", "height": "30 cm", "mass": "1 kg" } ] })"));
  ASSERT_TRUE(read.scene) << scenes::to_text(read.diagnostics);
  const scenes::Contents& contents = read.scene->contents;
  ASSERT_EQ(contents.items.size(), 3U);
  EXPECT_EQ(contents.items[0].height_m, 0.156);
  EXPECT_EQ(contents.items[1].shape, ItemShape::kSphere);
  EXPECT_NEAR(contents.items[1].mass_kg, 0.2, 1e-12);
  EXPECT_NEAR(contents.items[2].diameter_m, 0.08, 1e-12);
  EXPECT_NEAR(contents.mass_kg, 3 * 0.72 + 0.2 + 1, 1e-12);
  // What is written out is read again.
  const scenes::ReadResult again =
      scenes::read_scene_text(scenes::resolved_json(*read.scene), "again", test::library());
  ASSERT_TRUE(again.scene) << scenes::to_text(again.diagnostics);
  EXPECT_TRUE(again.scene->contents == contents);
}

TEST(Things, ThatCannotBeAreRefusedWithTheirPlace) {
  const auto refused = [](const std::string& contents, const std::string& place,
                          const std::string& words) {
    const scenes::ReadResult read = test::read(with_contents(contents));
    EXPECT_FALSE(read.scene) << contents;
    const std::string all = scenes::to_text(read.diagnostics);
    EXPECT_NE(all.find(words), std::string::npos) << all;
    EXPECT_NE(all.find(place), std::string::npos) << all;
  };
  refused(R"({ "kind": "items", "items": [] })", "/contents/items", "nothing in the bag");
  refused(R"({ "kind": "items", "items": [ { "shape": "ball", "mass": "1 kg" } ] })",
          "/contents/items/0", "needs a diameter");
  refused(R"({ "kind": "items", "items": [ { "what": "laptop 14 in", "way": "laid flat" } ] })",
          "/contents/items/0", "does not go between the walls");
  refused(R"({ "kind": "items", "items": [ { "what": "apple", "length": "3 in" } ] })",
          "/contents/items/0/length", "has no length");
  refused(R"({ "kind": "items", "items": [ { "what": "apple", "friction": -0.1 } ] })",
          "/contents/items/0/friction", "0.01 to 2");
  refused(R"({ "kind": "items", "items": [ { "what": "orange", "count": 40 },
               { "what": "apple" } ] })",
          "/contents/items", "41 things");
  refused(R"({ "kind": "items", "items": [ { "what": "ring folder", "count": 5 } ] })",
          "/contents/items", "out of it, into the straps");
  refused(R"({ "kind": "items", "mass": "3 kg", "items": [ { "what": "apple" } ] })",
          "/contents/mass", "");
  refused(R"({ "kind": "items", "items": [ { "what": "appel" } ] })", "/contents/items/0/what",
          "apple");
}

// The same weight as an even load and as a box that covers most of the base: a stiff base feels
// little of the difference; and the straps bear it all.
TEST(Things, AreCarriedByTheBag) {
  const materials::MaterialLibrary& library = samples::library();
  scenes::Scene scene = samples::small_bag();
  scene.solve.shapes = 0;
  scene.contents.mass_kg = 3;
  const studies::HangResult even = studies::hang_tote(scene, library, nullptr, 0);
  ASSERT_TRUE(even.findings.converged());
  const studies::HangResult one =
      studies::hang_tote(with_items(scene, {box(0.235, 0.085, 0.05, 3)}), library, nullptr, 0);
  ASSERT_TRUE(one.findings.converged());
  const scenes::Findings& found = one.findings;
  EXPECT_EQ(found.surface_crossings, 0);
  EXPECT_NEAR(found.loaded.reaction_N.z(), found.weight_N, 1e-5 * found.weight_N);
  EXPECT_LT(found.loaded.balance_relative, 1e-5);
  ASSERT_EQ(found.things.size(), 1U);
  EXPECT_EQ(found.things[0].what, "box");
  EXPECT_LT(found.things[0].leans_rad, 0.1);
  EXPECT_NEAR(found.strap_drop_lengthening_m, even.findings.strap_drop_lengthening_m, 2e-3);

  // A heavy box at one end of the base: the bag tips that way, and those straps pull harder.
  scenes::Scene at_end = with_items(scene, {box(0.06, 0.08, 0.06, 3)});
  at_end.contents.place = scenes::ContentsPlace::kOneEnd;
  const studies::HangResult tipped = studies::hang_tote(at_end, library, nullptr, 0);
  ASSERT_TRUE(tipped.findings.converged());
  double right = 0, left = 0;
  for (const scenes::StrapSeamFinding& seam : tipped.findings.strap_seams) {
    (seam.name.find("right") != std::string::npos ? right : left) += seam.force_N.z();
  }
  EXPECT_NEAR(left + right, tipped.findings.weight_N, 0.1 * tipped.findings.weight_N);
  EXPECT_GT(std::max(left, right), 1.2 * std::min(left, right));
}

}  // namespace
}  // namespace totebench
