// Good scenes: defaults, what follows from other values, and the way there and back.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "reader_fixture.hpp"
#include "scenes/format/keys/keys.hpp"
#include "tests/support/source_folder.hpp"
#include "totebench/scenes/explain.hpp"
#include "totebench/scenes/schema.hpp"

namespace totebench {
namespace {

using test::changed;
using test::kSheet;
using test::kTote;
using test::library;
using test::read;

scenes::Scene good(const std::string& text) {
  scenes::ReadResult result = read(text);
  EXPECT_TRUE(result.diagnostics.empty()) << scenes::to_text(result.diagnostics);
  if (!result.scene) throw std::runtime_error(scenes::to_text(result.diagnostics));
  return *result.scene;
}

void expect_same(const scenes::Scene& a, const scenes::Scene& b) {
  EXPECT_EQ(a.schema_version, b.schema_version);
  EXPECT_EQ(a.kind, b.kind);
  EXPECT_EQ(a.name, b.name);
  EXPECT_EQ(a.note, b.note);
  EXPECT_EQ(a.units, b.units);
  EXPECT_TRUE(a.bag == b.bag);
  EXPECT_TRUE(a.layers == b.layers);
  EXPECT_TRUE(a.seams == b.seams);
  EXPECT_TRUE(a.straps == b.straps);
  EXPECT_TRUE(a.base == b.base);
  EXPECT_TRUE(a.feet == b.feet);
  EXPECT_TRUE(a.contents == b.contents);
  EXPECT_TRUE(a.support == b.support);
  EXPECT_TRUE(a.sheet == b.sheet);
  EXPECT_TRUE(a.mesh == b.mesh);
  EXPECT_TRUE(a.solve == b.solve);
  EXPECT_TRUE(a.expect == b.expect);
  EXPECT_EQ(a.own_material_like, b.own_material_like);
  ASSERT_EQ(a.own_materials.size(), b.own_materials.size());
  for (std::size_t i = 0; i < a.own_materials.size(); ++i) {
    const materials::Material& m = a.own_materials[i];
    const materials::Material& n = b.own_materials[i];
    EXPECT_EQ(m.id, n.id);
    EXPECT_EQ(m.name, n.name);
    EXPECT_EQ(m.category, n.category);
    EXPECT_EQ(m.note, n.note);
    ASSERT_EQ(m.properties.size(), n.properties.size());
    for (const auto& [name, q] : m.properties) {
      const materials::Quantity& r = n.get(name);
      EXPECT_EQ(q.value, r.value) << name;
      EXPECT_EQ(q.low, r.low) << name;
      EXPECT_EQ(q.high, r.high) << name;
      EXPECT_EQ(q.unit, r.unit) << name;
      EXPECT_EQ(q.source, r.source) << name;
      EXPECT_EQ(q.grade, r.grade) << name;
      EXPECT_EQ(q.note, r.note) << name;
      EXPECT_EQ(q.bound, r.bound) << name;
    }
  }
}

std::vector<std::filesystem::path> examples() {
  std::vector<std::filesystem::path> files;
  for (const auto& entry :
       std::filesystem::directory_iterator(test::source_folder() / "scenes" / "examples")) {
    if (entry.path().extension() == ".json") files.push_back(entry.path());
  }
  return files;
}

TEST(Reader, ValuesAndDefaultsOfATote) {
  const scenes::Scene scene = good(kTote);
  EXPECT_EQ(scene.kind, scenes::SceneKind::kTote);
  EXPECT_EQ(scene.bag.shape, scenes::BagShape::kBoxed);
  EXPECT_EQ(scene.bag.width_m, 16 * 254 / 10000.0);
  EXPECT_EQ(scene.bag.seam_allowance_m, 0.0127);
  EXPECT_EQ(scene.bag.hem_m, 0.0254);
  EXPECT_EQ(scene.bag.upper_height_m, 0);
  EXPECT_EQ(scene.seams.stitch_type, "301");
  EXPECT_EQ(scene.seams.stitch_length_m, 0.0025);
  EXPECT_FALSE(scene.seams.hinge_stiffness_N.has_value());
  ASSERT_EQ(scene.straps.size(), 1u);
  EXPECT_EQ(scene.straps[0].plies, 1);
  EXPECT_EQ(scene.straps[0].attachment.pattern, scenes::AttachmentPattern::kBoxCross);
  EXPECT_EQ(scene.base.kind, scenes::BaseKind::kNone);
  EXPECT_EQ(scene.support.kind, scenes::SupportKind::kHand);
  EXPECT_EQ(scene.contents.mass_kg, 8);
  EXPECT_EQ(scene.solve.load_steps, 4);
}

TEST(Reader, WhatFollowsFromOtherValues) {
  const scenes::Scene scene = good(kTote);
  const scenes::Strap& strap = scene.straps[0];
  EXPECT_DOUBLE_EQ(strap.spacing_m, scene.bag.width_m / 3 + strap.width_m);
  EXPECT_DOUBLE_EQ(strap.attachment.length_m, 0.0254);
  EXPECT_DOUBLE_EQ(strap.overlap_m,
                   strap.attachment.top_offset_m + strap.attachment.length_m + 0.00635);
  ASSERT_EQ(scene.layers.at("lower").size(), 2u);
  EXPECT_TRUE(scene.layers.at("lower") == scene.layers.at("upper"));
  EXPECT_TRUE(scene.layers.at("base") == scene.layers.at("upper"));
  EXPECT_TRUE(scene.layers.at("hem").empty());
  EXPECT_GT(scene.mesh.size_m, 0.015);
  EXPECT_LT(scene.mesh.size_m, 0.040);
}

TEST(Reader, LowerIsCopiedToTheBaseWhenItDiffersFromUpper) {
  std::string text =
      changed(kTote, "\"depth\": \"6 in\"", "\"depth\": \"6 in\", \"upper_height\": \"5 in\"");
  text = changed(text, "\"layers\": {",
                 "\"layers\": { \"lower\": [ { \"material\": \"cotton_duck_10oz\" } ],");
  const scenes::Scene scene = good(text);
  ASSERT_EQ(scene.layers.at("base").size(), 1u);
  EXPECT_EQ(scene.layers.at("base")[0].material, "cotton_duck_10oz");
}

TEST(Reader, ValuesOfASheet) {
  const scenes::Scene scene = good(kSheet);
  EXPECT_EQ(scene.sheet.geometry.length_m, 0.2);
  ASSERT_EQ(scene.sheet.supports.size(), 1u);
  EXPECT_TRUE(scene.sheet.supports[0].clamp);
  EXPECT_TRUE(scene.sheet.supports[0].fix[2]);
  ASSERT_EQ(scene.sheet.probes.size(), 1u);
  EXPECT_EQ(scene.sheet.probes[0].point_m.x(), 0.2);
  EXPECT_TRUE(scene.straps.empty());
}

TEST(Reader, PublishedUnitFreeProblemInSi) {
  // The numbers of a common shell test (Sze, Liu, Lo 2004, section 3.1): E = 1.2e6, L = 10, h = 0.1
  const scenes::Scene scene = good(R"({
    "schema_version": 1, "kind": "sheet", "name": "cantilever",
    "sheet": { "shape": "rectangle", "length": "10 m", "width": "1 m",
      "plain": { "youngs_modulus": "1.2e6 Pa", "poisson_ratio": 0.0, "thickness": "0.1 m" } },
    "supports": [ { "where": "x0", "fix": "xyz", "clamp": true } ],
    "loads": [ { "kind": "edge force", "where": "x1",
                 "force_per_length": ["0 N/m", "0 N/m", "4 N/m"] } ],
    "probes": [ { "name": "tip", "point": ["10 m", "0 m", "0 m"] } ],
    "mesh": { "size": "0.5 m" },
    "expect": { "tip.z": ["6.5 m", "6.8 m"] } })");
  ASSERT_TRUE(scene.sheet.plain.has_value());
  EXPECT_EQ(scene.sheet.plain->youngs_modulus_Pa, 1.2e6);
  EXPECT_EQ(scene.sheet.loads[0].vector.z(), 4);
  ASSERT_EQ(scene.expect.size(), 1u);
  EXPECT_EQ(scene.expect[0].key, "probes.tip.displacement_z_m");
  EXPECT_EQ(scene.expect[0].high, 6.8);
  expect_same(scene, good(scenes::resolved_json(scene)));
}

TEST(Reader, ExpectationsOfATote) {
  const scenes::Scene scene = good(changed(
      kTote, "\"contents\"",
      "\"expect\": { \"bottom_sag\": [\"10 mm\", \"3 cm\"], \"peak_stitch\": [\"1 N\", \"9 N\"] },"
      " \"contents\""));
  ASSERT_EQ(scene.expect.size(), 2u);
  EXPECT_EQ(scene.expect[0].key, "bottom_sag_m");
  EXPECT_EQ(scene.expect[0].low, 0.01);
  EXPECT_EQ(scene.expect[0].high, 0.03);
  EXPECT_EQ(scene.expect[1].key, "peak_stitch_N");
  expect_same(scene, good(scenes::resolved_json(scene)));
}

TEST(Reader, OwnMaterials) {
  std::string text = changed(kTote, "\"contents\"", R"("materials": {
    "attic_cotton": { "like": "quilting_cotton", "name": "cotton from the attic",
      "areal_mass": "5 oz/yd2",
      "bending_rigidity_warp": { "value": "9 uN m", "low": "7 uN m", "high": "12 uN m",
                                 "source": "own strip test" } } },
  "contents")");
  text =
      changed(text, "{ \"material\": \"quilting_cotton\" }", "{ \"material\": \"attic_cotton\" }");
  const scenes::Scene scene = good(text);
  const materials::MaterialLibrary all = scenes::library_of(scene, library());
  const materials::Material* own = all.find("attic_cotton");
  ASSERT_NE(own, nullptr);
  EXPECT_EQ(library().find("attic_cotton"), nullptr);
  EXPECT_NEAR(own->get("areal_mass").value, 5 * 0.03390575, 1e-7);
  EXPECT_DOUBLE_EQ(own->get("bending_rigidity_warp").high, 12e-6);
  EXPECT_EQ(own->get("thickness").value, library().find("quilting_cotton")->get("thickness").value);
  expect_same(scene, good(scenes::resolved_json(scene)));
}

