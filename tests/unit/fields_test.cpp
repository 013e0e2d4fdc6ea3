// Tables of what is written: what a file holds, what its schema says, and that the checked-in
// schemas are those of the tables.
#include "app/present/fields/fields.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <set>
#include <sstream>

#include "app/present/carry_report.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/swatch_report.hpp"
#include "tests/support/source_folder.hpp"
#include "totebench/scenes/figure.hpp"

namespace totebench {
namespace {

using app::Fields;
using app::Json;

struct Part {
  double force_N = 0;
};

struct Whole {
  std::string name = "a";
  double width_m = 0.5;
  double known_only_loaded = std::nan("");
  std::optional<int> count;
  std::optional<Part> part;
  std::vector<Part> parts;
  bool ended = false;
};

const Fields<Part>& part_fields() {
  static const auto fields =
      Fields<Part>("part", "A part.").value("force_N", &Part::force_N, "Its force.");
  return fields;
}

const Fields<Whole>& end_fields() {
  static const auto fields = Fields<Whole>("end", "The end.")
                                 .value("first", &Whole::name, "One.")
                                 .value("second", &Whole::count, "Two.")
                                 .or_null("where nobody counted");
  return fields;
}

const Fields<Whole>& whole_fields() {
  static const auto fields =
      Fields<Whole>("whole", "The whole.")
          .constant("version", 1, "Version.")
          .value("name", &Whole::name, "Its name.")
          .value("width_m", &Whole::width_m, "Its width.")
          .value("known", &Whole::known_only_loaded, "Known sometimes.")
          .or_null("when empty")
          .value("count", &Whole::count, "Absent or not.")
          .object("part", &Whole::part, part_fields(), "A part.")
          .or_null("where there is none")
          .list("parts", &Whole::parts, part_fields(), "More.")
          .value("size", &Whole::width_m, "Its size.")
          .only_if(&Whole::ended, "at the end")
          .with(end_fields(), [](const Whole& w) { return w.ended ? &w : nullptr; });
  return fields;
}

Json schema_of_whole() { return Json::parse(app::schema_of("whole", whole_fields())); }

TEST(Fields, AreWrittenInTheirOrderAndLeftOutOrNullWhereThereIsNothing) {
  Whole whole;
  whole.parts = {{1}, {2}};
  EXPECT_EQ(whole_fields().json(whole).dump(),
            R"({"version":1,"name":"a","width_m":0.5,"known":null,"part":null,)"
            R"("parts":[{"force_N":1.0},{"force_N":2.0}]})");
  whole.known_only_loaded = std::numeric_limits<double>::infinity();
  whole.count = 3;
  whole.part = Part{4};
  whole.ended = true;
  EXPECT_EQ(
      whole_fields().json(whole).dump(),
      R"({"version":1,"name":"a","width_m":0.5,"known":null,"count":3,"part":{"force_N":4.0},)"
      R"("parts":[{"force_N":1.0},{"force_N":2.0}],"size":0.5,"first":"a","second":3})");
  whole.count.reset();
  EXPECT_EQ(whole_fields().json(whole)["second"], nullptr) << "there, and null";
}

TEST(Fields, TheSchemaKnowsWhatIsRequiredWhatMayBeNullAndInWhichUnit) {
  const Json schema = schema_of_whole();
  EXPECT_EQ(schema["allOf"][0]["$ref"], "#/definitions/whole");
  const Json& whole = schema["definitions"]["whole"];
  EXPECT_EQ(whole["required"], Json({"version", "name", "width_m", "known", "part", "parts"}));
  EXPECT_EQ(whole["additionalProperties"], false);
  const Json& properties = whole["properties"];
  EXPECT_EQ(properties["width_m"], Json({{"type", "number"}, {"description", "Its width. In m."}}));
  EXPECT_EQ(properties["known"]["type"], Json({"number", "null"}));
  EXPECT_EQ(properties["known"]["description"], "Known sometimes. Null when empty.");
  EXPECT_EQ(properties["part"]["anyOf"][1]["type"], "null");
  EXPECT_EQ(properties["size"]["description"], "Its size. Only at the end.");
  EXPECT_EQ(whole["dependencies"], Json({{"first", {"second"}}, {"second", {"first"}}}));
  EXPECT_EQ(schema["definitions"]["part"]["properties"]["force_N"]["description"],
            "Its force. In N.");
}

TEST(Fields, BytesThatAreNoTextAreReplaced) {
  Whole whole;
  whole.name = "\xff";
  EXPECT_NE(app::file_of(whole_fields(), whole).find("\"name\": \"\xEF\xBF\xBD\""),
            std::string::npos);
}

struct Pulled {
  std::string name = "left";
  Eigen::Vector3d force_N{0, 0, 0};
  double peak_N_per_m = 0;
  double sag_m = 0;
  bool held = true;
  std::optional<int> stitches;
  std::optional<Part> part;
};

const Fields<Part>& shown_part_fields() {
  static const auto fields =
      Fields<Part>("part", "A part.").value("force_N", &Part::force_N, "Its force.").shown("of it");
  return fields;
}

const Fields<Pulled>& pulled_fields() {
  using P = Pulled;
  static const auto fields =
      Fields<P>("pulled", "Pulled.")
          .shown("initial", [](const P& p) { return p.name.substr(0, 1); })
          .value("name", &P::name, "Where.")
          .shown("end")
          .value("force_N", &P::force_N, "Force.")
          .shown("pull", [](const P& p) { return p.force_N.norm(); })
          .shown("up or down", [](const P& p) { return p.force_N.z() < 0 ? "down" : "up"; })
          .value("peak_N_per_m", &P::peak_N_per_m, "Peak.")
          .shown("peak")
          .shown_if(&P::held, "let go")
          .value("held", &P::held, "Not for people.")
          .value("sag_m", &P::sag_m, "Sag.")
          .shown_with_unit("sag")
          .shown("units", [](const P&, const std::string& units) { return units; })
          .value("stitches", &P::stitches, "How many.")
          .shown("stitches")
          .with(shown_part_fields(), &P::part);
  return fields;
}

// By hand: a pound force is 0.45359237 kg x 9.80665 m/s2 = 4.4482216 N (yard and pound of 1959), an
// inch 0.0254 m, so 1 lb/in is 175.12684 N/m. 3, 4, 0 has the length 5.
TEST(Columns, ShowWhatTheKeysHoldInTheUnitsOfTheReader) {
  Pulled left;
  left.force_N = Eigen::Vector3d(3, 4, 0) * 4.4482216;
  left.peak_N_per_m = 2 * 175.12684;
  left.sag_m = 0.0254;
  left.stitches = 12;
  left.part = Part{8.8964432};
  const Pulled right = {"right", {0, 0, -1}, std::nan(""), std::nan(""), true, {}, {}};
  const app::TextTable table = app::shown_table(pulled_fields(), {left, right}, "in");
  ASSERT_EQ(table.size(), 3U);
  using Row = std::vector<std::string>;
  EXPECT_EQ(table[0], Row({"initial", "end", "pull, lb", "up or down", "peak, lb/in", "sag",
                           "units", "stitches", "of it, lb"}));
  EXPECT_EQ(table[1], Row({"l", "left", "5.0", "up", "2.0", "1 in", "in", "12", "2.0"}));
  EXPECT_EQ(table[2],
            Row({"r", "right", "0.22", "down", "not known", "not known in", "in", "", ""}));
  left.held = false;
  EXPECT_EQ(app::shown_row(pulled_fields(), left, "si"),
            Row({"l", "left", "22", "up", "let go", "0.0254 m", "si", "12", "8.9"}));
  EXPECT_EQ(app::shown_table(pulled_fields(), {}, "cm").front()[4], "peak, N/mm");
}

TEST(Columns, LeaveFileAndSchemaAsTheyAre) {
  EXPECT_EQ(
      pulled_fields().json(Pulled()).dump(),
      R"({"name":"left","force_N":[0.0,0.0,0.0],"peak_N_per_m":0.0,"held":true,"sag_m":0.0})");
}

TEST(Columns, OfABagBeingCarriedSayWhatWasNotFinished) {
  studies::CarryResult result;
  result.still_stitch_N = 2;
  result.still.findings.bottom_sag_m = 0.01;
  studies::CarryEventResult walking{"walking", "a study", true, 1.25, 0, 3, 1.5, 0.02, {}, {}};
  studies::CarryEventResult dropped{"set down", "an estimate", false, 9, 9, 9, 9, 9, {}, {}};
  result.events = {walking, dropped};
  EXPECT_EQ(app::carry_table(result, "cm"),
            app::TextTable({{"carried", "on the hand", "on the floor", "peak stitch, N",
                             "times still", "largest sag", "load data"},
                            {"hanging still", "1", "", "2.0", "1", "1.0 cm", ""},
                            {"walking", "1.25", "", "3.0", "1.50", "2.0 cm", "a study"},
                            {"set down", "not finished", "", "", "", "", "an estimate"}}));
}

TEST(Columns, OfAStripSayWhereTheSolverFoundNone) {
  scenes::SwatchFit fit;
  scenes::StripFit strip;
  strip.what = "overhang";
  strip.n_readings = 3;
  strip.reading_m = 0.1;
  strip.formula = 1e-4;
  strip.fit.value = 0.9e-4;
  strip.found = true;
  fit.strips = {strip, strip};
  fit.strips.back().found = false;
  EXPECT_EQ(app::tests_table(fit, "cm"),
            app::TextTable({{"test", "readings", "mean", "formula", "solver", "unit", "difference"},
                            {"overhang", "3", "100 mm", "100", "90.0", "uN m", "-10.0 %"},
                            {"overhang", "3", "100 mm", "100", "not found", "uN m", ""}}));
}

TEST(TextTables, LinesEndWithTheirLastWord) {
  EXPECT_EQ(app::table_text({{"a", "bb"}, {"c", ""}, {"d"}}), "  a   bb\n  c\n  d\n");
}

TEST(ResultSchemas, AreThoseOfTheTables) {
  for (const app::ResultSchema& schema : app::kResultSchemas) {
    const std::string file = std::string("scenes/") + schema.name + ".schema.json";
    std::ostringstream text;
    text << std::ifstream(test::source_folder() / file).rdbuf();
    EXPECT_TRUE(text.str() == schema.text())
        << "run: totebench explain " << schema.name << " --schema > " << file;
  }
}

// The unit that a figure is shown in is that of its key.
TEST(Figures, KeysEndInTheUnitOfTheirDimension) {
  std::set<std::string> keys;
  for (const scenes::Figure& figure : scenes::kFigures) {
    EXPECT_TRUE(keys.insert(figure.key).second) << figure.key << " twice";
    if (figure.dimension == scenes::Dimension::kNone) continue;
    std::string unit(scenes::si_unit(figure.dimension));
    if (const std::size_t per = unit.find('/'); per != std::string::npos) {
      unit.replace(per, 1, "_per_");
    }
    const std::string key = figure.key;
    ASSERT_GT(key.size(), unit.size());
    EXPECT_EQ(key.substr(key.size() - unit.size() - 1), "_" + unit);
  }
}

TEST(Figures, AreFoundByTheirValueAndByWhatAScenesExpects) {
  EXPECT_STREQ(scenes::figure_of<&scenes::Findings::bottom_sag_m>().key, "bottom_sag_m");
  EXPECT_STREQ(scenes::expected_figure("peak_strap_seam")->key, "peak_N_per_m");
  EXPECT_EQ(scenes::expected_figure("bottom_sag_m"), nullptr);
  EXPECT_THROW((void)scenes::figure_of([](const scenes::Findings&) { return 0.0; }),
               std::logic_error);
}

}  // namespace
}  // namespace totebench
