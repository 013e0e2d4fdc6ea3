// The shipped library: complete, consistent and sourced.
#include <gtest/gtest.h>

#include <cctype>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <set>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "materials/units.hpp"
#include "tests/unit/shipped_library.hpp"
#include "totebench/materials/library.hpp"
#include "totebench/materials/stack.hpp"
#include "totebench/materials/strength.hpp"

namespace totebench {
namespace {

// Calls check(name, quantity) for every number of the library.
template <class Check>
void for_each_number(Check check) {
  for (const materials::Material& m : library().materials()) {
    for (const auto& [name, q] : m.properties) check(m.id + "." + name, q);
  }
  for (const materials::Thread& t : library().threads()) {
    check(t.id + ".breaking_strength", t.breaking_strength);
    check(t.id + ".elongation", t.elongation);
    check(t.id + ".loop_ratio", t.loop_ratio);
  }
  for (const materials::StitchType& s : library().stitches()) check(s.id + ".factor", s.factor);
  for (const auto& [name, q] : library().rules()) check(name, q);
}

TEST(MaterialLibrary, FromTextInMemoryIsTheSameAsFromItsFolder) {
  const materials::MaterialLibrary& loaded = library();
  std::vector<materials::LibraryText> files;
  for (const auto& entry : std::filesystem::directory_iterator(loaded.directory())) {
    std::ifstream in(entry.path());
    files.push_back(
        {entry.path().filename().string(), std::string(std::istreambuf_iterator<char>(in), {})});
  }
  const auto parsed = materials::MaterialLibrary::parse(files);
  EXPECT_EQ(parsed.ids(), loaded.ids());
  EXPECT_EQ(parsed.thread_ids(), loaded.thread_ids());
  EXPECT_EQ(parsed.rules().size(), loaded.rules().size());
  EXPECT_EQ(parsed.find("cotton_duck_10oz")->get("areal_mass").value,
            loaded.find("cotton_duck_10oz")->get("areal_mass").value);
  files.front().text = "{ broken";
  try {
    (void)materials::MaterialLibrary::parse(files);
    ADD_FAILURE() << "a broken text was taken";
  } catch (const std::runtime_error& error) {
    EXPECT_EQ(std::string(error.what()).rfind(files.front().name + ":1:", 0), 0) << error.what();
  }
}

TEST(MaterialLibrary, HoldsWhatAToteIsMadeOf) {
  for (const char* id : {"quilting_cotton",
                         "cotton_duck_7oz",
                         "cotton_duck_10oz",
                         "cotton_duck_12oz",
                         "denim_12oz",
                         "cotton_twill_8oz",
                         "lining_polyester_taffeta",
                         "quilted_cotton_batting",
                         "faux_suede",
                         "fusible_woven_light",
                         "fusible_nonwoven_light",
                         "fusible_nonwoven_medium",
                         "stabilizer_nonwoven_1mm",
                         "stabilizer_nonwoven_1p7mm",
                         "stabilizer_foam_4mm",
                         "buckram",
                         "batting_needled_cotton",
                         "hdpe_sheet",
                         "pp_sheet",
                         "petg_sheet",
                         "plastic_canvas_mesh",
                         "chipboard_2mm",
                         "web_cotton_25",
                         "web_cotton_38",
                         "web_polyester_25",
                         "web_polyester_38",
                         "web_nylon_25_tubular_edge",
                         "web_nylon_38",
                         "web_pp_25_craft",
                         "web_pp_38_craft",
                         "leather_strap_3mm",
                         "strap_folded_4ply_quilting",
                         "strap_folded_4ply_duck10"}) {
    EXPECT_NE(library().find(id), nullptr) << id;
  }
  for (const char* id : {"301", "401", "504", "514", "304"}) {
    EXPECT_NE(library().find_stitch(id), nullptr) << id;
  }
  EXPECT_NE(library().find_thread("spun_polyester_tex40"), nullptr);
  EXPECT_EQ(library().threads().size(), 39u);
  EXPECT_EQ(library().find("no such cloth"), nullptr);
}

TEST(MaterialLibrary, EveryNumberHasSourceGradeAndOrderedBand) {
  const std::set<std::string> grades = {materials::kGradeSeen, materials::kGradeTrade,
                                        materials::kGradeMemory, materials::kGradeEstimate};
  int numbers = 0;
  for_each_number([&](const std::string& name, const materials::Quantity& q) {
    ++numbers;
    EXPECT_LE(q.low, q.value) << name;
    EXPECT_LE(q.value, q.high) << name;
    EXPECT_FALSE(q.unit.empty()) << name;
    EXPECT_EQ(grades.count(q.grade), 1u) << name << ": " << q.grade;
    EXPECT_FALSE(q.source.empty()) << name;
    std::stringstream ids(q.source);
    for (std::string id; std::getline(ids, id, ',');) {
      id.erase(0, id.find_first_not_of(' '));
      EXPECT_EQ(library().sources().count(id), 1u) << name << ": " << id;
    }
    // A number that says it was seen must say where.
    const bool named = q.source != "M" && q.source != "E";
    EXPECT_TRUE(q.grade != materials::kGradeSeen || named) << name;
    EXPECT_TRUE(q.grade != materials::kGradeMemory || q.source == "M") << name;
  });
  EXPECT_GT(numbers, 450);
}

// "Seen" is for sources in which somebody measured, specified or tabulated that very thing.
TEST(MaterialLibrary, TheKindOfTheSourceDecidesWhatWasSeen) {
  const std::set<std::string> first_hand = {"paper table",   "paper abstract", "thesis abstract",
                                            "federal CID",   "specification",  "standard preview",
                                            "regulation",    "data sheet",     "handbook page",
                                            "textbook page", "government page"};
  int trade = 0;
  for_each_number([&](const std::string& name, const materials::Quantity& q) {
    bool all_first_hand = true;
    std::stringstream ids(q.source);
    for (std::string id; std::getline(ids, id, ',');) {
      id.erase(0, id.find_first_not_of(' '));
      const std::string& kind = library().sources().at(id).kind;
      all_first_hand = all_first_hand && first_hand.count(kind) == 1;
    }
    EXPECT_TRUE(q.grade != materials::kGradeSeen || all_first_hand) << name << ": " << q.source;
    if (q.grade == materials::kGradeTrade) {
      ++trade;
      EXPECT_FALSE(all_first_hand) << name << ": " << q.source;
      EXPECT_NE(q.source, "M") << name;
      EXPECT_NE(q.source, "E") << name;
    }
  });
  EXPECT_GT(trade, 40);
  EXPECT_EQ(library().find_stitch("301")->factor.grade, materials::kGradeTrade);
  EXPECT_EQ(library().find("hdpe_sheet")->get("yield_stress").grade, materials::kGradeTrade);
  EXPECT_EQ(library().find("hdpe_sheet")->get("creep_modulus_0.5h").grade, materials::kGradeSeen);
}

TEST(MaterialLibrary, EstimatesCarryTheirReasoning) {
  for_each_number([&](const std::string& name, const materials::Quantity& q) {
    EXPECT_FALSE(q.grade == materials::kGradeEstimate && q.note.empty()) << name;
  });
}

TEST(MaterialLibrary, TradeChartsStayAnonymous) {
  int charts = 0;
  for (const auto& [id, source] : library().sources()) {
    if (source.kind != "trade chart") continue;
    ++charts;
    EXPECT_TRUE(source.address.empty()) << id;
    EXPECT_EQ(source.cite.rfind("trade chart", 0), 0u) << id;
  }
  EXPECT_GT(charts, 5);
}

TEST(MaterialLibrary, EverySourceIsUsed) {
  std::set<std::string> used;
  const auto scan = [&](const std::string& text) {
    std::string word;
    for (const char c : text + " ") {
      if (std::isalnum(static_cast<unsigned char>(c))) {
        word += c;
      } else {
        used.insert(word);
        word.clear();
      }
    }
  };
  for_each_number(
      [&](const std::string&, const materials::Quantity& q) { scan(q.source + " " + q.note); });
  for (const materials::Material& m : library().materials()) scan(m.note);
  for (const auto& [id, source] : library().sources()) EXPECT_EQ(used.count(id), 1u) << id;
}

TEST(MaterialLibrary, ValuesAreSi) {
  const materials::Material& cotton = *library().find("quilting_cotton");
  EXPECT_DOUBLE_EQ(cotton.get("areal_mass").value, 0.140);
  EXPECT_DOUBLE_EQ(cotton.get("thickness").value, 0.3e-3);
  EXPECT_DOUBLE_EQ(cotton.get("bending_rigidity_warp").value, 7e-6);
  EXPECT_EQ(cotton.get("bending_rigidity_warp").unit, "N m");
  EXPECT_DOUBLE_EQ(library().find("hdpe_sheet")->get("youngs_modulus").value, 900e6);
}

// Each unit of the library's files against its definition: pound and ounce avoirdupois, inch and
// yard of 1959, standard gravity.
TEST(MaterialUnits, AreThoseOfTheirDefinitions) {
  const auto si = [](const char* unit) { return materials::find_unit(unit)->factor; };
  EXPECT_DOUBLE_EQ(si("mm"), 1e-3);
  EXPECT_DOUBLE_EQ(si("in"), 0.0254);
  EXPECT_DOUBLE_EQ(si("g/m2"), 1e-3);
  EXPECT_NEAR(si("oz/yd2"), 0.45359237 / 16 / (0.9144 * 0.9144), 1e-12);
  EXPECT_DOUBLE_EQ(si("g/cm3"), 1000);
  EXPECT_DOUBLE_EQ(si("cN"), 0.01);
  EXPECT_NEAR(si("lbf"), 0.45359237 * 9.80665, 1e-12);
  EXPECT_NEAR(si("lbf/in"), 0.45359237 * 9.80665 / 0.0254, 1e-9);
  EXPECT_DOUBLE_EQ(si("kN/m"), 1000);
  EXPECT_DOUBLE_EQ(si("N/5cm"), 20) << "a strip of 50 mm";
  EXPECT_DOUBLE_EQ(si("gf/cm"), 0.980665);
  EXPECT_NEAR(si("gf/(cm.deg)"), 0.980665 * 180 / M_PI, 1e-9);
  EXPECT_DOUBLE_EQ(si("mN.m/m"), 1e-3);
  EXPECT_DOUBLE_EQ(si("gf.cm/cm"), 9.80665e-3);
  EXPECT_DOUBLE_EQ(si("mN.m"), 1e-3);
  EXPECT_DOUBLE_EQ(si("uN.m"), 1e-6);
  EXPECT_DOUBLE_EQ(si("gf.cm2/cm"), 9.80665e-5);
  EXPECT_DOUBLE_EQ(si("kPa"), 1e3);
  EXPECT_DOUBLE_EQ(si("MPa"), 1e6);
  EXPECT_DOUBLE_EQ(si("GPa"), 1e9);
  EXPECT_DOUBLE_EQ(si("N/tex"), 1e6) << "1 tex is 1 mg/m";
}

// KES-F readings of a soft denim (J. Textiles 2016, art. 4614168, table 5) in the instrument's
// units: B 0.172 gf cm2/cm, G 2.18 gf/(cm deg).
TEST(MaterialLibrary, ConvertsKawabataUnits) {
  const materials::SiUnit* bending = materials::find_unit("gf.cm2/cm");
  const materials::SiUnit* shear = materials::find_unit("gf/(cm.deg)");
  ASSERT_NE(bending, nullptr);
  ASSERT_NE(shear, nullptr);
  EXPECT_NEAR(0.172 * bending->factor, 16.9e-6, 0.05e-6);
  EXPECT_NEAR(2.18 * shear->factor, 122, 0.6);
  EXPECT_EQ(bending->si, "N m");
  EXPECT_NEAR(materials::find_unit("oz/yd2")->factor, 33.9057e-3, 1e-7);
  EXPECT_EQ(materials::find_unit("furlong"), nullptr);
}

// Numbered duck weighs 19 - number ounces per 36 x 22 in piece (encyclopedia entry).
TEST(MaterialLibrary, NumberedDuckFollowsItsMassRule) {
  EXPECT_NEAR(materials::numbered_duck_areal_mass(8), 0.610, 0.001);
  EXPECT_NEAR(materials::numbered_duck_areal_mass(12), 0.388, 0.001);
  EXPECT_NEAR(materials::numbered_duck_areal_mass(1), 0.999, 0.001);
  EXPECT_NEAR(library().find("cotton_duck_no8")->get("areal_mass").value,
              materials::numbered_duck_areal_mass(8), 0.001);
  EXPECT_THROW((void)materials::numbered_duck_areal_mass(0), std::invalid_argument);
  EXPECT_THROW((void)materials::numbered_duck_areal_mass(13), std::invalid_argument);
}

TEST(MaterialLibrary, NamesTheNearestKnownId) {
  EXPECT_EQ(library().closest("quilting coton"), "quilting_cotton");
  EXPECT_EQ(library().closest("HDPE"), "hdpe_sheet");
  EXPECT_EQ(library().closest("stabiliser_nonwoven_1mm"), "stabilizer_nonwoven_1mm");
  EXPECT_EQ(library().closest_thread("spun_polyster_tex40"), "spun_polyester_tex40");
  EXPECT_EQ(library().closest_stitch("302"), "301");
  EXPECT_EQ(materials::MaterialLibrary().closest("anything"), "");
}

TEST(MaterialLibrary, TakesEntriesOfAScene) {
  materials::MaterialLibrary own = library();
  const std::size_t before = own.materials().size();
  materials::Material mine = *own.find("quilting_cotton");
  mine.id = "my_cotton";
  own.add(mine);
  EXPECT_EQ(own.materials().size(), before + 1);
  mine.properties["areal_mass"] = materials::Quantity::own(0.2, "kg/m2");
  own.add(mine);  // replaces
  EXPECT_EQ(own.materials().size(), before + 1);
  EXPECT_DOUBLE_EQ(own.find("my_cotton")->get("areal_mass").value, 0.2);
}

TEST(MaterialLibrary, MissingPropertyNamesMaterialAndProperty) {
  try {
    (void)library().find("hdpe_sheet")->get("bending_rigidity");
    FAIL() << "nothing was thrown";
  } catch (const std::invalid_argument& e) {
    const std::string text = e.what();
    EXPECT_NE(text.find("hdpe_sheet"), std::string::npos) << text;
    EXPECT_NE(text.find("bending_rigidity"), std::string::npos) << text;
  }
  EXPECT_THROW((void)library().rule("no such rule"), std::invalid_argument);
}

TEST(MaterialLibrary, WeakerGradeAndMergedSources) {
  EXPECT_EQ(materials::weaker_grade(materials::kGradeSeen, materials::kGradeMemory),
            materials::kGradeMemory);
  EXPECT_EQ(materials::weaker_grade(materials::kGradeEstimate, materials::kGradeSeen),
            materials::kGradeEstimate);
  EXPECT_EQ(materials::weaker_grade(materials::kGradeSeen, materials::kGradeTrade),
            materials::kGradeTrade);
  EXPECT_EQ(materials::weaker_grade(materials::kGradeMemory, materials::kGradeTrade),
            materials::kGradeMemory);
  EXPECT_EQ(materials::merged_sources("S2, S7", "S7, S22"), "S2, S7, S22");
  EXPECT_EQ(materials::merged_sources("", "M"), "M");
}

}  // namespace
}  // namespace totebench