// Half an hour unless the scene says otherwise; a sheet of one's own creeps in proportion.
TEST(Reader, TheSceneSaysHowLongTheBagHangs) {
  const auto sheet = [](const scenes::Scene& scene, const char* id) {
    return scenes::library_of(scene, library()).find(id)->get("youngs_modulus").value;
  };
  EXPECT_EQ(good(kTote).contents.carried_for_s, 1800);
  EXPECT_EQ(sheet(good(kTote), "hdpe_sheet"), 565e6);
  std::string text = changed(kTote, "\"contents\": {", "\"contents\": { \"carried_for\": \"2 h\",");
  text = changed(text, "\"contents\"", R"("materials": {
    "attic_board": { "like": "hdpe_sheet", "youngs_modulus": "1.8 GPa" } }, "contents")");
  const scenes::Scene scene = good(text);
  EXPECT_EQ(scene.contents.carried_for_s, 7200);
  // 565 MPa 4^-0.075, and twice that
  EXPECT_NEAR(sheet(scene, "hdpe_sheet"), 509.2e6, 0.1e6);
  EXPECT_NEAR(sheet(scene, "attic_board"), 2 * sheet(scene, "hdpe_sheet"), 1);
  expect_same(scene, good(scenes::resolved_json(scene)));
}

// A base sheet of a time that is none would have a stiffness that is none.
TEST(Reader, ATimeThatCannotBeReadIsToldOnce) {
  std::string text =
      changed(kTote, "\"contents\": {", "\"contents\": { \"carried_for\": \"yesterday\",");
  text = changed(text, "\"contents\"",
                 R"("base": { "kind": "stitched in", "material": "hdpe_sheet" }, "contents")");
  const scenes::ReadResult result = read(text);
  ASSERT_EQ(result.diagnostics.size(), 1u) << scenes::to_text(result.diagnostics);
  EXPECT_EQ(result.diagnostics[0].pointer, "/contents/carried_for");
}

