// What the cloth is coloured by, and the strap end that is drawn enlarged.
#include <gtest/gtest.h>

#include <cmath>

#include "reader_fixture.hpp"
#include "totebench/scenes/contents_pressure.hpp"
#include "totebench/viz/bag_field.hpp"
#include "viz/pictures/stitch_inset.hpp"
#include "viz_sample.hpp"

namespace totebench {
namespace {

constexpr double kGravity = 9.80665;
constexpr double kBaseArea_m2 = 16 * 6 * 0.0254 * 0.0254;

// 8 kg in the bag of test::kTote, as it is before anything is solved: a box.
scenes::Tote box_with(scenes::ContentsKind kind, double friction_rad) {
  scenes::Scene scene = *test::read(test::kTote).scene;
  scene.mesh.size_m = 0.04;
  scene.contents.kind = kind;
  scene.contents.bulk_density_kg_per_m3 = 800;
  scene.contents.friction_angle_rad = friction_rad;
  return scenes::build_tote(scene, test::library(), 0);
}

double largest(const scenes::Tote& tote, const std::vector<std::array<double, 3>>& values,
               int region) {
  double most = 0;
  for (std::size_t t = 0; t < values.size(); ++t) {
    if (tote.model.mesh.triangles[t].region != region) continue;
    for (const double v : values[t]) most = std::max(most, v);
  }
  return most;
}

TEST(ContentsPressure, AnEvenLoadIsItsWeightOverTheBase) {
  const scenes::Tote tote = box_with(scenes::ContentsKind::kEven, 0);
  const solver::State state = solver::start_state(tote.model);
  const double even = 8 * kGravity / kBaseArea_m2;  // 1267 Pa
  EXPECT_NEAR(largest(tote, scenes::contents_pressure(tote, state, 1), scenes::kRegionBase), even,
              1e-3 * even);
  EXPECT_NEAR(largest(tote, scenes::contents_pressure(tote, state, 0.5), scenes::kRegionBase),
              even / 2, 1e-3 * even);
  EXPECT_EQ(largest(tote, scenes::contents_pressure(tote, state, 1), scenes::kRegionUpper), 0);
}

// Janssen's wall friction is not in the model: a heap's vertical stress is that of its depth, and
// the horizontal one K = 1 - sin(phi) of it (Jaky 1944, from memory).
TEST(ContentsPressure, AHeapPressesOnTheBaseWithItsDepthAndOnTheWallsWithItsShare) {
  for (const double phi : {0.0, std::asin(0.5)}) {
    const scenes::Tote tote = box_with(scenes::ContentsKind::kLoose, phi);
    const solver::State state = solver::start_state(tote.model);
    const auto pressure = scenes::contents_pressure(tote, state, 1);
    const double base = 8 * kGravity / kBaseArea_m2;
    EXPECT_NEAR(largest(tote, pressure, scenes::kRegionBase), base, 2e-3 * base);
    EXPECT_NEAR(largest(tote, pressure, scenes::kRegionUpper), (1 - std::sin(phi)) * base,
                2e-3 * base);
    // 8 kg at 800 kg/m3 stand 0.161 m high: nothing above that.
    const solver::ShellMesh& mesh = tote.model.mesh;
    const double top = mesh.position.row(2).minCoeff() + 0.01 / kBaseArea_m2;
    for (std::size_t t = 0; t < pressure.size(); ++t) {
      for (std::size_t c = 0; c < 3; ++c) {
        if (mesh.position(2, mesh.triangles[t].node[c]) > top + 1e-3) {
          EXPECT_EQ(pressure[t][c], 0);
        }
      }
    }
  }
}

TEST(BagField, IsInTheUnitsOfItsReader) {
  sample::SampleTote s = sample::make_sample();
  // Bent about one axis to a radius of 50 mm everywhere.
  for (Eigen::Matrix3d& k : s.fields.curvature) k.row(0).setConstant(-20);
  const auto value = [&](viz::BagField field, const std::string& units) {
    const viz::ShownField shown = viz::shown_field(field, s.tote, {}, s.fields, 1, units);
    return std::pair{shown.values.front()[0], shown.unit};
  };
  EXPECT_NEAR(value(viz::BagField::kCurvature, "si").first, 20, 1e-9);
  EXPECT_NEAR(value(viz::BagField::kCurvature, "cm").first, 1.0 / 5, 1e-9);
  EXPECT_NEAR(value(viz::BagField::kCurvature, "in").first, 1 / (50 / 25.4), 1e-9);
  EXPECT_EQ(value(viz::BagField::kCurvature, "in").second, "1/in");
  const viz::ShownField used =
      viz::shown_field(viz::BagField::kStrength, s.tote, {}, s.fields, 1, "cm");
  EXPECT_TRUE(used.known);
  EXPECT_EQ(used.unit, "%");
  s.tote.strength_warp_N_per_m.assign(s.tote.part.size(), 0);
  EXPECT_FALSE(shown_field(viz::BagField::kStrength, s.tote, {}, s.fields, 1, "cm").known);
  for (const std::string& name : viz::bag_field_names()) {
    EXPECT_EQ(viz::bag_field_names()[static_cast<std::size_t>(viz::bag_field_named(name))], name);
  }
  EXPECT_THROW((void)viz::bag_field_named("colour"), std::invalid_argument);
}

TEST(StitchInset, ShowsTheHardestPulledEndFromOutside) {
  sample::SampleTote s = sample::make_sample();
  const scenes::AttachmentSite& site = s.tote.attachments[3];  // back right
  // Pulled up with 3 N, away from the bag's middle (+x) with 4 N and off the back (+y) with 12 N.
  const int pulled = site.stitches[1];
  s.stitch_forces_N.col(pulled) << 4, 12, 3;
  const viz::StrapEndView seam =
      viz::hardest_strap_end(s.tote, s.tote.model.mesh.position, s.stitch_forces_N);
  EXPECT_EQ(seam.name, site.name);
  ASSERT_EQ(seam.pulls_N.size(), site.stitches.size());
  // Who stands behind the bag has +x at the left hand.
  EXPECT_NEAR((seam.pulls_N[1] - Eigen::Vector3d(-4, 3, 12)).norm(), 0, 1e-6);
  EXPECT_NEAR(seam.largest_shear_N(), 5, 1e-6);
  EXPECT_NEAR(seam.largest_peel_N(), 12, 1e-6);
  EXPECT_FALSE(seam.strap_m.empty());
  // Upper row above the lower one, both about their middle.
  EXPECT_GT(seam.places_m[0].y(), seam.places_m[3].y());
  Eigen::Vector2d sum = Eigen::Vector2d::Zero();
  for (const Eigen::Vector2d& p : seam.places_m) sum += p;
  EXPECT_NEAR(sum.norm(), 0, 1e-9);
  EXPECT_EQ(viz::hardest_strap_end(s.tote, s.tote.model.mesh.position, {}).name, "");
}

}  // namespace
}  // namespace totebench
