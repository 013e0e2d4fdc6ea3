// From a swatch file to a material that scenes use: what is refused, bands, the material file.
#include "totebench/scenes/swatch.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>

#include "app/present/swatch_report.hpp"
#include "reader_fixture.hpp"
#include "scenes/swatch/material.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/scenes/swatch_fit.hpp"
#include "totebench/viz/swatch_sheet.hpp"

namespace totebench::test {
namespace {

constexpr double kGravity = 9.80665;  // m/s2

// 350 g/m2 by four squares; the overhang of 64 mm at 41.5 deg is the elastica's for
// B = w L^3 / 8.004197 = 112.4 uN m.
const std::string kSwatch = R"({
  "schema_version": 1,
  "kind": "swatch",
  "name": "my canvas",
  "like": "cotton_duck_10oz",
  "mass": [ { "side": "20 cm", "pieces": 4, "mass": "56 g" } ],
  "overhang": [ { "direction": "warp", "overhang": "64 mm" } ]
}
)";

scenes::SwatchResult read(const std::string& text) {
  return scenes::read_swatch_text(text, "trial.json", library());
}

scenes::SwatchFit fitted(const std::string& text) {
  const scenes::SwatchResult result = read(text);
  EXPECT_TRUE(result.swatch) << scenes::to_text(result.diagnostics);
  const scenes::RunAll in_turn = [](const auto& work) {
    for (const auto& piece : work) piece();
  };
  return scenes::fit_swatch(*result.swatch, library(), in_turn);
}

std::string with_test(const std::string& list) {
  return changed(kSwatch, R"("overhang": [ { "direction": "warp", "overhang": "64 mm" } ])", list);
}

// The one error `text` should give: its place, and words of the message and of the cure.
void expect_error(const std::string& text, int line, int column, const std::string& message,
                  const std::string& cure) {
  const scenes::SwatchResult result = read(text);
  EXPECT_FALSE(result.swatch) << message;
  const std::string all = scenes::to_text(result.diagnostics);
  ASSERT_EQ(count(result.diagnostics, scenes::Severity::kError), 1) << all;
  const auto it = std::find_if(
      result.diagnostics.begin(), result.diagnostics.end(),
      [](const scenes::Diagnostic& d) { return d.severity == scenes::Severity::kError; });
  EXPECT_EQ(it->line, line) << all;
  EXPECT_EQ(it->column, column) << all;
  EXPECT_NE(it->message.find(message), std::string::npos) << all;
  EXPECT_NE(it->hint.find(cure), std::string::npos) << all;
}

TEST(SwatchFile, WhatCannotBe_IsRefusedWithPlaceAndCure) {
  expect_error(changed(kSwatch, "64 mm", "21 cm"), 7, 52, "longer than the strip itself, 200 mm",
               "give \"strip\"");
  expect_error(changed(kSwatch, "64 mm", "64 ells"), 7, 52, "unknown unit \"ells\"",
               "use one of in, cm");
  expect_error(changed(kSwatch, "\"64 mm\"", "[ \"64 mm\", 64 ]"), 7, 63, "has no unit", "64 mm");
  expect_error(changed(kSwatch, "\"64 mm\"", "[ ]"), 7, 52, "is empty", "at least one reading");
  expect_error(changed(kSwatch, "56 g", "0 g"), 6, 53, "outside what is possible", "larger square");
  expect_error(changed(kSwatch, "56 g", "0.8 g"), 6, 53, "no more than the scale's", "larger");
  expect_error(changed(kSwatch, "10oz", "10z"), 5, 11, "unknown material", "cotton_duck_10oz");
  expect_error(changed(kSwatch, "my canvas", "denim 12oz"), 4, 11, "already", "name of its own");
  expect_error(changed(kSwatch, "cotton_duck_10oz", "web_cotton_25"), 5, 11, "is a strap",
               "choose a cloth");
  expect_error(changed(kSwatch, "cotton_duck_10oz", "hdpe_sheet"), 5, 11, "solid sheet",
               "add \"thickness\"");
  expect_error(changed(kSwatch, "\"swatch\"", "\"tote\""), 3, 11, "this is a scene", "hang");
  expect_error(changed(kSwatch, "\"mass\"", "\"mas\""), 6, 3, "unknown key \"mas\" in the swatch",
               "did you mean \"mass\"?");
  expect_error(
      changed(kSwatch, "\"overhang\": \"64 mm\"", "\"width\": \"15 cm\", \"overhang\": \"64 mm\""),
      7, 49, "150 mm wide is no strip over a length of 64 mm", "narrower");
  expect_error(changed(changed(kSwatch, "\"overhang\": \"64 mm\"",
                               "\"width\": \"3 mm\", \"overhang\": \"64 mm\""),
                       "\"mass\": [", "\"ruler\": \"4 mm\", \"mass\": ["),
               7, 49, "no more than the ruler's", "wider");
  expect_error(R"({ "schema_version": 1, "kind": "swatch", "name": "mine", "like": "buckram" })", 1,
               1, "nothing was measured", "\"overhang\"");
}

