// Tables of what is written: what a file holds, what its schema says, and that the checked-in
// schemas are those of the tables.
#include "app/present/fields/fields.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <set>
#include <sstream>

#include "app/present/fields/schemas.hpp"
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

TEST(ResultSchemas, AreThoseOfTheTables) {
  for (const app::ResultSchema& schema : app::kResultSchemas) {
    const std::string file = std::string("scenes/") + schema.name + ".schema.json";
    std::ostringstream text;
    text << std::ifstream(TOTEBENCH_SOURCE_DIR "/" + file).rdbuf();
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
