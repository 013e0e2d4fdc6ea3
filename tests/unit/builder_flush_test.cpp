// Stitching that ends where the strap ends, as most is sewn: every stitch joins strap and panel.
#include <gtest/gtest.h>

#include <ostream>
#include <tuple>

#include "builder_samples.hpp"
#include "totebench/solver/mesh.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;
using scenes::AttachmentPattern;

Vector3d place(const solver::ShellMesh& mesh, const solver::SurfacePoint& point) {
  const Eigen::Matrix<double, 6, 1> share = solver::shape(point.xi, point.eta);
  Vector3d x = Vector3d::Zero();
  for (int n = 0; n < 6; ++n) {
    x += share[n] * mesh.position.col(mesh.triangles[point.triangle].node[n]);
  }
  return x;
}

using Case = std::tuple<AttachmentPattern, scenes::StrapStyle, scenes::BagShape, int>;

class FlushStitching : public testing::TestWithParam<Case> {};

TEST_P(FlushStitching, JoinsStrapAndPanel) {
  const auto& [pattern, style, shape, level] = GetParam();
  scenes::Scene scene = shape == scenes::BagShape::kRounded ? samples::rounded() : samples::boxed();
  if (style == scenes::StrapStyle::kShoulderStrap) scene = samples::shoulder(scene);
  scene.bag.shape = shape;
  scenes::Strap& strap = scene.straps[0];
  strap.attachment.pattern = pattern;
  strap.attachment.rows = 3;
  strap.attachment.length_m = strap.overlap_m - strap.attachment.top_offset_m;
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), level);
  const solver::ShellMesh& mesh = tote.model.mesh;
  ASSERT_FALSE(tote.model.stitches.empty());
  double lowest = 0;
  for (const scenes::AttachmentSite& site : tote.attachments) {
    for (const double row : site.stitch_row_m) lowest = std::max(lowest, row);
  }
  EXPECT_NEAR(lowest, strap.attachment.length_m, 1e-12);
  for (const solver::Stitch& stitch : tote.model.stitches) {
    EXPECT_LT((place(mesh, stitch.a) - place(mesh, stitch.b)).norm(), 1e-9);
    EXPECT_TRUE(scenes::is_strap(mesh.triangles[stitch.a.triangle].region));
    EXPECT_TRUE(scenes::is_panel(mesh.triangles[stitch.b.triangle].region));
    double held = 0;
    for (const solver::StitchPoint& point : stitch.spread) held += point.share;
    EXPECT_NEAR(held, 1, 1e-12);
  }
}

INSTANTIATE_TEST_SUITE_P(
    All, FlushStitching,
    testing::Combine(testing::Values(AttachmentPattern::kBox, AttachmentPattern::kBoxCross,
                                     AttachmentPattern::kRows, AttachmentPattern::kBartacks),
                     testing::Values(scenes::StrapStyle::kTwoHandles,
                                     scenes::StrapStyle::kShoulderStrap),
                     testing::Values(scenes::BagShape::kBoxed, scenes::BagShape::kGusset,
                                     scenes::BagShape::kRounded, scenes::BagShape::kSack),
                     testing::Values(0, 1)));

}  // namespace
}  // namespace totebench