TEST(SwatchFile, ReadingsBeyondTheTest_AreRefusedWithPlaceAndCure) {
  expect_error(
      with_test(R"("droop": [ { "direction": "warp", "overhang": "5 cm", "drop": "6 cm" } ])"), 7,
      65, "cannot hang 60 mm below it", "straight down");
  expect_error(
      with_test(R"("droop": [ { "direction": "warp", "overhang": "5 cm", "drop": "4.7 cm" } ])"), 7,
      65, "nearly straight down", "loop test");
  expect_error(
      with_test(R"("droop": [ { "direction": "warp", "overhang": "5 cm", "drop": "1 mm" } ])"), 7,
      65, "no more than the ruler's error", "longer strip");
  expect_error(
      with_test(R"("loop": [ { "direction": "warp", "length": "16 cm", "height": "8 cm" } ])"), 7,
      65, "cannot hang lower than half", "lowest point");
  expect_error(
      with_test(R"("loop": [ { "direction": "warp", "length": "16 cm", "height": "2.2 cm" } ])"), 7,
      65, "hardly sags", "overhang test");
  expect_error(
      with_test(R"("loop": [ { "direction": "warp", "length": "16 cm", "height": "6 cm" } ])"), 7,
      65, "hardly shows", "shorter strip");
  const std::string stretch =
      R"("stretch": [ { "direction": "warp", "gauge": "30 cm", "weight": "2 kg", "extension": "-5 mm" } ])";
  expect_error(with_test(stretch), 7, 88, "outside what is possible", "above zero");
  expect_error(with_test(changed(changed(stretch, "-5 mm", "5 mm"), "2 kg", "1 g")), 7, 67,
               "no more than the scale's", "hang more");
  expect_error(with_test(changed(stretch, "-5 mm", "30.5 cm")), 7, 88,
               "more than half of the gauge", "not how long");
  expect_error(with_test(R"("gap": [ { "direction": "warp", "gap": "20 cm", "sag": "11 mm" } ])"),
               7, 58, "a twentieth of the gap", "narrower gap");
}

TEST(SwatchFile, DirectionsOfOneProperty_AreNotMixed) {
  expect_error(changed(kSwatch, "\"64 mm\" }",
                       "\"64 mm\" }, { \"direction\": \"either\", \"overhang\": \"64 mm\" }"),
               7, 78, "others are cut in \"either\"", "warp or weft, or none");
}

TEST(SwatchFile, EverythingWrong_IsFoundInOneRun) {
  std::string text = changed(kSwatch, "56 g", "0 g");
  text = changed(text, "64 mm", "21 cm");
  text = changed(text, "20 cm", "20 furlong");
  const scenes::SwatchResult result = read(text);
  EXPECT_EQ(count(result.diagnostics, scenes::Severity::kError), 3)
      << scenes::to_text(result.diagnostics);
}

