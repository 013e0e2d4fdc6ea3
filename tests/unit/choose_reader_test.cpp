// What there is to choose, as read from a scene: builds put together, and faults told at their
// places with a cure. What is kept of a stopped run.
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>

#include "app/studies/choose/solve_text.hpp"
#include "reader_fixture.hpp"
#include "scenes/format/change.hpp"
#include "scenes/format/source_map.hpp"
#include "totebench/studies/choose.hpp"

namespace totebench {
namespace {

using nlohmann::json;
using test::changed;
using test::expect_fault;
using test::kTote;
using test::read;

std::string alternative(const std::string& name, const std::string& change,
                        const std::string& more = "") {
  return "{ \"name\": \"" + name + "\", \"change\": " + change + more + " }";
}

std::string option(const std::string& name, const std::string& alternatives) {
  return "{ \"name\": \"" + name + "\", \"alternatives\": [ " + alternatives + " ] }";
}

std::string with_choice(const std::string& options,
                        const std::string& limits = "\"bottom_sag\": \"10 mm\"",
                        const std::string& aim = "lightest") {
  return changed(kTote, "\"contents\"",
                 "\"choose\": { \"aim\": \"" + aim + "\", \"options\": [ " + options +
                     " ],\n \"limits\": { " + limits + " } },\n  \"contents\"");
}

const std::string kFusible =
    option("fusible", alternative("woven", "{}") + ", " +
                          alternative("none", "{ \"layers\": { \"upper\": { \"2\": null } } }"));
const std::string kCloth =
    option("cloth", alternative("quilting", "{}") + ", " +
                        alternative("duck",
                                    "{ \"layers\": { \"upper\": { \"1\": { \"material\": "
                                    "\"cotton_duck_7oz\" } } } }"));

TEST(Change, NumbersEntriesOfAListAsTheyStandInTheScene) {
  json target = json::parse(R"({ "a": [ { "x": 1, "y": 2 }, { "x": 3 }, { "x": 5 } ], "b": 7 })");
  scenes::apply_change(target, json::parse(R"({ "a": { "1": null, "3": { "x": 6, "z": 8 } } })"));
  EXPECT_EQ(target, json::parse(R"({ "a": [ { "x": 3 }, { "x": 6, "z": 8 } ], "b": 7 })"));
  scenes::apply_change(target,
                       json::parse(R"({ "a": [ 1 ], "b": null, "c": { "d": null, "e": 1 } })"));
  EXPECT_EQ(target, json::parse(R"({ "a": [ 1 ], "c": { "e": 1 } })"));
}

TEST(Change, HasThePlacesOfNumberedEntries) {
  const std::string text =
      "{ \"a\": [ { \"x\": 1 }, { \"x\": 2 }, { \"x\": 3 } ],\n"
      "\"patch\": { \"a\": { \"1\": null, \"3\": { \"x\": 4 } } } }";
  const json root = json::parse(text);
  const scenes::SourceMap map = scenes::SourceMap::of(text).merged(root, root["patch"], {"/patch"});
  EXPECT_EQ(map.value("/a/0/x").line, 1);
  EXPECT_EQ(map.value("/a/1/x").line, 2);
  EXPECT_TRUE(map.contains("/a/1"));
  EXPECT_FALSE(map.contains("/a/2"));
}

TEST(ChooseReader, BuildsHaveOneAlternativeOfEachOption) {
  const scenes::ReadResult result = read(with_choice(kFusible + ", " + kCloth));
  ASSERT_TRUE(result.scene) << scenes::to_text(result.diagnostics);
  ASSERT_TRUE(result.scene->choose);
  ASSERT_TRUE(result.build);
  const scenes::ReadResult both = result.build({1, 1});
  ASSERT_TRUE(both.scene) << scenes::to_text(both.diagnostics);
  ASSERT_EQ(both.scene->layers.at("upper").size(), 1u);
  EXPECT_EQ(both.scene->layers.at("upper")[0].material, "cotton_duck_7oz");
  EXPECT_FALSE(both.scene->choose);
  const scenes::ReadResult first = result.build({0, 0});
  ASSERT_TRUE(first.scene);
  EXPECT_EQ(first.scene->layers, result.scene->layers);
  EXPECT_EQ(studies::build_name(*result.scene->choose, {1, 0}), "fusible none, cloth quilting");
  EXPECT_FALSE(read(kTote).build);
  EXPECT_EQ(scenes::resolved_json(*result.scene).find("choose"), std::string::npos);
}

// Two alternatives can each be good and not go together: the place is that of what clashes.
TEST(ChooseReader, FaultsOfABuildStandInTheFile) {
  const std::string text = with_choice(
      option("size", alternative("as it is", "{}") + ", " +
                         alternative("narrow", "{ \"bag\": { \"width\": \"11 in\" } }")) +
      ", " +
      option("handles", alternative("as they are", "{}") + ",\n" +
                            alternative("apart", "{ \"straps\": { \"spacing\": \"11.5 in\" } }")));
  const scenes::ReadResult result = read(text);
  ASSERT_TRUE(result.build) << scenes::to_text(result.diagnostics);
  EXPECT_TRUE(result.build({1, 0}).scene);
  EXPECT_TRUE(result.build({0, 1}).scene);
  const scenes::ReadResult both = result.build({1, 1});
  ASSERT_FALSE(both.scene);
  ASSERT_EQ(both.diagnostics.size(), 1u);
  const auto before = text.substr(0, text.find("\"11.5 in\""));
  EXPECT_EQ(both.diagnostics[0].line, 1 + std::count(before.begin(), before.end(), '\n'));
  EXPECT_EQ(both.diagnostics[0].column, static_cast<int>(before.size() - before.rfind('\n')));
}

TEST(ChooseReader, FaultsOfAnAlternativeStandInItsChange) {
  const auto one = [](const std::string& change) {
    return with_choice(
        option("x", alternative("as it is", "{}") + ",\n" + alternative("other", change)));
  };
  expect_fault(one("{ \"base\": { \"thicknes\": \"2 mm\" } }"), "unknown key \"thicknes\"",
               "\"thicknes\"", "thickness");
  expect_fault(one("{ \"layers\": { \"upper\": { \"3\": null } } }"), "the list has no entry \"3\"",
               "\"3\": null", "from \"1\" to \"2\"");
  expect_fault(one("{ \"layers\": { \"upper\": { \"two\": null } } }"),
               "the list has no entry \"two\"", "\"two\"", "from \"1\" to \"2\"");
  expect_fault(one("{ \"layers\": { \"upper\": { \"2\": { \"material\": \"unobtanium\" } } } }"),
               "alternative \"other\": unknown material", "\"unobtanium\"", "");
  expect_fault(one("{ \"name\": \"y\" }"), "alternative \"other\" cannot change \"name\"",
               "\"name\": \"y\"", "of its own");
  expect_fault(one("{ \"rating\" : { \"design_factor\": 2 } }"),
               "alternative \"other\" changes \"rating\", which is no part of the bag",
               "\"rating\" :", "in the scene");
  expect_fault(one("{ \"straps\": { \"width\": \"1 inn\" } }"), "alternative \"other\": width",
               "\"1 inn\"", "");
}

TEST(ChooseReader, WhatIsNoChoiceIsRefused) {
  const std::string as_it_is = alternative("as it is", "{}");
  expect_fault(with_choice(""), "\"options\" is empty", "[  ]", "at least one option");
  expect_fault(with_choice(option("x", "")), "\"alternatives\" is empty", "[  ] }",
               "at least one alternative");
  expect_fault(with_choice(option("x", as_it_is)), "only one build", "[ { \"name\": \"x\"",
               "second alternative");
  expect_fault(with_choice(kFusible + ", " + option("fusible", as_it_is)),
               "\"fusible\" is taken already", "\"fusible\", \"alternatives\": [ { \"name\": \"as",
               "name of its own");
  expect_fault(with_choice(option("x", as_it_is + ", " + alternative("as it is", "{ }"))),
               "\"as it is\" is taken already", "\"as it is\", \"change\": { }", "name of its own");
  expect_fault(with_choice(option("", as_it_is + ", " + alternative("b", "{}"))),
               "the name is empty", "\"\", \"alternatives\"", "few words");
  expect_fault(with_choice(option("  ", as_it_is + ", " + alternative("b", "{}"))),
               "the name is empty", "\"  \", \"alternatives\"", "few words");
  expect_fault(with_choice(option("x", as_it_is + ", " + alternative("b\\nc", "{}"))),
               "has a line break", "\"b\\nc\", \"change\"", "in one line");
  expect_fault(with_choice(kFusible, ""), "no limit is given", "{  }", "bottom_sag");
  expect_fault(with_choice(kFusible, "\"bottom_sag\": \"10\""), "bottom_sag", "\"10\"", "");
  const scenes::ReadResult unread = read(with_choice(kFusible, "\"bottom_sag\": \"10\""));
  EXPECT_EQ(scenes::to_text(unread.diagnostics).find("no limit is given"), std::string::npos)
      << "a limit that cannot be read was given";
  expect_fault(with_choice(kFusible, "\"carry\": \"10 kg\""), "unknown key \"carry\"", "\"carry\"",
               "carries");
  expect_fault(with_choice(kFusible, "\"carries\": \"5 kg\"", "cheap"), "aim cannot be \"cheap\"",
               "\"cheap\"", "cheapest");
}

TEST(ChooseReader, PricesAreWholeAndNotBelowNothing) {
  const std::string priced = alternative("a", "{}", ", \"price\": 2");
  const auto two = [&](const std::string& other) { return option("x", priced + ",\n" + other); };
  const std::string limit = "\"bottom_sag\": \"10 mm\"";
  expect_fault(with_choice(two(alternative("b", "{}", ", \"price\": -1"))), "price = -1", "-1",
               "0 or more");
  const std::string bare = two(alternative("b", "{}"));
  expect_fault(with_choice(bare, limit, "cheapest"), "\"b\" of \"x\" has no price",
               "{ \"name\": \"b\"", "0 is a price");
  expect_fault(with_choice(bare, "\"price\": 3"), "\"b\" of \"x\" has no price",
               "{ \"name\": \"b\"", "0 is a price");
  EXPECT_TRUE(read(with_choice(bare, limit)).scene) << "prices may be missing where none is asked";
  EXPECT_TRUE(
      read(with_choice(two(alternative("b", "{}", ", \"price\": 0")), limit, "cheapest")).scene);
}

TEST(ChooseReader, OptionsThatUndoEachOtherAreRefused) {
  const std::string whole =
      option("walls",
             alternative("bare",
                         "{ \"layers\": { \"upper\": [ { \"material\": \"osnaburg_spec\" } ] } }"));
  expect_fault(with_choice(kFusible + ",\n" + whole),
               "\"fusible\" and \"walls\" both change layers.upper",
               "\"upper\": [ { \"material\": \"osna", "by their numbers");
  expect_fault(with_choice(kFusible + ",\n" +
                           option("again", alternative("out",
                                                       "{ \"layers\": { \"upper\": { \"2\" : "
                                                       "null } } }"))),
               "both change layers.upper.2", "\"2\" :", "one option");
}

TEST(ChooseReader, TooManyBuildsAreRefused) {
  std::string options;
  for (int i = 0; i < 9; ++i) {
    options +=
        (i > 0 ? ",\n" : "") +
        option("o" + std::to_string(i), alternative("a", "{}") + ", " + alternative("b", "{}"));
  }
  expect_fault(with_choice(options), "512 builds", "[ { \"name\": \"o0\"", "500");
}

TEST(ChooseReader, LimitsOfTheLoadAreSharesOfStrength) {
  scenes::ChooseLimits limits;
  limits.carries_kg = 5;
  limits.bottom_sag_m = 0.01;
  const studies::Figures figures = studies::figure_limits(limits);
  EXPECT_EQ(figures[studies::kFigureDropsUse], 1);
  EXPECT_EQ(figures[studies::kFigureSpoilsUse], 1);
  EXPECT_EQ(figures[studies::kFigureSag], 0.01);
  EXPECT_TRUE(std::isinf(figures[studies::kFigureMass]));
  EXPECT_TRUE(std::isinf(figures[studies::kFigurePrice]));
}

TEST(ChooseSolves, AreReadBackToTheLastBitAndACutTextIsNot) {
  const double none = std::numeric_limits<double>::quiet_NaN();
  const studies::BuildSolve solve{
      {0.1 + 0.2, 1.0 / 3, none, 0.9, 1e-17, 0.4, none, none}, "strap_fastening", ""};
  const std::string text = studies::solve_text(solve);
  EXPECT_FALSE(studies::solve_of(text.substr(0, text.rfind(' '))));
  const std::optional<studies::BuildSolve> back = studies::solve_of(text);
  ASSERT_TRUE(back);
  for (std::size_t f = 0; f < studies::kChooseFigures.size(); ++f) {
    if (std::isnan(solve.figures[f])) {
      EXPECT_TRUE(std::isnan(back->figures[f])) << f;
    } else {
      EXPECT_EQ(back->figures[f], solve.figures[f]) << f;
    }
  }
  EXPECT_EQ(back->drops_by, "strap_fastening");
  EXPECT_EQ(back->spoils_by, "");
}

TEST(ChooseSolves, BelongToTheSceneTheLoadAndTheMesh) {
  const scenes::ReadResult result = read(with_choice(kFusible));
  ASSERT_TRUE(result.scene);
  studies::ChooseBuild build;
  build.scene = *result.build({0}).scene;
  studies::ChooseBuild other;
  other.scene = *result.build({1}).scene;
  const studies::RequiredLoad load{5, 5, 2};
  const std::string key = studies::solve_key(build, test::library(), load, 0);
  EXPECT_EQ(key, studies::solve_key(build, test::library(), load, 0));
  EXPECT_NE(key, studies::solve_key(other, test::library(), load, 0));
  EXPECT_NE(key, studies::solve_key(build, test::library(), load, 1));
  EXPECT_NE(key, studies::solve_key(build, test::library(), {5.5, 5, 2}, 0));
  EXPECT_NE(key, studies::solve_key(build, test::library(), {5, 6, 2}, 0));
}

}  // namespace
}  // namespace totebench