// The library gives quilting cotton a rigidity for each direction.
TEST(Reader, AnOwnPropertyForBothDirectionsReplacesThoseOfItsModel) {
  ASSERT_NE(library().find("quilting_cotton")->find("bending_rigidity_warp"), nullptr);
  std::string text = changed(kTote, "\"contents\"", R"("materials": {
    "attic_cotton": { "like": "quilting_cotton", "bending_rigidity": "50 uN m" } },
  "contents")");
  text =
      changed(text, "{ \"material\": \"quilting_cotton\" }", "{ \"material\": \"attic_cotton\" }");
  const scenes::Scene scene = good(text);
  const materials::MaterialLibrary all = scenes::library_of(scene, library());
  for (const bool warp : {true, false}) {
    EXPECT_DOUBLE_EQ(all.find("attic_cotton")->directional("bending_rigidity", warp)->value, 50e-6);
  }
  expect_same(scene, good(scenes::resolved_json(scene)));
}

TEST(Reader, AMeshFileIsFoundBesideItsScene) {
  const auto folder = std::filesystem::temp_directory_path() / "totebench_reader_test";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "patch.obj") << "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n";
  std::ofstream(folder / "patch.json") << changed(
      changed(kSheet, "\"shape\": \"strip\", \"length\": \"200 mm\", \"width\": \"25 mm\"",
              "\"shape\": \"file\", \"file\": \"patch.obj\""),
      "\"where\": \"x0\"", "\"where\": \"border\"");
  const scenes::ReadResult result = scenes::read_scene(folder / "patch.json", library());
  EXPECT_TRUE(result.diagnostics.empty()) << scenes::to_text(result.diagnostics);
  ASSERT_TRUE(result.scene.has_value());
  EXPECT_TRUE(std::filesystem::exists(result.scene->sheet.geometry.file));
  std::filesystem::remove_all(folder);
}