// Bands by hand: mass 56 +- 1 g on four squares of 200 -+ 1 mm; overhang 64 +- 1 mm, and rigidity
// goes as mass times its cube.
TEST(SwatchFit, Bands_FollowFromTheErrorsOfRulerAndScale) {
  const scenes::SwatchFit fit = fitted(kSwatch);
  ASSERT_TRUE(fit.complete);
  const materials::Quantity& mass = fit.material.get("areal_mass");
  EXPECT_NEAR(mass.value, 0.35, 1e-9);
  EXPECT_NEAR(mass.low, 0.055 / (4 * 0.201 * 0.201), 1e-9);
  EXPECT_NEAR(mass.high, 0.057 / (4 * 0.199 * 0.199), 1e-9);
  const materials::Quantity& bending = fit.material.get("bending_rigidity_warp");
  const double elastica = 0.35 * kGravity * std::pow(0.064, 3) / 8.004197;
  EXPECT_LT(bending.value, elastica);                      // free to curl, a beam
  EXPECT_GT(bending.value, (1 - 0.24 * 0.24) * elastica);  // and held flat, a plate
  EXPECT_NEAR(bending.low / bending.value, mass.low / mass.value * std::pow(63.0 / 64, 3), 1e-3);
  EXPECT_NEAR(bending.high / bending.value, mass.high / mass.value * std::pow(65.0 / 64, 3), 1e-3);
  EXPECT_EQ(bending.source, scenes::kOwnSource);
  EXPECT_EQ(bending.grade, materials::kGradeSeen);
}

TEST(SwatchFit, Repeats_WidenTheBandAndAreAveraged) {
  const scenes::SwatchFit once = fitted(kSwatch);
  const scenes::SwatchFit thrice =
      fitted(changed(kSwatch, "\"64 mm\"", "[ \"62 mm\", \"64 mm\", \"66 mm\" ]"));
  const materials::Quantity& one = once.material.get("bending_rigidity_warp");
  const materials::Quantity& three = thrice.material.get("bending_rigidity_warp");
  EXPECT_NEAR(three.value, one.value, 1e-3 * one.value);
  EXPECT_NEAR(three.low / one.low, std::pow(61.0 / 63, 3), 2e-3);
  EXPECT_NEAR(three.high / one.high, std::pow(67.0 / 65, 3), 2e-3);
}

// By hand: a small droop goes as B = w L^4 / (8 drop), a pull as K = P L / (b e), with a strain e
// of 2 % counted as T = K (e + e^2/2) (1 + e).
TEST(SwatchFit, Bands_OfDroopAndPullTakeEveryErrorOneWay) {
  const std::string text = with_test(
      R"("droop": [ { "direction": "warp", "overhang": "10 cm", "drop": "8 mm" } ],
  "stretch": [ { "direction": "weft", "width": "5 cm", "gauge": "30 cm", "weight": "2 kg", "extension": "6 mm" } ])");
  const scenes::SwatchFit fit =
      fitted(changed(text, "cotton_duck_10oz", "stabilizer_nonwoven_1mm"));
  ASSERT_TRUE(fit.complete);
  const materials::Quantity& mass = fit.material.get("areal_mass");
  const materials::Quantity& bending = fit.material.get("bending_rigidity_warp");
  EXPECT_NEAR(bending.low / bending.value, mass.low / mass.value * std::pow(0.99, 4) * 8 / 9,
              0.005);
  EXPECT_NEAR(bending.high / bending.value, mass.high / mass.value * std::pow(1.01, 4) * 8 / 7,
              0.005);
  const auto pulled = [](double kg, double width, double gauge, double extension) {
    const double e = extension / gauge;
    return kg * kGravity / width / ((e + e * e / 2) * (1 + e));
  };
  const materials::Quantity& pull = fit.material.get("tensile_stiffness_initial_weft");
  EXPECT_NEAR(pull.value, pulled(2, 0.05, 0.3, 0.006), 1e-3 * pull.value);
  EXPECT_NEAR(pull.low, pulled(1.999, 0.051, 0.299, 0.007), 1e-3 * pull.low);
  EXPECT_NEAR(pull.high, pulled(2.001, 0.049, 0.301, 0.005), 1e-3 * pull.high);
}

TEST(SwatchFit, TwoTestsThatDisagree_AreSaidSoAndBothSpanned) {
  const scenes::SwatchFit fit =
      fitted(changed(kSwatch, "\"64 mm\" }",
                     "\"64 mm\" }, { \"direction\": \"warp\", \"overhang\": \"80 "
                     "mm\" }"));
  const materials::Quantity& bending = fit.material.get("bending_rigidity_warp");
  ASSERT_EQ(fit.strips.size(), 2U);
  EXPECT_NEAR(bending.value, 0.5 * (fit.strips[0].fit.value + fit.strips[1].fit.value), 1e-12);
  EXPECT_EQ(bending.low, fit.strips[0].fit.low);
  EXPECT_EQ(bending.high, fit.strips[1].fit.high);
  EXPECT_TRUE(std::any_of(fit.remarks.begin(), fit.remarks.end(), [](const std::string& r) {
    return r.find("differ by more than ruler and scale explain") != std::string::npos;
  }));
}

