// Variants of a scene: what a merge patch makes of it, and where faults in a patch are reported.
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "reader_fixture.hpp"
#include "scenes/format/source_map.hpp"

namespace totebench {
namespace {

using nlohmann::json;
using test::changed;
using test::expect_fault;
using test::kSheet;
using test::kTote;
using test::read;

// The good tote with a list of variants.
std::string with_variants(const std::string& list) {
  return changed(kTote, "\"contents\"", "\"variants\": [\n" + list + "\n  ],\n  \"contents\"");
}

std::string variant(const std::string& name, const std::string& change) {
  return "    { \"name\": \"" + name + "\", \"change\": " + change + " }";
}

TEST(Variants, AListIsReplacedAsAWholeAndTheRestIsKept) {
  const scenes::ReadResult result = read(with_variants(
      variant("bare", "{ \"layers\": { \"upper\": [ { \"material\": \"osnaburg_spec\" } ] } }") +
      ",\n" + variant("heavier", "{ \"contents\": { \"mass\": \"12 kg\" } }")));
  ASSERT_TRUE(result.scene) << scenes::to_text(result.diagnostics);
  ASSERT_EQ(result.variants.size(), 2u);
  EXPECT_EQ(result.variants[0].name, "bare");
  ASSERT_EQ(result.variants[0].layers.at("upper").size(), 1u);
  EXPECT_EQ(result.variants[0].layers.at("upper")[0].material, "osnaburg_spec");
  EXPECT_EQ(result.variants[0].layers.at("base").size(), 1u) << "derived anew";
  EXPECT_EQ(result.variants[0].straps, result.scene->straps);
  EXPECT_EQ(result.variants[0].contents, result.scene->contents);
  EXPECT_DOUBLE_EQ(result.variants[1].contents.mass_kg, 12);
  EXPECT_EQ(result.variants[1].layers, result.scene->layers);
  EXPECT_DOUBLE_EQ(result.scene->contents.mass_kg, 8) << "the scene itself is untouched";
}

TEST(Variants, NullTakesAKeyOutAndBringsTheDefaultBack) {
  const std::string seams =
      "\"seams\": { \"stitch_length\": \"4 mm\" },\n  \"contents\": { \"kind\"";
  const scenes::ReadResult plain = read(kTote);
  const scenes::ReadResult result =
      read(changed(with_variants(variant("usual seams", "{ \"seams\": null }")),
                   "\"contents\": { \"kind\"", seams));
  ASSERT_TRUE(result.scene) << scenes::to_text(result.diagnostics);
  EXPECT_DOUBLE_EQ(result.scene->seams.stitch_length_m, 0.004);
  EXPECT_EQ(result.variants.at(0).seams, plain.scene->seams);
  EXPECT_NE(result.scene->seams, plain.scene->seams);
}

TEST(Variants, TheScenesOwnExpectationsAreNotHandedDown) {
  const std::string expect =
      "\"expect\": { \"bottom_sag\": [\"1 mm\", \"2 mm\"] },\n  \"contents\"";
  const scenes::ReadResult result =
      read(changed(with_variants(variant("heavier", "{ \"contents\": { \"mass\": \"12 kg\" } }")),
                   "\"contents\": { \"kind\"", expect + ": { \"kind\""));
  ASSERT_TRUE(result.scene) << scenes::to_text(result.diagnostics);
  EXPECT_EQ(result.scene->expect.size(), 1u);
  EXPECT_TRUE(result.variants.at(0).expect.empty());
}

TEST(Variants, AResolvedSceneIsOneBagAlone) {
  const scenes::ReadResult first =
      read(with_variants(variant("deeper", "{ \"bag\": { \"depth\": \"7 in\" } }")));
  ASSERT_TRUE(first.scene) << scenes::to_text(first.diagnostics);
  ASSERT_EQ(first.scene->variants.size(), 1u);
  const scenes::ReadResult second = read(scenes::resolved_json(*first.scene));
  ASSERT_TRUE(second.scene) << scenes::to_text(second.diagnostics);
  EXPECT_TRUE(second.scene->variants.empty());
  const scenes::ReadResult variant_again = read(scenes::resolved_json(first.variants.at(0)));
  ASSERT_TRUE(variant_again.scene) << scenes::to_text(variant_again.diagnostics);
  EXPECT_EQ(variant_again.scene->bag, first.variants[0].bag);
  EXPECT_EQ(variant_again.scene->layers, first.variants[0].layers);
  EXPECT_EQ(variant_again.scene->straps, first.variants[0].straps);
}

TEST(Variants, FaultsStandWhereThePatchIs) {
  expect_fault(with_variants(variant("x", "{ \"bag\": { \"width\": \"16 inn\" } }")),
               "variant \"x\": ", "\"16 inn\"", "");
  expect_fault(with_variants(variant("x", "{ \"bag\": { \"hight\": \"16 in\" } }")),
               "unknown key \"hight\"", "\"hight\"", "height");
  expect_fault(with_variants(variant("x",
                                     "{ \"layers\": { \"upper\": [ { \"material\": "
                                     "\"quilting_cotton\" }, { \"material\": "
                                     "\"unobtanium\", \"join\": \"fused\" } ] } }")),
               "unobtanium", "\"unobtanium\"", "");
  // A new object in the patch lacks a key that the scene never had.
  expect_fault(with_variants(variant("x", "{ \"base\": { \"kind\": \"stitched in\" } }")),
               "lacks the key \"material\"", "{ \"kind\": \"stitched in\"", "material");
}

TEST(Variants, WhatOnlyTheMixtureBreaksIsReported) {
  // Neither the scene nor the patch is wrong alone: a 40 in deep bag needs more than 16 in width.
  const std::string text = with_variants(variant("x", "{ \"straps\": { \"width\": \"12 in\" } }"));
  const scenes::ReadResult result = read(text);
  EXPECT_FALSE(result.scene);
  ASSERT_TRUE(scenes::has_errors(result.diagnostics));
  for (const scenes::Diagnostic& d : result.diagnostics) {
    EXPECT_NE(d.message.find("variant \"x\""), std::string::npos) << scenes::to_text(d);
  }
}

TEST(Variants, AFaultOfTheSceneIsToldOnce) {
  const std::string text =
      changed(with_variants(variant("x", "{ \"contents\": { \"mass\": \"12 kg\" } }") + ",\n" +
                            variant("y", "{ \"contents\": { \"mass\": \"13 kg\" } }")),
              "\"16 in\"", "\"16 inn\"");
  const scenes::ReadResult result = read(text);
  EXPECT_EQ(count(result.diagnostics, scenes::Severity::kError), 1)
      << scenes::to_text(result.diagnostics);
}

TEST(Variants, WhatCannotBeAVariantIsRefused) {
  expect_fault(with_variants(variant("x", "{ \"kind\": \"sheet\" }")), "cannot change \"kind\"",
               "\"kind\": \"sheet\"", "of its own");
  expect_fault(with_variants(variant("x", "{ \"variants\": [] }")), "cannot change \"variants\"",
               "\"variants\": []", "of its own");
  expect_fault(with_variants(variant("x", "{ \"bag\": { \"depht\": null } }")),
               "no \"depht\" here to take out", "\"depht\"", "depth");
  expect_fault(with_variants(variant("x", "{ \"base\": null }")), "no \"base\" here to take out",
               "\"base\"", "");
  expect_fault(with_variants(variant("trial", "{ \"bag\": { \"depth\": \"7 in\" } }")),
               "\"trial\" is taken already", "\"trial\", \"change\"", "a name of its own");
  expect_fault(with_variants(variant("", "{ \"bag\": { \"depth\": \"7 in\" } }")),
               "the name is empty", "\"\", \"change\"", "what is different");
  expect_fault(with_variants("{ \"name\": \"x\", \"change\": [] }"),
               "\"change\" should be an object", "[] }", "");
  expect_fault(with_variants("{ \"name\": \"x\" }"), "lacks the key \"change\"",
               "{ \"name\": \"x\" }", "change");
  expect_fault(with_variants(variant("x", "{ \"bag\": { \"depth\": \"6 in\" } }")),
               "changes nothing", "{ \"bag\": { \"depth\": \"6 in\" } }", "",
               scenes::Severity::kWarning);
  expect_fault(changed(kSheet, "\"probes\"",
                       "\"variants\": [ { \"name\": \"x\", \"change\": {} } "
                       "],\n  \"probes\""),
               "\"variants\" has no meaning when kind is \"sheet\"", "\"variants\"", "");
}

TEST(Variants, TooManyAreRefusedAtOnce) {
  std::string list;
  for (int i = 0; i < 12; ++i) {
    list += (i > 0 ? ",\n" : "") +
            variant("v" + std::to_string(i), "{ \"bag\": { \"depth\": \"7 in\" } }");
  }
  expect_fault(with_variants(list), "12 variants are more than fit", "[\n    { \"name\": \"v0\"",
               "11");
}

// Every pointer of a merged text must have a place, and none that was taken out or replaced may
// keep its old one. Cases of RFC 7396, appendix A, whose targets are objects.
TEST(SourceMapMerged, HasThePlacesOfTheMergedText) {
  const char* const cases[][2] = {{R"({"a":"b"})", R"({"a":"c"})"},
                                  {R"({"a":"b"})", R"({"b":"c"})"},
                                  {R"({"a":"b"})", R"({"a":null})"},
                                  {R"({"a":"b","b":"c"})", R"({"a":null})"},
                                  {R"({"a":["b"]})", R"({"a":"c"})"},
                                  {R"({"a":"c"})", R"({"a":["b"]})"},
                                  {R"({"a":{"b":"c"}})", R"({"a":{"b":"d","c":null}})"},
                                  {R"({"a":[{"b":"c"}]})", R"({"a":[1]})"},
                                  {R"({"e":null})", R"({"a":1})"},
                                  {R"({"a":[{"b":"c"},{"b":"d"}]})", R"({"a":[{"c":"e"}]})"}};
  for (const auto& one : cases) {
    // The whole text is the target, so that both stand in one text.
    std::string spread = one[0];
    spread.insert(spread.size() - 1, std::string(",\"patch\":") + one[1]);
    const json root = json::parse(spread);
    json merged = root;
    merged.merge_patch(root.at("patch"));
    const scenes::SourceMap map =
        scenes::SourceMap::of(spread).merged(root, root["patch"], {"/patch"});
    const json flat = merged.flatten();
    for (const auto& item : flat.items()) {
      EXPECT_TRUE(map.contains(item.key())) << item.key() << " of " << spread;
    }
    const json before = root.flatten();
    for (const auto& item : before.items()) {
      if (merged.contains(json::json_pointer(item.key()))) continue;
      EXPECT_FALSE(map.contains(item.key())) << item.key() << " of " << spread;
    }
    const auto patch_at = spread.find("\"patch\"");
    for (const auto& item : root.at("patch").items()) {
      if (item.value().is_null()) continue;
      EXPECT_GT(map.key("/" + item.key()).column, static_cast<int>(patch_at)) << spread;
    }
  }
}

}  // namespace
}  // namespace totebench
