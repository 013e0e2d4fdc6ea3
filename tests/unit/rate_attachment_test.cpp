// Where fastenings lie, and what of it is refused.
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "reader_fixture.hpp"
#include "totebench/scenes/attachment_patterns.hpp"

namespace totebench {
namespace {

scenes::Strap strap(scenes::AttachmentPattern pattern) {
  scenes::Strap s;
  s.width_m = 0.036;
  s.overlap_m = 0.060;
  s.attachment.pattern = pattern;
  s.attachment.length_m = 0.036;
  s.attachment.top_offset_m = 0.012;
  s.attachment.stitch_length_m = 0.003;
  s.attachment.rows = 2;
  return s;
}

TEST(AttachmentPatterns, Bartacks_AreBarsOfTheirStitchesAcrossTheStrap) {
  const scenes::Strap s = strap(scenes::AttachmentPattern::kBartacks);
  const scenes::StitchRows rows = scenes::attachment_points(s);
  ASSERT_EQ(rows.points.size(), 2u * 28u);
  for (std::size_t i = 0; i < rows.points.size(); ++i) {
    const double middle = i < 28 ? 0.001 : 0.035;
    EXPECT_NEAR(std::abs(rows.points[i].x() - middle), 0.001, 1e-12);
    EXPECT_LE(std::abs(rows.points[i].y()), 0.018);
  }
  // Both ends of a bar have a stitch.
  EXPECT_NEAR(rows.points[0].y(), -(0.018 - scenes::kStitchEdgeDistance_m), 1e-12);
  EXPECT_NEAR(rows.points[27].y(), 0.018 - scenes::kStitchEdgeDistance_m, 1e-12);
  // From one needle hole to the next: 27 steps across the strap, each from side to side of 2 mm.
  EXPECT_NEAR(scenes::fastening_spacing_m(s),
              std::hypot((0.036 - 2 * scenes::kStitchEdgeDistance_m) / 27, 0.002), 1e-12);
}

TEST(AttachmentPatterns, Rivets_SitOnTheCentreLineWithTheirCapsInside) {
  scenes::Strap s = strap(scenes::AttachmentPattern::kRivets);
  s.attachment.rows = 3;
  const scenes::StitchRows rows = scenes::attachment_points(s);
  ASSERT_EQ(rows.points.size(), 3u);
  EXPECT_NEAR(rows.points[0].x(), 0.0045, 1e-12);
  EXPECT_NEAR(rows.points[1].x(), 0.018, 1e-12);
  EXPECT_NEAR(rows.points[2].x(), 0.0315, 1e-12);
  for (const auto& p : rows.points) EXPECT_EQ(p.y(), 0);
}

TEST(AttachmentPatterns, InTheHem_TwoRowsThatShearInTwoJoints) {
  const scenes::StitchRows rows =
      scenes::attachment_points(strap(scenes::AttachmentPattern::kInHem));
  std::set<double> heights;
  for (const auto& p : rows.points) heights.insert(p.x());
  EXPECT_EQ(heights, (std::set<double>{0.0, 0.036}));
  EXPECT_EQ(shear_planes(scenes::AttachmentPattern::kInHem), 2);
  EXPECT_EQ(shear_planes(scenes::AttachmentPattern::kBox), 1);
}

TEST(AttachmentPatterns, ToTheBase_RunsAlongBothEdgesAndEndsInARow) {
  scenes::Strap s = strap(scenes::AttachmentPattern::kToBase);
  s.overlap_m = 0.36;
  const scenes::StitchRows rows = scenes::attachment_points(s);
  const scenes::StitchRows box = scenes::attachment_points([&] {
    scenes::Strap b = s;
    b.attachment.pattern = scenes::AttachmentPattern::kBoxCross;
    return b;
  }());
  const double half = 0.018 - scenes::kStitchEdgeDistance_m;
  int left = 0;
  int right = 0;
  int last_row = 0;
  std::set<std::pair<double, double>> all;
  for (const auto& p : rows.points) {
    all.insert({p.x(), p.y()});
    if (p.x() > 0.0365 && std::abs(p.y() + half) < 1e-9) ++left;
    if (p.x() > 0.0365 && std::abs(p.y() - half) < 1e-9) ++right;
    if (std::abs(p.x() - 0.348) < 1e-9) ++last_row;
  }
  EXPECT_EQ(left, right);
  EXPECT_EQ(left, std::lround((0.348 - 0.039) / 0.003) + 1);
  EXPECT_GE(last_row, 9);
  // The diagonals of the box may each have a stitch where they cross; no others share a place.
  std::set<std::pair<double, double>> in_box;
  for (const auto& p : box.points) in_box.insert({p.x(), p.y()});
  EXPECT_EQ(rows.points.size() - all.size(), box.points.size() - in_box.size());
  EXPECT_GT(rows.points.size(), box.points.size());
}

TEST(AttachmentPatterns, StitchesThatLeaveTheStrap_AreRefusedWithTheReason) {
  scenes::Strap s = strap(scenes::AttachmentPattern::kRivets);
  s.attachment.rivet_cap_m = 0.040;
  s.attachment.rows = 1;
  try {
    (void)scenes::attachment_points(s);
    FAIL() << "a cap of 40 mm on a strap of 36 mm";
  } catch (const std::invalid_argument& error) {
    EXPECT_NE(std::string(error.what()).find("leaves it"), std::string::npos);
  }
  scenes::Strap low = strap(scenes::AttachmentPattern::kBox);
  low.overlap_m = 0.040;  // the box ends 48 mm below the opening
  EXPECT_THROW((void)scenes::attachment_points(low), std::invalid_argument);
}

// d = sqrt(4 tex / (pi 850)): Tex 60 is 0.300 mm, Tex 350 is 0.724 mm thick.
TEST(ThreadThickness, AgainstStitchLength) {
  EXPECT_NEAR(scenes::thread_diameter_m(60), 0.300e-3, 1e-6);
  EXPECT_NEAR(scenes::thread_diameter_m(350), 0.724e-3, 1e-6);
  EXPECT_FALSE(scenes::thread_fault(60, 0.0025));
  const auto fault = scenes::thread_fault(350, 0.003);
  ASSERT_TRUE(fault);
  EXPECT_NE(fault->what.find("too thick"), std::string::npos);
  EXPECT_NE(fault->cure.find("3.63 mm"), std::string::npos);
}

// Scenes with one thing wrong, and what has to be said of it.
TEST(AttachmentScenes, AreRefusedInWords) {
  const auto said = [](const std::string& attachment, const std::string& more = "") {
    std::string text = test::kTote;
    const std::string at = R"("length": "25 in")";
    text.replace(text.find(at), at.size(), at + R"(, "attachment": {)" + attachment + "}");
    if (!more.empty()) text.replace(text.find(R"("contents")"), 0, more + ", ");
    const scenes::ReadResult read = test::read(text);
    return read.scene ? std::string("nothing") : scenes::to_text(read.diagnostics);
  };
  EXPECT_EQ(said(R"("pattern": "bartacks", "rows": 2)"), "nothing");
  EXPECT_EQ(said(R"("pattern": "rivets", "rows": 2)"), "nothing");
  EXPECT_EQ(said(R"("pattern": "in the hem")"), "nothing");
  EXPECT_EQ(said(R"("pattern": "to the base")"), "nothing");
  const auto has = [&](const std::string& text, const char* words) {
    EXPECT_NE(text.find(words), std::string::npos) << text;
  };
  has(said(R"("pattern": "rivets", "rivet_cap": "30 mm", "rows": 1, "length": "40 mm")"),
      "leaves a strap");
  has(said(R"("pattern": "rivets", "rivet_cap": "10 mm")"),
      "give \"rows\" as 2 or \"length\" as 1 3/16 in or more; where they are not given, rows is 3");
  has(said(R"("pattern": "bartacks", "rows": 9, "tack_width": "4 mm")"), "do not fit");
  has(said(R"("pattern": "in the hem", "length": "2 in")"), "past a hem");
  has(said(R"("thread": "cotton_glazed_tex350")"), "too thick");
  has(said("", R"("seams": {"thread": "cotton_soft_tex350", "stitch_length": "2 mm"})"),
      "/seams/stitch_length");
  has(said("", R"("rating": {"design_factor": 0.8})"), "below 1 would rate the bag above");
}

}  // namespace
}  // namespace totebench
