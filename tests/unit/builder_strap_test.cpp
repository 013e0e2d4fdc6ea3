#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

#include "scenes/builder/straps/strap_curve.hpp"
#include "totebench/scenes/stitch_rows.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;

scenes::RibbonFrame frame(const Vector3d& centre, const Vector3d& along, const Vector3d& across) {
  scenes::RibbonFrame f;
  f.centre = centre;
  f.axes.col(0) = along;
  f.axes.col(1) = across;
  f.axes.col(2) = along.cross(across);
  return f;
}

// A handle's leg from the front panel to a hand (tangent along x) or over a peg (tangent upwards).
struct Leg {
  scenes::RibbonFrame start = frame({0.075, 0.075, 0.36}, {0, 0, 1}, {1, 0, 0});
  scenes::RibbonFrame to_hand = frame({0.045, 0.019, 0}, {-1, 0, 0}, {0, -1, 0});
  scenes::RibbonFrame to_peg = frame({0.0135, 0.019, 0}, {0, 0, 1}, {0, -1, 0});
};

TEST(StrapCurve, Leg_MeetsBothEndsAtItsOwnLengthAlmostUnstrained) {
  const Leg leg;
  const double length = 0.27;
  const double half_width = 0.018;
  for (const scenes::RibbonFrame& end : {leg.to_hand, leg.to_peg}) {
    const scenes::StrapCurve curve(leg.start, end, length);
    const scenes::RibbonFrame first = curve.at(0);
    const scenes::RibbonFrame last = curve.at(length);
    EXPECT_LT((first.centre - leg.start.centre).norm(), 1e-12);
    EXPECT_LT((last.centre - end.centre).head<2>().norm(), 1e-9);
    EXPECT_LT((last.axes - end.axes).norm(), 1e-8);
    EXPECT_GT(curve.end_height_m(), leg.start.centre.z() + 0.5 * length);

    constexpr int kSteps = 200;
    const double step = length / kSteps;
    double centre_length = 0;
    for (int i = 0; i < kSteps; ++i) {
      const scenes::RibbonFrame a = curve.at(i * step);
      const scenes::RibbonFrame b = curve.at((i + 1) * step);
      centre_length += (b.centre - a.centre).norm();
      for (const double side : {-half_width, half_width}) {
        const double fibre =
            (b.centre + side * b.axes.col(1) - a.centre - side * a.axes.col(1)).norm();
        EXPECT_LT(std::abs(fibre / step - 1), 0.05);
      }
    }
    EXPECT_NEAR(centre_length, length, 1e-4 * length);
  }
}

TEST(StrapCurve, TooShort_SaysSo) {
  const Leg leg;
  try {
    const scenes::StrapCurve curve(leg.start, leg.to_hand, 0.05);
    FAIL() << "a leg of 50 mm cannot span 63 mm";
  } catch (const std::invalid_argument& error) {
    EXPECT_NE(std::string(error.what()).find("too short"), std::string::npos);
  }
}

scenes::Attachment attachment(scenes::AttachmentPattern pattern) {
  scenes::Attachment a;
  a.pattern = pattern;
  a.length_m = 0.036;
  a.stitch_length_m = 0.003;
  return a;
}

TEST(StitchRows, Box_HasOneStitchPerStitchLengthOfItsOutline) {
  const double width = 0.036;
  const scenes::StitchRows rows =
      scenes::stitch_rows(attachment(scenes::AttachmentPattern::kBox), width);
  const double across = width - 2 * scenes::kStitchEdgeDistance_m;
  EXPECT_NEAR(rows.line_length_m, 2 * (0.036 + across), 1e-12);
  EXPECT_EQ(rows.points.size(), 2 * (12 + static_cast<std::size_t>(std::lround(across / 0.003))));
  for (const auto& p : rows.points) {
    EXPECT_GE(p.x(), -1e-12);
    EXPECT_LE(p.x(), 0.036 + 1e-12);
    EXPECT_LE(std::abs(p.y()), across / 2 + 1e-12);
    const bool on_outline = std::min({p.x(), 0.036 - p.x(), across / 2 - std::abs(p.y())}) < 1e-12;
    EXPECT_TRUE(on_outline);
  }
}

TEST(StitchRows, BoxWithCross_AddsBothDiagonals) {
  const double width = 0.036;
  const scenes::StitchRows box =
      scenes::stitch_rows(attachment(scenes::AttachmentPattern::kBox), width);
  const scenes::StitchRows cross =
      scenes::stitch_rows(attachment(scenes::AttachmentPattern::kBoxCross), width);
  const double diagonal = std::hypot(0.036, width - 2 * scenes::kStitchEdgeDistance_m);
  EXPECT_NEAR(cross.line_length_m - box.line_length_m, 2 * diagonal, 1e-12);
  const auto each =
      static_cast<std::size_t>(std::lround(diagonal / 0.003)) - 1;  // ends are corners
  ASSERT_EQ(cross.points.size(), box.points.size() + 2 * each);
  // Every stitch of one diagonal has its mirror image on the other.
  double mirrored = 0;
  for (const Eigen::Vector2d& p : cross.points) mirrored += (p.x() - 0.018) * p.y();
  EXPECT_NEAR(mirrored, 0, 1e-12);
}

TEST(StitchRows, Rows_AreSpreadOverTheLength) {
  scenes::Attachment a = attachment(scenes::AttachmentPattern::kRows);
  a.rows = 3;
  const scenes::StitchRows rows = scenes::stitch_rows(a, 0.036);
  const double across = 0.036 - 2 * scenes::kStitchEdgeDistance_m;
  const auto per_row = static_cast<std::size_t>(std::lround(across / 0.003)) + 1;
  ASSERT_EQ(rows.points.size(), 3 * per_row);
  EXPECT_NEAR(rows.points[0].x(), 0, 1e-12);
  EXPECT_NEAR(rows.points[per_row].x(), 0.018, 1e-12);
  EXPECT_NEAR(rows.points[2 * per_row].x(), 0.036, 1e-12);
}

TEST(StitchRows, LineShorterThanHalfAStitch_IsRefused) {
  scenes::Attachment a = attachment(scenes::AttachmentPattern::kBox);
  a.stitch_length_m = 0.1;
  EXPECT_THROW((void)scenes::stitch_rows(a, 0.036), std::invalid_argument);
}

}  // namespace
}  // namespace totebench