// Edges of 1.14 m on average, halved 11 times, are 0.56 mm: below 1.41 times 0.5 mm. One triangle
// is then 4^11 = 4.2e6; of 4^9 = 262144 and 2 mm there is room.
TEST(Reader, AMeshFileSplitFinerThanFits_IsRefusedWithPlaceAndCure) {
  const auto folder = std::filesystem::temp_directory_path() / "totebench_reader_split_test";
  std::filesystem::create_directories(folder);
  std::ofstream(folder / "patch.obj") << "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n";
  const auto told = [&](const std::string& size) {
    std::ofstream(folder / "patch.json") << changed(
        changed(
            changed(kSheet, "\"shape\": \"strip\", \"length\": \"200 mm\", \"width\": \"25 mm\"",
                    "\"shape\": \"file\", \"file\": \"patch.obj\""),
            "\"where\": \"x0\"", "\"where\": \"border\""),
        "\"supports\"", "\"mesh\": { \"size\": \"" + size + "\" },\n  \"supports\"");
    return scenes::to_text(scenes::read_scene(folder / "patch.json", library()).diagnostics);
  };
  EXPECT_EQ(told("2 mm"), "");
  const std::string text = told("0.5 mm");
  EXPECT_NE(text.find("patch.json:9:21: error: the 1 triangles of the mesh file, split until they "
                      "are this fine, are about 4.2e+06, more than fit"),
            std::string::npos)
      << text;
  EXPECT_NE(text.find("\"2 mm\" or more can be solved"), std::string::npos) << text;
  std::ofstream(folder / "patch.obj") << "v 0 0 0\nv 1 0 0\nv 2 0 0\nf 1 2 3\n";
  EXPECT_NE(told("2 mm").find("patch.json:6:30: error: "), std::string::npos) << told("2 mm");
  std::filesystem::remove_all(folder);
}

