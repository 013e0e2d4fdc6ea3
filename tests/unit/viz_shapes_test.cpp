// Facets, outlines, cuts and fields that pictures and files are made of.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

#include "tests/unit/viz_sample.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/viz/bag_frames.hpp"
#include "totebench/viz/fields.hpp"
#include "totebench/viz/tessellate.hpp"
#include "viz/pictures/tote_picture.hpp"

namespace totebench {
namespace {

double length(const std::vector<Eigen::Matrix3Xd>& lines) {
  double sum = 0;
  for (const auto& line : lines) {
    for (Eigen::Index i = 1; i < line.cols(); ++i) sum += (line.col(i) - line.col(i - 1)).norm();
  }
  return sum;
}

double area(const viz::DrawnSurface& surface) {
  double sum = 0;
  for (const auto& t : surface.triangles) {
    const Eigen::Vector3d a = surface.points.col(t[1]) - surface.points.col(t[0]);
    const Eigen::Vector3d b = surface.points.col(t[2]) - surface.points.col(t[0]);
    sum += 0.5 * a.cross(b).norm();
  }
  return sum;
}

// A tube about z, radius and height in metres, of curved triangles: mid nodes lie on the tube.
solver::ShellMesh tube(double radius, double height, int n_around, int n_up) {
  Eigen::Matrix3Xd corners(3, n_around * (n_up + 1));
  std::vector<std::array<int, 3>> triangles;
  const auto id = [&](int i, int j) { return j * n_around + i % n_around; };
  for (int j = 0; j <= n_up; ++j) {
    for (int i = 0; i < n_around; ++i) {
      const double a = 2 * std::numbers::pi * i / n_around;
      corners.col(id(i, j)) << radius * std::cos(a), radius * std::sin(a), height * j / n_up;
      if (j == n_up) continue;
      triangles.push_back({id(i, j), id(i + 1, j), id(i + 1, j + 1)});
      triangles.push_back({id(i, j), id(i + 1, j + 1), id(i, j + 1)});
    }
  }
  solver::ShellMesh mesh = solver::second_order_mesh(corners, triangles);
  for (Eigen::Index i = 0; i < mesh.position.cols(); ++i) {
    mesh.position.col(i).head<2>() *= radius / mesh.position.col(i).head<2>().norm();
  }
  return mesh;
}

std::vector<int> all_of(const solver::ShellMesh& mesh) {
  std::vector<int> which(mesh.triangles.size());
  for (std::size_t i = 0; i < which.size(); ++i) which[i] = static_cast<int>(i);
  return which;
}

TEST(Tessellate, CurvedTriangles_KeepTheAreaOfTheTube) {
  const solver::ShellMesh mesh = tube(0.1, 0.2, 16, 4);
  const std::vector<int> group(mesh.triangles.size(), 0);
  const viz::DrawnSurface surface = viz::tessellate(mesh, mesh.position, all_of(mesh), group);
  EXPECT_EQ(surface.triangles.size(), 16 * mesh.triangles.size());
  const double exact = 2 * std::numbers::pi * 0.1 * 0.2;
  EXPECT_NEAR(area(surface), exact, 1e-3 * exact);  // straight-sided corners alone: 6e-3
}

TEST(Tessellate, FacetsOfOneGroupShareTheirPoints) {
  const solver::ShellMesh mesh = tube(0.1, 0.2, 16, 4);
  const std::vector<int> one(mesh.triangles.size(), 0);
  // A closed ring of 4 x 16 points around, 4 x 4 + 1 points up.
  EXPECT_EQ(viz::tessellate(mesh, mesh.position, all_of(mesh), one).points.cols(), 64 * 17);
  std::vector<int> two = one;  // cut in an upper and a lower half: the ring between is doubled
  for (std::size_t t = two.size() / 2; t < two.size(); ++t) two[t] = 1;
  EXPECT_EQ(viz::tessellate(mesh, mesh.position, all_of(mesh), two).points.cols(), 64 * 18);
}

TEST(Tessellate, ValuesBendBetweenTheCorners) {
  const solver::ShellMesh mesh = tube(0.1, 0.2, 16, 4);
  const std::vector<int> group(mesh.triangles.size(), 0);
  const auto at_points = [&](const auto& value) {
    viz::CornerValues corners;
    for (const solver::Triangle& t : mesh.triangles) {
      auto& at = corners.emplace_back();
      for (std::size_t c = 0; c < 3; ++c) at[c] = value(mesh.position(2, t.node[c]));
    }
    return viz::tessellate(mesh, mesh.position, all_of(mesh), group, &corners);
  };
  const viz::DrawnSurface straight = at_points([](double z) { return 3 + 20 * z; });
  const viz::DrawnSurface bent = at_points([](double z) { return 400 * z * z; });
  ASSERT_EQ(bent.value.size(), static_cast<std::size_t>(bent.points.cols()));
  for (std::size_t i = 0; i < bent.value.size(); ++i) {
    const double z = bent.points(2, static_cast<Eigen::Index>(i));
    EXPECT_NEAR(straight.value[i], 3 + 20 * z, 1e-12);
    if (z > 0.05 - 1e-9 &&
        z < 0.15 + 1e-9) {  // one row from the ends, slopes are those on both sides
      EXPECT_NEAR(bent.value[i], 400 * z * z, 1e-12);  // straight lines would be off by up to 0.25
    }
  }
}

TEST(PanelOutlines, RunAlongFreeEdgesAndBetweenGroups) {
  const solver::ShellMesh mesh = tube(0.1, 0.2, 16, 4);
  const double ring = 2 * std::numbers::pi * 0.1;
  std::vector<int> group(mesh.triangles.size(), 0);
  EXPECT_NEAR(length(viz::panel_outlines(mesh, mesh.position, all_of(mesh), group)), 2 * ring,
              2e-3 * ring);
  for (std::size_t t = group.size() / 2; t < group.size(); ++t) group[t] = 1;
  EXPECT_NEAR(length(viz::panel_outlines(mesh, mesh.position, all_of(mesh), group)), 3 * ring,
              3e-3 * ring);
}

TEST(Cut, ATubeCutAcrossIsOneClosedRing) {
  const solver::ShellMesh mesh = tube(0.1, 0.2, 16, 4);
  const std::vector<int> group(mesh.triangles.size(), 0);
  const viz::DrawnSurface surface = viz::tessellate(mesh, mesh.position, all_of(mesh), group);
  const auto lines = viz::cut(surface, Eigen::Vector3d::UnitZ(), 0.07);
  ASSERT_EQ(lines.size(), 1u);
  EXPECT_NEAR(length(lines), 2 * std::numbers::pi * 0.1, 1e-3);
  EXPECT_LT((lines[0].col(0) - lines[0].rightCols<1>()).norm(), 1e-12);
  EXPECT_NEAR(lines[0].row(2).maxCoeff(), 0.07, 1e-12);
}

TEST(Cut, ATubeCutLengthwiseIsTwoLines) {
  const solver::ShellMesh mesh = tube(0.1, 0.2, 16, 4);
  const std::vector<int> group(mesh.triangles.size(), 0);
  const viz::DrawnSurface surface = viz::tessellate(mesh, mesh.position, all_of(mesh), group);
  const auto lines = viz::cut(surface, Eigen::Vector3d::UnitX(), 0.003);
  EXPECT_EQ(lines.size(), 2u);
  EXPECT_NEAR(length(lines), 0.4, 1e-3);
  EXPECT_TRUE(viz::cut(surface, Eigen::Vector3d::UnitX(), 0.5).empty());
}

TEST(Dashed, KeepsTheShareOfTheDashes) {
  Eigen::Matrix3Xd line(3, 3);
  line.col(0) << 0, 0, 0;
  line.col(1) << 0.55, 0, 0;
  line.col(2) << 0.99, 0, 0;
  const auto dashes = viz::dashed({line}, 0.06, 0.04);
  EXPECT_EQ(dashes.size(), 10u);
  EXPECT_NEAR(length(dashes), 0.6, 1e-9);
}

TEST(Fields, PrincipalOfAPureShear) {
  const viz::Principal p = viz::principal_of({0, 0, 3});
  EXPECT_NEAR(p.high, 3, 1e-12);
  EXPECT_NEAR(p.low, -3, 1e-12);
  EXPECT_NEAR(p.direction_high.x(), std::sqrt(0.5), 1e-12);
  EXPECT_NEAR(p.direction_high.y(), std::sqrt(0.5), 1e-12);
}

TEST(Fields, PrincipalDirectionDiagonalisesTheTensor) {
  const Eigen::Vector3d n(2, 5, -1.5);
  Eigen::Matrix2d tensor;
  tensor << n[0], n[2], n[2], n[1];
  const viz::Principal p = viz::principal_of(n);
  EXPECT_NEAR((tensor * p.direction_high - p.high * p.direction_high).norm(), 0, 1e-12);
  EXPECT_NEAR(p.high + p.low, tensor.trace(), 1e-12);
  EXPECT_NEAR(p.high * p.low, tensor.determinant(), 1e-12);
}

TEST(Fields, SmoothingKeepsAConstantAndDoesNotCrossASeam) {
  const sample::SampleTote s = sample::make_sample();
  viz::CornerValues raw(s.tote.part.size());
  for (std::size_t t = 0; t < raw.size(); ++t) raw[t].fill(s.tote.part[t] + 1.0);
  const viz::CornerValues smooth = viz::smooth_to_corners(s.tote.model.mesh, raw, s.tote.part);
  for (std::size_t t = 0; t < raw.size(); ++t) {
    for (const double v : smooth[t]) ASSERT_NEAR(v, s.tote.part[t] + 1.0, 1e-12);
  }
}

TEST(Fields, UtilisationIsTheLargerShareAndUnknownWithoutStrength) {
  sample::SampleTote s = sample::make_sample();
  for (auto& force : s.fields.membrane_force) force.colwise() = Eigen::Vector3d(4000, 7000, 100);
  s.tote.strength_warp_N_per_m[3] = 0;
  const std::vector<double> used = viz::cloth_utilisation(s.tote, s.fields);
  EXPECT_NEAR(used[0], 0.5, 1e-12);  // 7000 of 14 000 across beats 4000 of 20 000 along
  EXPECT_EQ(used[3], viz::kNotKnown);
}

TEST(Fields, StitchForcesAreSplitInThePanelsFrame) {
  const sample::SampleTote s = sample::make_sample();
  Eigen::Matrix3Xd force = s.stitch_forces_N;
  for (Eigen::Index i = 0; i < force.cols(); ++i) force.col(i) << 1, -2, 3;
  const viz::PointCloudData cloud = viz::stitch_data(s.tote, s.empty_x_m, force);
  ASSERT_EQ(cloud.arrays[2].name, "force_along_strap_N");
  for (Eigen::Index i = 0; i < force.cols(); ++i) {
    const double along = cloud.arrays[2].values(0, i), across = cloud.arrays[3].values(0, i),
                 peel = cloud.arrays[4].values(0, i);
    EXPECT_NEAR(along * along + across * across + peel * peel, 14, 1e-9);
    // Straps run up the panels and the panels stand nearly upright, front outwards along -y.
    EXPECT_NEAR(std::abs(along), 3, 0.3);
    const bool front = s.tote.attachments[static_cast<std::size_t>(i / 6)].name[0] == 'f';
    EXPECT_NEAR(peel, front ? 2 : -2, 0.3);
  }
}

TEST(BaseShape, IsMeasuredFromTheMeanOfTheOutline) {
  const sample::SampleTote s = sample::make_sample();
  const scenes::BaseShape base = scenes::base_shape(s.tote.model.mesh, s.loaded_x_m);
  ASSERT_TRUE(base.has_base);
  // By the sample's own formula: lowest 0.008 + 1.3 * 0.026, outline 0.008 + 0.3 * 0.026 (1 - u^2)
  // along the two long edges of 0.34, 0.008 along the two short ones of 0.15. Simpson's rule, which
  // takes corners and mid-edges in, is exact for such a parabola; corners alone are not.
  EXPECT_NEAR(base.lowest.z(), -0.0418, 2e-4);
  EXPECT_NEAR(base.outline_m, -(0.008 + 2.0 / 3 * 0.0078 * 0.34 / 0.49), 1e-9);
}

viz::ShownField force(const sample::SampleTote& s, const std::string& units) {
  return viz::shown_field(viz::BagField::kForce, s.tote, {}, s.fields, 1, units);
}

TEST(TotePicture, ShowsBothBagsAtOneScaleAndTheSag) {
  const sample::SampleTote s = sample::make_sample();
  const viz::Picture picture =
      viz::tote_picture({s.tote, s.empty_x_m, s.loaded_x_m, force(s, "in"), s.stitch_forces_N, "in",
                         "with 17.6 lb", 0.0265, 0.011, 0.272, 0.273, true});
  std::string words;
  for (const viz::DrawnText& text : picture.texts) {
    words += text.text + "|";
    const Eigen::Vector2d at = picture.view.flat(text.at);
    EXPECT_TRUE((at.array() >= picture.low_m.array()).all() &&
                (at.array() <= picture.high_m.array()).all())
        << text.text << " lies outside the picture";
  }
  EXPECT_NE(words.find("empty|"), std::string::npos);
  EXPECT_NE(words.find("with 17.6 lb|"), std::string::npos);
  EXPECT_NE(words.find("bottom sag 1 1/16 in"), std::string::npos);
  EXPECT_NE(words.find("lb/in"), std::string::npos);
  ASSERT_GE(picture.surfaces.size(), 2u);
  for (const viz::DrawnSurface& surface : picture.surfaces) {
    for (Eigen::Index i = 0; i < surface.points.cols(); ++i) {
      const Eigen::Vector2d at = picture.view.flat(surface.points.col(i));
      ASSERT_TRUE((at.array() >= picture.low_m.array()).all() &&
                  (at.array() <= picture.high_m.array()).all());
    }
  }
}

// Thin lines run from where a length is measured: those of the strap drop from the strap's
// underside and, straight below, from the level of its ends.
TEST(TotePicture, TheStrapDropEndsOnTheStrap) {
  const sample::SampleTote s = sample::make_sample();
  const viz::Picture picture =
      viz::tote_picture({s.tote, s.empty_x_m, s.loaded_x_m, force(s, "cm"), s.stitch_forces_N, "cm",
                         "with 8 kg", 0.0265, 0.011, 0.272, 0.273, true});
  const scenes::StrapDrop drop = scenes::strap_drops(s.tote, s.loaded_x_m).front();
  const auto line_at = [&](double height) {
    return std::any_of(picture.lines.begin(), picture.lines.end(), [&](const auto& drawn) {
      return std::any_of(drawn.polylines.begin(), drawn.polylines.end(), [&](const auto& line) {
        return line.cols() == 2 && std::abs(picture.view.flat(line.col(0)).y() - height) < 1e-9 &&
               std::abs(picture.view.flat(line.col(1)).y() - height) < 1e-9;
      });
    });
  };
  EXPECT_TRUE(line_at(picture.view.flat(drop.underside).y()));
  EXPECT_TRUE(line_at(picture.view.flat(drop.foot).y()));
  EXPECT_NEAR(picture.view.flat(drop.underside).y() - picture.view.flat(drop.foot).y(),
              drop.length_m() * picture.view.up.z(), 1e-9);
}

TEST(TotePicture, SaysWhenItIsNoAnswer) {
  const sample::SampleTote s = sample::make_sample();
  const viz::Picture picture =
      viz::tote_picture({s.tote, s.empty_x_m, s.loaded_x_m, force(s, "cm"), s.stitch_forces_N, "cm",
                         "with 8 kg", 0.0265, 0.011, 0.272, 0.273, false});
  std::string words;
  for (const viz::DrawnText& text : picture.texts) words += text.text + "|";
  EXPECT_NE(words.find("not in equilibrium"), std::string::npos);
  EXPECT_EQ(words.find("bottom sag"), std::string::npos);
}

TEST(BagFrames, GoStraightBetweenLoadStepsUnderOneCameraAndScale) {
  sample::SampleTote s = sample::make_sample();
  s.tote.model.sections.resize(1);
  std::vector<solver::LoadStep> steps = {
      {0, solver::start_state(s.tote.model)}, {0.5, {}}, {1, {}}};
  steps[1].state = steps[2].state = steps[0].state;
  steps[1].state.x.row(2).array() -= 0.01;
  steps[2].state.x.row(2).array() -= 0.04;
  const auto moments = viz::load_rising(s.tote, steps, 8, viz::BagField::kForce, "cm", 5);
  ASSERT_EQ(moments.size(), 5U);
  const double fallen[] = {0, 0.005, 0.01, 0.025, 0.04};
  for (std::size_t i = 0; i < 5; ++i) {
    const Eigen::Matrix3Xd moved = moments[i].x_m - steps[0].state.x;
    EXPECT_NEAR(moved.row(2).minCoeff(), -fallen[i], 1e-12);
    EXPECT_NEAR(moved.row(2).maxCoeff(), -fallen[i], 1e-12);
  }
  EXPECT_EQ(moments[1].caption, "with 2 kg");
  const auto frames = viz::bag_frames(s.tote, moments, "force", "cm");
  ASSERT_EQ(frames.size(), 5U);
  for (const viz::Picture& frame : frames) {
    EXPECT_EQ(frame.low_m, frames[0].low_m);
    EXPECT_EQ(frame.high_m, frames[0].high_m);
    EXPECT_EQ(frame.bar.high, frames[0].bar.high);
    EXPECT_EQ(frame.width_px % 2, 0);
    EXPECT_EQ(frame.height_px() % 2, 0);
    for (const viz::DrawnSurface& surface : frame.surfaces) {
      for (Eigen::Index i = 0; i < surface.points.cols(); ++i) {
        const Eigen::Vector2d at = frame.view.flat(surface.points.col(i));
        ASSERT_TRUE((at.array() >= frame.low_m.array()).all() &&
                    (at.array() <= frame.high_m.array()).all());
      }
    }
  }
}

}  // namespace
}  // namespace totebench