// No 10 oz duck weighs 2 kg/m2, nor is it 27 times as stiff as the library has it.
TEST(SwatchFit, AClothNothingLikeItsModel_IsSaidSo) {
  const scenes::SwatchResult swatch = read(kSwatch);
  ASSERT_TRUE(swatch.swatch);
  const materials::Material& duck = *library().find("cotton_duck_10oz");
  const materials::Quantity& rigidity = duck.get("bending_rigidity_warp");
  const auto remarks = [&](double bending_N_m, double mass_kg_per_m2) {
    scenes::SwatchFit fit;
    scenes::StripFit strip;
    strip.property = "bending_rigidity_warp";
    strip.fit = {bending_N_m, bending_N_m, bending_N_m};
    strip.found = true;
    fit.strips = {strip};
    scenes::make_material(*swatch.swatch, duck, {6e-4, 6e-4, 6e-4},
                          {mass_kg_per_m2, mass_kg_per_m2, mass_kg_per_m2}, fit);
    std::string far;
    for (const std::string& remark : fit.remarks) {
      if (remark.find("the library gives there") != std::string::npos) far += remark;
    }
    return far;
  };
  EXPECT_EQ(remarks(rigidity.value, 0.35), "");
  EXPECT_EQ(remarks(2.9 * rigidity.high, 0.35), "");
  EXPECT_EQ(remarks(27 * rigidity.value, 0.35)
                .rfind("The bending rigidity warp comes out 27 times that of cotton_duck_10oz", 0),
            0U);
  EXPECT_NE(remarks(rigidity.low / 3.1, 0.35), "");
  const std::string heavy = remarks(rigidity.value, 2);
  EXPECT_EQ(heavy.rfind("The areal mass comes out 5.9 times that of cotton_duck_10oz", 0), 0U)
      << heavy;
  EXPECT_NE(heavy.find("Check the units and the readings"), std::string::npos);
}

TEST(SwatchFit, WhatWasNotMeasured_IsThatOfLikeAndSaysSo) {
  const scenes::SwatchFit fit = fitted(kSwatch);
  const materials::Quantity& weft = fit.material.get("bending_rigidity_weft");
  EXPECT_EQ(weft.value, library().find("cotton_duck_10oz")->get("bending_rigidity_weft").value);
  EXPECT_EQ(weft.grade, materials::kGradeEstimate);
  EXPECT_EQ(weft.note.rfind("not measured: that of cotton_duck_10oz (from memory)", 0), 0U)
      << weft.note;
}

// A sheet alike both ways, of 2 mm read to 0.1 mm: E = 12 B / t^3.
TEST(SwatchFit, Plastic_GetsAModulusAndADensity) {
  std::string text = changed(kSwatch, "cotton_duck_10oz", "hdpe_sheet");
  text = changed(text, R"("pieces": 4, "mass": "56 g")", R"("mass": "76.4 g")");
  const auto at = text.find("\"overhang\"");
  text = text.substr(0, at) +
         R"("thickness": [ { "plies": 1, "height": "2 mm", "error": "0.1 mm" } ],
  "gap": [ { "direction": "either", "gap": "20 cm", "weight": "60 g", "sag": "4 mm" } ] })";
  const scenes::SwatchFit fit = fitted(text);
  ASSERT_TRUE(fit.complete);
  EXPECT_NEAR(fit.material.get("density").value, 955, 1e-6);
  EXPECT_FALSE(fit.material.has("areal_mass"));
  const materials::Quantity& modulus = fit.material.get("youngs_modulus");
  EXPECT_NEAR(modulus.value, 12 * fit.strips[0].fit.value / 8e-9, 1e-6 * modulus.value);
  EXPECT_NEAR(modulus.high, 12 * fit.strips[0].fit.high / std::pow(1.9e-3, 3), 1e-6 * modulus.high);
  // What creep does to it goes in proportion.
  const materials::Material& like = *library().find("hdpe_sheet");
  EXPECT_NEAR(fit.material.get("creep_modulus_1yr").value / like.get("creep_modulus_1yr").value,
              modulus.value / like.get("youngs_modulus").value, 1e-12);
}