TEST(Reader, ExamplesReadCleanAndComeBackTheSame) {
  ASSERT_GE(examples().size(), 9u);
  for (const auto& file : examples()) {
    const scenes::ReadResult result = scenes::read_scene(file, library());
    EXPECT_TRUE(result.diagnostics.empty()) << scenes::to_text(result.diagnostics);
    ASSERT_TRUE(result.scene.has_value()) << file;
    EXPECT_EQ(result.scene->name, file.stem().string()) << "results go to a folder of this name";
    const scenes::ReadResult again = read(scenes::resolved_json(*result.scene));
    EXPECT_TRUE(again.diagnostics.empty()) << file << scenes::to_text(again.diagnostics);
    ASSERT_TRUE(again.scene.has_value()) << file;
    expect_same(*result.scene, *again.scene);
  }
}

TEST(Reader, ExamplesOfTheLessonDifferOnlyInWhatIsTaught) {
  const auto folder = test::source_folder() / "scenes" / "examples";
  const scenes::Scene a = *scenes::read_scene(folder / "lesson-1-fusible.json", library()).scene;
  const scenes::Scene b = *scenes::read_scene(folder / "lesson-2-stabilizer.json", library()).scene;
  const scenes::Scene c = *scenes::read_scene(folder / "lesson-3-base.json", library()).scene;
  for (const scenes::Scene* other : {&b, &c}) {
    EXPECT_TRUE(a.bag == other->bag);
    EXPECT_TRUE(a.straps == other->straps);
    EXPECT_TRUE(a.contents == other->contents);
    EXPECT_TRUE(a.support == other->support);
    EXPECT_TRUE(a.mesh == other->mesh);
  }
  EXPECT_TRUE(b.layers == c.layers);
  EXPECT_EQ(a.base.kind, scenes::BaseKind::kNone);
  EXPECT_EQ(b.base.kind, scenes::BaseKind::kNone);
  EXPECT_EQ(c.base.kind, scenes::BaseKind::kStitched);
}

TEST(Schema, TheFileIsWhatTheTablesSay) {
  const auto path = test::source_folder() / "scenes" / "scene.schema.json";
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  EXPECT_TRUE(text.str() == scenes::scene_schema_json())
      << "run: totebench explain --schema > scenes/scene.schema.json";
}

// Every quantity's default must lie within its own usual range, and every key must say what it is.
void check_table(const scenes::KeyTable& table, std::vector<const scenes::KeyTable*>& seen) {
  for (const scenes::KeyTable* t : seen) {
    if (t == &table) return;
  }
  seen.push_back(&table);
  for (const scenes::Key& key : table.keys) {
    EXPECT_FALSE(key.doc.empty()) << table.name << "." << key.name;
    if (key.presence != scenes::Presence::kRequired) {
      EXPECT_FALSE(key.default_text.empty()) << table.name << "." << key.name;
    }
    const bool value =
        key.presence == scenes::Presence::kDefault && key.type != scenes::KeyType::kObject;
    if (value) {
      EXPECT_FALSE(key.source.empty()) << table.name << "." << key.name;
    }
    if (value && key.type == scenes::KeyType::kQuantity) {
      const scenes::QuantityResult parsed = scenes::parse_quantity(key.default_text, key.dimension);
      ASSERT_TRUE(parsed.quantity.has_value()) << table.name << "." << key.name;
      EXPECT_TRUE(key.plausible.contains(parsed.quantity->si)) << table.name << "." << key.name;
      EXPECT_TRUE(key.possible.contains(parsed.quantity->si)) << table.name << "." << key.name;
    }
    EXPECT_LE(key.possible.low, key.plausible.low == -INFINITY ? INFINITY : key.plausible.low)
        << table.name << "." << key.name;
    if (key.children != nullptr) check_table(*key.children, seen);
  }
}

