// The bench behind the page in a browser, held against the rooms it is made of: the same numbers,
// the same words, and a sentence where something is wrong.
#include "app/page/bench/bench.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "app/present/findings_json.hpp"
#include "reader_fixture.hpp"
#include "tests/support/source_folder.hpp"
#include "totebench/studies/hang.hpp"

namespace {

using nlohmann::json;

int stages_left = 1'000'000;  // until the host asks for a stop
std::vector<std::string> stages;

json answer(const char* text) { return json::parse(text); }

// A stiff little tote that is solved in a second.
std::string text_of(const char* path) {
  std::ifstream in(totebench::test::source_folder() / path);
  return {std::istreambuf_iterator<char>(in), {}};
}
std::string small_tote() { return text_of("tests/robustness/page_tote.json"); }

class Bench : public testing::Test {
 protected:
  void SetUp() override {
    stages_left = 1'000'000;
    stages.clear();
    const json opened = answer(bench_open(""));
    ASSERT_FALSE(opened.contains("error")) << opened;
  }
};

}  // namespace

extern "C" int bench_progress(const char* stage, double, double) {
  if (stages.empty() || stages.back() != stage) stages.emplace_back(stage);
  return stages_left-- > 0 ? 1 : 0;
}

namespace totebench {
namespace {

TEST_F(Bench, OpensTheLibraryWithEveryKey) {
  const json opened = answer(bench_open(""));
  EXPECT_EQ(opened["materials"].size(), test::library().materials().size());
  EXPECT_EQ(opened["threads"].size(), test::library().threads().size());
  bool width = false;
  for (const json& key : opened["keys"]) {
    if (key["key"] != "bag.width") continue;
    width = true;
    EXPECT_EQ(key["presence"], "required");
    EXPECT_EQ(key["usual"], "6 in to 26 in");
  }
  EXPECT_TRUE(width);
}

TEST_F(Bench, OpensALibraryInMemory) {
  json files = json::array();
  for (const char* name : {"base_sheets", "fabrics", "factors", "interfacings", "rules", "sources",
                           "stabilizers", "stitches", "straps", "threads"}) {
    const std::string file = std::string(name) + ".json";
    files.push_back({{"name", file}, {"text", text_of(("materials/library/" + file).c_str())}});
  }
  const json opened = answer(bench_open(files.dump().c_str()));
  ASSERT_FALSE(opened.contains("error")) << opened["error"];
  EXPECT_EQ(opened["materials"].size(), test::library().materials().size());
  files.erase(5);  // what the numbers come from
  const json broken = answer(bench_open(files.dump().c_str()));
  EXPECT_TRUE(broken.contains("error"));
}

TEST_F(Bench, ChecksInTheWordsOfCheck) {
  const json good = answer(bench_check(test::kTote.c_str(), ""));
  EXPECT_TRUE(good["good"]);
  EXPECT_NE(good["pieces_svg"].get<std::string>().find("<svg"), std::string::npos);
  EXPECT_DOUBLE_EQ(good["front"]["width_m"], 16 * 0.0254);
  EXPECT_EQ(good["layers"].size(), 3u);  // upper, and lower and base which follow from it

  std::string text = test::kTote;
  text.replace(text.find("\"16 in\""), 7, "\"16 inn\"");
  const json bad = answer(bench_check(text.c_str(), ""));
  EXPECT_FALSE(bad["good"]);
  const scenes::ReadResult read = test::read(text);
  ASSERT_EQ(bad["diagnostics"].size(), read.diagnostics.size());
  EXPECT_EQ(bad["diagnostics"][0]["pointer"], "/bag/width");
  EXPECT_EQ(bad["diagnostics"][0]["message"], read.diagnostics[0].message);
  EXPECT_FALSE(answer(bench_check("{\"bag\": ", ""))["good"]);
}

TEST_F(Bench, HangsToTheFindingsOfTheStudy) {
  const std::string text = small_tote();
  const scenes::Scene scene = *test::read(text).scene;
  const studies::HangResult hung =
      studies::hang_tote(scene, scenes::library_of(scene, test::library()), {});
  json expected = json::parse(app::findings_json(scene, hung));
  const json coarse = answer(bench_hang(text.c_str(), "", 1));
  const json fine = answer(bench_hang(text.c_str(), "", 0));
  ASSERT_TRUE(fine["at_rest"]) << fine["told"];
  json found = fine["findings"];
  for (json* one : {&expected, &found}) {
    json& solve = (*one)["solve"];
    for (const char* time : {"seconds", "meshing_s", "stages"}) solve.erase(time);
  }
  EXPECT_EQ(found, expected);
  EXPECT_LT(coarse["findings"]["mesh"]["triangles"], fine["findings"]["mesh"]["triangles"]);
  EXPECT_NEAR(coarse["findings"]["bottom_sag_m"], fine["findings"]["bottom_sag_m"], 2e-3);
  EXPECT_EQ(fine["headlines"][0]["key"], "bottom_sag_m");
  EXPECT_EQ(fine["headlines"][0]["likely"], "");
  const auto hardest_stitch = [](const json& told) {
    for (const json& line : told["headlines"]) {
      if (line["key"] == "peak_stitch_N") return line["found"].get<std::string>();
    }
    return std::string("not told of");
  };
  EXPECT_EQ(hardest_stitch(coarse), "");
  EXPECT_EQ(coarse["sentence"].get<std::string>().find("stitch"), std::string::npos);
  EXPECT_NE(hardest_stitch(fine), "");
  EXPECT_NE(fine["sentence"].get<std::string>().find("stitch"), std::string::npos);
  EXPECT_GE(fine["model"]["steps"].size(), 2u);
  EXPECT_FALSE(fine["cautions"].empty());

  const json stitches = answer(bench_refine("stitches"));
  bool ranged = false;
  for (const json& line : stitches["headlines"]) {
    ranged = ranged || (line["key"] == "peak_stitch_N" && line["likely"] != "");
  }
  EXPECT_TRUE(ranged);
  const json scattered = answer(bench_refine("materials"));
  EXPECT_NE(scattered["headlines"][0]["likely"], "");
  EXPECT_NE(
      scattered["headlines"][0]["hangs_on"].get<std::string>().find("stiffness of the base sheet"),
      std::string::npos)
      << scattered["headlines"][0];
  EXPECT_EQ(scattered["moved_by"], json::array());
  const json circumstances = answer(bench_refine("circumstances"));
  EXPECT_NE(circumstances["moved_most"].get<std::string>().find("The sag is moved most by"),
            std::string::npos);
  EXPECT_EQ(circumstances["moved_by"][0][1], "bottom sag");
  EXPECT_GT(circumstances["moved_by"].size(), 2u);
  EXPECT_TRUE(answer(bench_refine("everything")).contains("error"));
  const json report = answer(bench_report());
  EXPECT_NE(report["html"].get<std::string>().find("<!DOCTYPE html>"), std::string::npos);
  EXPECT_TRUE(test::read(report["resolved"]).scene);
}

TEST_F(Bench, ShowsTheBagPutTogetherBeforeItHangs) {
  const json model = answer(bench_assemble(small_tote().c_str(), ""))["model"];
  ASSERT_EQ(model["steps"].size(), 2u);
  EXPECT_EQ(model["steps"][0]["positions"], model["steps"][1]["positions"]);
  const json hung = answer(bench_hang(small_tote().c_str(), "", 1))["model"];
  EXPECT_EQ(model["triangles"], hung["triangles"]);
  EXPECT_NE(model["steps"][0]["positions"], hung["steps"][0]["positions"]);
  EXPECT_TRUE(answer(bench_assemble(test::kSheet.c_str(), "")).contains("error"));
}

TEST_F(Bench, StopsWhenTheHostSaysSo) {
  stages_left = 3;
  const json stopped = answer(bench_hang(small_tote().c_str(), "", 0));
  EXPECT_TRUE(stopped["stopped"]);
  EXPECT_FALSE(stopped["at_rest"]);
  EXPECT_EQ(stopped["sentence"], "Stopped on request before the empty bag was in equilibrium.");
}

TEST_F(Bench, ComparesBagsAndTellsTheDifference) {
  json second = json::parse(small_tote());
  second["base"] = {{"kind", "none"}};
  const json both = {small_tote(), second.dump()};
  const json found = answer(bench_compare(both.dump().c_str(), ""));
  ASSERT_FALSE(found.contains("error")) << found["error"];
  EXPECT_EQ(found["names"], (json{"page test", "page test (2)"}));
  EXPECT_NE(found["differences"][1].get<std::string>().find("leaving out"), std::string::npos);
  const auto sag = [&](int i) {
    return found["comparison"]["bags"][i]["findings"]["bottom_sag_m"].get<double>();
  };
  EXPECT_GT(sag(1), 2 * sag(0));
  EXPECT_EQ(found["models"].size(), 2u);
  const json lesson = answer(bench_lesson());
  EXPECT_NE(lesson["html"].get<std::string>().find("Bag\u00a0B"), std::string::npos);
  EXPECT_TRUE(answer(bench_compare(json{small_tote()}.dump().c_str(), "")).contains("error"));
}

TEST_F(Bench, PrintsThePatternInPagesOfPaper) {
  const json pattern = answer(bench_pattern(small_tote().c_str(), "", "a4", 1));
  EXPECT_EQ(pattern["width_mm"], 210.0);
  EXPECT_GT(pattern["pages"].size(), 6u);
  EXPECT_NE(pattern["pages"][1].get<std::string>().find("width=\"210mm\" height=\"297mm\""),
            std::string::npos);
  EXPECT_TRUE(answer(bench_pattern(small_tote().c_str(), "", "a0", 1)).contains("error"));
}

TEST_F(Bench, PrintsOnlyWhatARulerDoesNotDraw) {
  EXPECT_EQ(answer(bench_check(small_tote().c_str(), ""))["for_paper"], json::array());
  EXPECT_EQ(answer(bench_pattern(small_tote().c_str(), "", "", 0))["pages"], json::array());
  const std::string rounded = text_of("scenes/examples/rounded-shoulder.json");
  const json for_paper = answer(bench_check(rounded.c_str(), ""))["for_paper"];
  EXPECT_FALSE(for_paper.empty());
  const auto pages = [&](int all) {
    return answer(bench_pattern(rounded.c_str(), "", "", all))["pages"].size();
  };
  EXPECT_GT(pages(0), 1u);
  EXPECT_LT(pages(0), pages(1));
}

TEST_F(Bench, RefusesWithASentence) {
  EXPECT_NE(answer(bench_hang("{}", "", 1))["error"].get<std::string>().find("lacks the key"),
            std::string::npos);
  EXPECT_NE(answer(bench_rate(test::kSheet.c_str(), "", 1))["error"].get<std::string>().find(
                "only a tote can be rated"),
            std::string::npos);
}

}  // namespace
}  // namespace totebench
