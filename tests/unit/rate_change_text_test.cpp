// A changed bag as a line of kept work.
#include <gtest/gtest.h>

#include "app/studies/rate/change_text.hpp"

namespace totebench {
namespace {

studies::FirstFailure failure(double load_factor) {
  studies::FirstFailure f;
  f.found = true;
  f.load_factor = load_factor;
  f.governing = {"tear_out", "cloth, \"front\" left .", 1.0 / 3, 2, "N/m", 1.0 / 7, "s", "g", true,
                 5};
  f.why_not = "why";
  f.nearest.mode = "strap";
  f.nearest.ratio = 0.1 + 0.2;
  f.at_jump = true;
  f.at_limit = true;
  return f;
}

void expect_same(const scenes::Utilisation& a, const scenes::Utilisation& b) {
  EXPECT_EQ(a.mode, b.mode);
  EXPECT_EQ(a.what, b.what);
  EXPECT_EQ(a.demand, b.demand);
  EXPECT_EQ(a.capacity, b.capacity);
  EXPECT_EQ(a.unit, b.unit);
  EXPECT_EQ(a.ratio, b.ratio);
  EXPECT_EQ(a.source, b.source);
  EXPECT_EQ(a.grade, b.grade);
  EXPECT_EQ(a.drops_load, b.drops_load);
  EXPECT_EQ(a.triangle, b.triangle);
}

void expect_same(const studies::FirstFailure& a, const studies::FirstFailure& b) {
  EXPECT_EQ(a.found, b.found);
  EXPECT_EQ(a.load_factor, b.load_factor);
  expect_same(a.governing, b.governing);
  EXPECT_EQ(a.why_not, b.why_not);
  expect_same(a.nearest, b.nearest);
  EXPECT_EQ(a.at_jump, b.at_jump);
  EXPECT_EQ(a.at_limit, b.at_limit);
}

TEST(KeptChanges, AreReadBackToTheLastBitAndACutTextIsNot) {
  studies::Change change;
  change.solved = true;
  change.why_not = "as \"before\"";
  change.drops = failure(1.0 / 9);
  change.spoilt = failure(1e-17);
  change.spoilt.found = false;
  const std::string text = studies::change_text(change);
  EXPECT_EQ(text.find('\n'), std::string::npos);
  studies::Change back;
  back.what = "another row";
  EXPECT_FALSE(studies::take_change(text.substr(0, text.size() - 1), back));
  EXPECT_FALSE(studies::take_change("[true, \"\", [], []]", back));
  EXPECT_FALSE(back.solved);
  ASSERT_TRUE(studies::take_change(text, back));
  EXPECT_EQ(back.what, "another row") << "what it is stays its own";
  EXPECT_TRUE(back.solved);
  EXPECT_EQ(back.why_not, change.why_not);
  expect_same(back.drops, change.drops);
  expect_same(back.spoilt, change.spoilt);
}

}  // namespace
}  // namespace totebench