TEST(Keys, EveryKeyHasAMeaningAndASoundDefault) {
  std::vector<const scenes::KeyTable*> seen;
  check_table(scenes::scene_keys(), seen);
  EXPECT_GE(seen.size(), 16u);
}

TEST(Explain, OneKeyByEveryWayOfNamingIt) {
  for (const char* name : {"bag.width", "/bag/width"}) {
    const scenes::Explanation told = scenes::explain(name);
    ASSERT_TRUE(told.found) << name;
    EXPECT_NE(told.text.find("bag.width\n"), std::string::npos);
    EXPECT_NE(told.text.find("6 in to 26 in"), std::string::npos);
  }
  EXPECT_TRUE(scenes::explain("layers.upper.0.join").found);
  EXPECT_TRUE(scenes::explain("attachment.length").found);
  const scenes::Explanation many = scenes::explain("width");
  EXPECT_NE(many.text.find("bag.width\n"), std::string::npos);
  EXPECT_NE(many.text.find("straps.width\n"), std::string::npos);
}

TEST(Explain, TellsDefaultAndItsSource) {
  const scenes::Explanation told = scenes::explain("bag.seam_allowance");
  EXPECT_NE(told.text.find("1/2 in  [common practice, no source]"), std::string::npos);
}

TEST(Explain, WrongKeyGetsTheNearest) {
  const scenes::Explanation told = scenes::explain("seam_alowance");
  EXPECT_FALSE(told.found);
  ASSERT_FALSE(told.nearest.empty());
  EXPECT_EQ(told.nearest[0], "seam_allowance");
}

TEST(Explain, AllKeysAreListed) {
  const std::string text = scenes::explain("").text;
  for (const char* key : {"bag.shape", "straps.attachment.pattern", "layers.upper[].material",
                          "supports[].clamp", "materials.<name>.areal_mass", "solve.shapes"}) {
    EXPECT_NE(text.find(key), std::string::npos) << key;
  }
}

TEST(Explain, WordsOfPeopleWhoSewLeadToTheirKeys) {
  for (const auto& [word, key] :
       {std::pair("pocket", "base.kind"), std::pair("lining", "layers.upper[].join"),
        std::pair("stabilizer", "layers.upper[].material"),
        std::pair("Stabiliser", "layers.upper[].material"), std::pair("handles", "straps.style"),
        std::pair("box with cross", "straps.attachment.pattern")}) {
    const scenes::Explanation told = scenes::explain(word);
    EXPECT_TRUE(told.found) << word;
    EXPECT_NE(told.text.find(key), std::string::npos) << word << ": " << told.text;
  }
  EXPECT_FALSE(scenes::explain("zeppelin").found);
}

// Where a scene does not say its units, they are those it is written in.
TEST(Units, FollowTheScene) {
  std::string inches = kTote;
  const std::size_t at = inches.find("\"units\": \"in\",");
  ASSERT_NE(at, std::string::npos);
  inches.erase(at, std::string("\"units\": \"in\",").size());
  EXPECT_EQ(good(inches).units, "in");
  EXPECT_EQ(good(kSheet).units, "cm");
}

TEST(Summary, SaysTheBagInOneSentence) {
  const scenes::Scene scene = good(kTote);
  const std::string text = scenes::summary(scene, library(), "cm");
  EXPECT_NE(text.find("40.6 cm wide"), std::string::npos) << text;
  EXPECT_NE(text.find("carrying 8 kg"), std::string::npos) << text;
  EXPECT_EQ(text.find('\n'), std::string::npos);
  EXPECT_NE(scenes::summary(scene, library(), "").find("16 in wide"), std::string::npos);
}

}  // namespace
}  // namespace totebench