// What the tool is for: the material file, used by a scene, hangs the strip as it was measured.
TEST(SwatchMaterial, InAScene_HangsTheStripAsMeasured) {
  const scenes::SwatchResult swatch = read(kSwatch);
  ASSERT_TRUE(swatch.swatch);
  const scenes::SwatchFit fit = fitted(kSwatch);
  const auto folder = std::filesystem::temp_directory_path() / "totebench swatch test";
  std::filesystem::create_directories(folder);
  const std::string path = (folder / "my_canvas.material.json").string();
  std::ofstream(path) << app::swatch_material_file(*swatch.swatch, fit);

  std::string text = changed(kSheet, "\"name\"",
                             "\"materials\": { \"my_canvas\": { \"file\": \"" + path +
                                 "\" } }, \"mesh\": { \"size\": \"6 mm\" }, \"name\"");
  text = changed(text, "quilting_cotton", "my_canvas");
  text = changed(text, "200 mm", "64 mm");
  text = changed(text, "[\"200 mm\", \"0 mm\"", "[\"64 mm\", \"0 mm\"");
  const scenes::ReadResult scene = test::read(text);
  ASSERT_TRUE(scene.scene) << scenes::to_text(scene.diagnostics);
  EXPECT_EQ(scene.scene->own_materials.front().get("bending_rigidity_warp").source,
            scenes::kOwnSource);
  const scenes::SheetModel sheet =
      scenes::build_sheet(*scene.scene, scenes::library_of(*scene.scene, library()));
  solver::State state = solver::start_state(sheet.model);
  ASSERT_EQ(find_equilibrium(sheet.model, 1, state).status, solver::SolveStatus::kConverged);
  const Eigen::Vector3d tip = state.x.col(sheet.probe_nodes[0]);
  EXPECT_NEAR(std::atan2(-tip.z(), tip.x()) * 180 / 3.14159265358979, 41.5, 0.2);

  // Written out with its defaults the scene is still the same.
  const scenes::ReadResult again = test::read(scenes::resolved_json(*scene.scene));
  ASSERT_TRUE(again.scene) << scenes::to_text(again.diagnostics);
  EXPECT_EQ(again.scene->own_materials.front().get("bending_rigidity_warp").value,
            scene.scene->own_materials.front().get("bending_rigidity_warp").value);

  const scenes::ReadResult both =
      test::read(changed(text, "{ \"file\"", "{ \"like\": \"denim_12oz\", \"file\""));
  EXPECT_NE(scenes::to_text(both.diagnostics).find("both a file and a library material"),
            std::string::npos);
  const scenes::ReadResult gone = test::read(changed(text, ".material.json", ".lost.json"));
  EXPECT_NE(scenes::to_text(gone.diagnostics).find("there is no file"), std::string::npos);
  std::ofstream(path) << "{ \"materials\": [ { \"id\": \"my_canvas\" } ] }";
  const scenes::ReadResult broken = test::read(text);
  EXPECT_NE(scenes::to_text(broken.diagnostics).find("my_canvas.material.json:1:"),
            std::string::npos);
  std::filesystem::remove_all(folder);
}

// Printed at 100 % the slope of the overhang page is 100 mm by 100 tan(41.5 deg) mm.
TEST(Worksheets, EachHasBlanks_AndTheSlopeIsTrueToScale) {
  for (const std::string& name : viz::worksheet_names()) {
    for (const char* units : {"cm", "in"}) {
      const std::string svg = viz::worksheet_svg(name, units);
      EXPECT_EQ(svg.rfind("<svg", 0), 0U) << name;
      EXPECT_NE(svg.find(">date</text>"), std::string::npos) << name;
      EXPECT_NE(svg.find("&quot;" + name + "&quot;: ["), std::string::npos) << name;
    }
  }
  EXPECT_NE(
      viz::worksheet_svg("overhang", "cm").find("M84.00,42.00 L84.00,130.47 L184.00,130.47 Z"),
      std::string::npos);
  EXPECT_THROW((void)viz::worksheet_svg("tearing", "cm"), std::invalid_argument);
}

}  // namespace
}  // namespace totebench::test
