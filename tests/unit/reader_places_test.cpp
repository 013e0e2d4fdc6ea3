// Places in a text, and the nearest known name.
#include <gtest/gtest.h>

#include "scenes/format/json_text.hpp"
#include "scenes/format/source_map.hpp"
#include "totebench/scenes/nearest.hpp"

namespace totebench {
namespace {

void expect_place(const scenes::Place& place, int line, int column) {
  EXPECT_EQ(place.line, line);
  EXPECT_EQ(place.column, column);
}

TEST(SourceMap, KeysAndValuesCountedByHand) {
  const scenes::SourceMap map = scenes::SourceMap::of(
      "{ \"a\": 1,\n"                                // 1
      "  \"b\": { \"c\" : [10, {\"d\": null}] },\n"  // 2
      "  \"e/f~g\": \"x\\\"y\" }");                  // 3
  expect_place(map.value(""), 1, 1);
  expect_place(map.key("/a"), 1, 3);
  expect_place(map.value("/a"), 1, 8);
  expect_place(map.key("/b/c"), 2, 10);
  expect_place(map.value("/b/c"), 2, 16);
  expect_place(map.value("/b/c/0"), 2, 17);
  expect_place(map.value("/b/c/1/d"), 2, 27);
  expect_place(map.key("/e~1f~0g"), 3, 3);
  expect_place(map.value("/e~1f~0g"), 3, 12);
}

TEST(SourceMap, ColumnsCountCharactersNotBytes) {
  const scenes::SourceMap map = scenes::SourceMap::of("{\"n\": \"Füße ½\", \"k\": 2}");
  expect_place(map.key("/k"), 1, 17);
}

TEST(SourceMap, WhatIsMissingIsPlacedAtTheObjectItIsMissingFrom) {
  const scenes::SourceMap map = scenes::SourceMap::of("{\n  \"bag\": {\"width\": 1}\n}");
  expect_place(map.value("/bag/height"), 2, 3);
  EXPECT_FALSE(map.contains("/bag/height"));
  EXPECT_TRUE(map.contains("/bag/width"));
}

TEST(SourceMap, RepeatedKeysAreFoundAtAnyDepth) {
  const scenes::SourceMap map = scenes::SourceMap::of("{\"a\": [{\"b\": 1,\n \"b\": 2}]}");
  ASSERT_EQ(map.duplicates().size(), 1u);
  EXPECT_EQ(map.duplicates()[0].pointer, "/a/0/b");
  expect_place(map.duplicates()[0].first, 1, 9);
  expect_place(map.duplicates()[0].again, 2, 2);
}

TEST(SourceMap, WindowsLineEndsAndByteOrderMark) {
  const scenes::SourceMap map = scenes::SourceMap::of("\xEF\xBB\xBF{\r\n\"a\": 1,\r\n \"b\": 2}");
  expect_place(map.value(""), 1, 1);
  expect_place(map.key("/b"), 3, 2);
}

TEST(Comments, AreTakenOutAndPlacesStay) {
  const std::string text = scenes::without_comments(
      "{ // the bag: \"größer\"\n"
      "  \"a\": /* two\n lines */ 1, /* ü */ \"b\": \"http://x /* y */ \\\" // z\" }");
  EXPECT_EQ(text,
            "{                     \n"
            "  \"a\":       \n          1,         \"b\": \"http://x /* y */ \\\" // z\" }");
  expect_place(scenes::SourceMap::of(text).key("/b"), 3, 22);
}

TEST(Comments, OneLeftOpenStaysForTheParserToRefuse) {
  EXPECT_EQ(scenes::without_comments("{ /* never closed }"), "{ /* never closed }");
}

TEST(NestingDepth, BracketsInTextsDoNotCount) {
  EXPECT_EQ(scenes::nesting_depth("{\"[[[[\\\"[\": [1]}", 64), 2);
  EXPECT_GT(scenes::nesting_depth(std::string(1000000, '['), 64), 64);
}

TEST(Nearest, SlipsOfTheKeyboard) {
  const std::vector<std::string> known = {"width", "height", "depth", "stabilizer_nonwoven_1mm"};
  EXPECT_EQ(scenes::nearest("hieght", known), "height");
  EXPECT_EQ(scenes::nearest("Width", known), "width");
  EXPECT_EQ(scenes::nearest("dept", known), "depth");
  EXPECT_EQ(scenes::nearest("stabilizer", known), "stabilizer_nonwoven_1mm");
  EXPECT_EQ(scenes::nearest("stabiliser-nonwoven 1mm", known), "stabilizer_nonwoven_1mm");
  EXPECT_EQ(scenes::nearest("colour", known), "");
  EXPECT_EQ(scenes::nearest("", known), "");
  EXPECT_EQ(scenes::nearest(std::string(100000, 'w'), known), "");
}

TEST(Nearest, EditDistanceIsKnownForTextbookPairs) {
  EXPECT_EQ(scenes::edit_distance("kitten", "sitting"), 3);
  EXPECT_EQ(scenes::edit_distance("ab", "ba"), 1);  // one swap of neighbours
  EXPECT_EQ(scenes::edit_distance("", "abc"), 3);
}

}  // namespace
}  // namespace totebench
