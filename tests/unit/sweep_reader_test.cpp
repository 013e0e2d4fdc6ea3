// What there is to sweep over, as read from a scene: the bags of each design, and faults told at
// their places with a cure.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <set>

#include "reader_fixture.hpp"

namespace totebench {
namespace {

using test::changed;
using test::expect_fault;
using test::kTote;
using test::read;

std::string with_sweep(const std::string& factors, const std::string& more = "") {
  return changed(kTote, "\"contents\"",
                 "\"sweep\": { \"factors\": [ " + factors + " ]" + more + " },\n  \"contents\"");
}

std::string factor(const std::string& key, const std::string& values) {
  return "{ \"key\": \"" + key + "\", " + values + " }";
}

const std::string kMass = factor("contents.mass", R"("levels": ["4 kg", "8 kg"])");
const std::string kStitch =
    factor("seams.stitch_length", R"("levels": ["2 mm", "2.5 mm", "1/8 in"])");
const std::string kFusible = factor(
    "layers.upper.2.material", R"("levels": ["fusible_woven_light", "fusible_nonwoven_medium"])");
const std::string kLatin = R"(, "design": "latin hypercube", "bags": )";

TEST(SweepReader, AFullFactorialPutsEachLevelInItsPlace) {
  const scenes::ReadResult result = read(with_sweep(kMass + ", " + kStitch + ", " + kFusible));
  ASSERT_TRUE(result.scene) << scenes::to_text(result.diagnostics);
  const scenes::ReadSweep& sweep = result.sweep;
  ASSERT_EQ(sweep.n_bags, 12u);
  ASSERT_EQ(sweep.factors.size(), 3u);
  EXPECT_EQ(sweep.factors[0].key, "contents.mass");
  EXPECT_EQ(sweep.factors[0].dimension, scenes::Dimension::kMass);
  EXPECT_TRUE(sweep.factors[1].number);
  EXPECT_FALSE(sweep.factors[2].number);
  const auto values = sweep.values(9);  // second mass, second stitch, second fusible
  EXPECT_EQ(values[0].text, "8 kg");
  EXPECT_EQ(values[0].number, 8);
  EXPECT_EQ(values[1].number, 0.0025);
  EXPECT_EQ(values[2].text, "fusible_nonwoven_medium");
  EXPECT_TRUE(std::isnan(values[2].number));
  const scenes::ReadResult bag = sweep.read(9);
  ASSERT_TRUE(bag.scene) << scenes::to_text(bag.diagnostics);
  EXPECT_EQ(bag.scene->contents.mass_kg, 8);
  EXPECT_EQ(bag.scene->seams.stitch_length_m, 0.0025);
  EXPECT_EQ(bag.scene->layers.at("upper")[1].material, "fusible_nonwoven_medium");
  EXPECT_EQ(bag.scene->layers.at("upper")[0].material, "quilting_cotton");
  EXPECT_EQ(bag.scene->name, result.scene->name) << "a bag is known by what it is, not by a number";
  EXPECT_FALSE(bag.scene->sweep);
  EXPECT_EQ(scenes::resolved_json(*result.scene).find("sweep"), std::string::npos);
  EXPECT_EQ(read(kTote).sweep.n_bags, 0u);
}

TEST(SweepReader, ALatinHypercubeHangsEachPartOfARangeOnceAndEachLevelAsOften) {
  const std::string range = factor("contents.mass", R"("from": "4 kg", "to": "8 kg")");
  const std::string whole = factor("solve.load_steps", R"("from": 2, "to": 5)");
  const std::string text = with_sweep(range + ", " + kFusible + ", " + whole, kLatin + "10");
  const scenes::ReadSweep sweep = read(text).sweep;
  ASSERT_EQ(sweep.n_bags, 10u);
  std::set<int> parts;
  std::map<std::string, int> used, steps;
  for (std::size_t i = 0; i < 10; ++i) {
    const auto values = sweep.values(i);
    ASSERT_GE(values[0].number, 4);
    ASSERT_LT(values[0].number, 8);
    parts.insert(static_cast<int>((values[0].number - 4) / 0.4));
    ++used[values[1].text];
    ++steps[values[2].text];
    const scenes::ReadResult bag = sweep.read(i);
    ASSERT_TRUE(bag.scene) << scenes::to_text(bag.diagnostics);
    EXPECT_EQ(bag.scene->contents.mass_kg, values[0].number) << "told one, hung another";
    EXPECT_EQ(std::to_string(bag.scene->solve.load_steps), values[2].text);
  }
  EXPECT_EQ(parts.size(), 10u);
  EXPECT_EQ(used["fusible_woven_light"], 5);
  EXPECT_EQ(used["fusible_nonwoven_medium"], 5);
  EXPECT_EQ(steps.size(), 4u);
  EXPECT_TRUE(steps.count("2") == 1 && steps.count("5") == 1);
  const scenes::ReadSweep again = read(text).sweep;
  const scenes::ReadSweep other = read(changed(text, "\"bags\"", "\"seed\": 7, \"bags\"")).sweep;
  bool same = true;
  for (std::size_t i = 0; i < 10; ++i) {
    EXPECT_EQ(sweep.values(i)[0].number, again.values(i)[0].number);
    same = same && sweep.values(i)[0].number == other.values(i)[0].number;
  }
  EXPECT_FALSE(same) << "another seed draws the same bags";
}

TEST(SweepReader, LevelsThatDoNotDivideTheBagsDifferByOneAtMost) {
  const std::string three =
      factor("seams.stitch_length", R"("levels": ["2 mm", "2.5 mm", "3 mm"])");
  const std::string range = factor("contents.mass", R"("from": "4 kg", "to": "8 kg")");
  const std::string both = three + ", " + range;
  for (const int n : {3, 4, 5, 7, 11}) {
    const scenes::ReadSweep sweep = read(with_sweep(both, kLatin + std::to_string(n))).sweep;
    ASSERT_EQ(sweep.n_bags, static_cast<std::size_t>(n));
    std::map<std::string, int> used;
    for (std::size_t i = 0; i < sweep.n_bags; ++i) ++used[sweep.values(i)[0].text];
    ASSERT_EQ(used.size(), 3u) << n;
    for (const auto& [level, times] : used) {
      EXPECT_TRUE(times == n / 3 || times == n / 3 + 1) << n << ": " << level << " " << times;
    }
  }
}

// Two values can each be good and not go together: that is a bag that cannot be made, not a fault.
TEST(SweepReader, WhatDoesNotGoTogetherIsToldOfItsBag) {
  const std::string text =
      with_sweep(factor("bag.width", R"("levels": ["16 in", "11 in"])") + ",\n" +
                 factor("straps.spacing", R"("levels": ["6 in", "11.5 in"])"));
  const scenes::ReadResult result = read(text);
  ASSERT_EQ(result.sweep.n_bags, 4u) << scenes::to_text(result.diagnostics);
  EXPECT_TRUE(result.sweep.read(1).scene);
  EXPECT_TRUE(result.sweep.read(2).scene);
  const scenes::ReadResult both = result.sweep.read(3);
  ASSERT_FALSE(both.scene);
  ASSERT_EQ(both.diagnostics.size(), 1u);
  const scenes::Place place = scenes::place_of_byte(text, text.find("\"11.5 in\""));
  EXPECT_EQ(both.diagnostics[0].line, place.line);
  EXPECT_EQ(both.diagnostics[0].column, place.column);
}

TEST(SweepReader, KeysThatAreNoneOrHoldOthersAreRefused) {
  const auto fault = [](const std::string& key, const std::string& message,
                        const std::string& cure) {
    expect_fault(with_sweep(factor(key, R"("levels": [ 1, 2 ])")), message,
                 "\"" + key + "\", \"levels\"", cure);
  };
  fault("contents.mas", "unknown key \"mas\" in \"contents\"", "did you mean \"contents.mass\"?");
  fault("contants.mass", "unknown key \"contants\" in the scene", "did you mean \"contents\"?");
  fault("contents", "\"contents\" holds keys of its own", "as in \"contents.kind\"");
  fault("layers.upper", "\"layers.upper\" holds keys of its own", "\"layers.upper.1.material\"");
  fault("layers.upper.2", "\"layers.upper.2\" holds keys of its own",
        "\"layers.upper.2.material\"");
  fault("layers.upper.3.material", "\"layers.upper\" has no entry \"3\"", "from 1 to 2");
  fault("layers.upper.0.material", "\"layers.upper\" has no entry \"0\"", "from 1 to 2");
  fault("layers.upper.x.material", "\"layers.upper\" has no entry \"x\"", "from 1 to 2");
  fault("layers.lower.1.material", "\"layers.lower\" has no entry \"1\"", "in the scene first");
  fault("materials.mine.thickness", "\"materials\" has no \"mine\"", "name one that it has");
  fault("contents.mass.kg", "\"contents.mass\" has no keys of its own", "leave out");
  fault("name", "\"name\" is not for a sweep to vary", "what it carries");
  fault("sweep.bags", "\"sweep\" is not for a sweep to vary", "what it carries");
  fault("", "unknown key \"\" in the scene", "totebench explain");
}

TEST(SweepReader, ValuesThatAreNoneAreRefused) {
  const auto fault = [](const std::string& values, const std::string& message,
                        const std::string& at, const std::string& cure,
                        const std::string& more = "") {
    expect_fault(with_sweep(factor("contents.mass", values), more), message, at, cure);
  };
  fault(R"("levels": [])", "\"contents.mass\" has no levels", "[]", "list its values");
  fault(R"("levels": ["4 kg", "4 kgs"])", "contents.mass = 4 kgs: mass", "\"4 kgs\"", "");
  fault(R"("levels": ["4 kg", "8 kg", "4000 g"])", "has the level 4000 g twice", "\"4000 g\"",
        "leave one out");
  fault(R"("levels": ["4 kg", null])", "a level of \"contents.mass\" is a single value", "null",
        "as in the scene itself");
  fault(R"("levels": ["4 kg"], "from": "4 kg")", "has levels and a range", "[\"4 kg\"]",
        "leave out one");
  fault(R"("from": "4 kg")", "lacks the end of its range", "{ \"key\": \"contents", "add \"to\"");
  fault(R"("note": 1)", "lacks its values", "{ \"key\": \"contents", "add \"levels\"");
  fault(R"("from": "4 kg", "to": "8 kg")", "a full factorial has no use for the range",
        "\"4 kg\", \"to\"", "latin hypercube");
  fault(R"("from": "8 kg", "to": "4 kg")", "ends at 4 kg, not above where it begins, 8 kg",
        "\"4 kg\" }", "let it rise", kLatin + "4");
  fault(R"("from": "8 kg", "to": "9 stone")", "contents.mass = 9 stone", "\"9 stone\"", "",
        kLatin + "4");
  expect_fault(
      with_sweep(factor("straps.style", R"("from": "two handles", "to": "x")"), kLatin + "4"),
      "a range is of numbers, and \"straps.style\" is none", "\"two handles\", \"to\"",
      "list its levels");
  expect_fault(with_sweep(kMass + ", " + factor("contents.mass", R"("levels": ["3 kg"])")),
               "\"contents.mass\" is a factor already", "\"contents.mass\", \"levels\": [\"3",
               "in one place");
  expect_fault(with_sweep(kFusible + ",\n" + factor("straps.material", R"("levels": ["webb"])")),
               "straps.material = webb: unknown material", "\"webb\"", "");
  expect_fault(with_sweep(""), "\"factors\" is empty", "[  ]", "at least one factor");
}

TEST(SweepReader, NumbersOfBagsThatAreNotMeantAreRefused) {
  std::string many;
  for (int i = 0; i < 30; ++i)
    many += (i > 0 ? ", " : "") + std::string("\"") + std::to_string(30 + i) + " in\"";
  const std::string two =
      factor("straps.length", "\"levels\": [" + many + "]") + ",\n" +
      factor("contents.mass",
             R"("levels": ["1 kg", "2 kg", "3 kg", "4 kg", "5 kg", "6 kg", "7 kg"])");
  expect_fault(with_sweep(two), "these levels make 210 bags", "[ { \"key\"", "\"bags\": 210");
  EXPECT_EQ(read(with_sweep(two, ", \"bags\": 210")).sweep.n_bags, 210u);
  expect_fault(with_sweep(two, ", \"bags\": 200"), "make 210 bags, not 200", "200", "say 210");
  expect_fault(with_sweep(factor("contents.mass", R"("levels": ["3 kg"])")), "this is only one bag",
               "[ { \"key\"", "a second level");
  expect_fault(with_sweep(kStitch, R"(, "design": "latin hypercube")"),
               "does not say how many bags", "{ \"factors\"", "\"bags\": 40");
  expect_fault(with_sweep(kStitch, kLatin + "2"), "2 bags cannot have all 3 levels", "2 }",
               "3 or more");
  expect_fault(with_sweep(kStitch, kLatin + "2000000"), "bags = 2000000", "2000000", "");
}

TEST(SweepReader, ASheetHasNone) {
  expect_fault(changed(test::kSheet, "\"supports\"",
                       "\"sweep\": { \"factors\": [ " +
                           factor("sheet.width", R"("levels": ["20 mm", "30 mm"])") +
                           " ] },\n  \"supports\""),
               "\"sweep\" has no meaning when kind is \"sheet\"", "\"sweep\"", "take it out");
}

}  // namespace
}  // namespace totebench
