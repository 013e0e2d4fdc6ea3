#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <set>

#include "builder_samples.hpp"
#include "scenes/builder/mesh/mesher.hpp"
#include "scenes/builder/tote/uneven_cloth.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;

Vector3d start_normal(const solver::ShellMesh& mesh, int triangle) {
  const auto& node = mesh.triangles[triangle].node;
  const Vector3d a = mesh.position.col(node[0]);
  return (mesh.position.col(node[1]) - a).cross(Vector3d(mesh.position.col(node[2])) - a);
}

double part_area(const scenes::Tote& tote, const std::string& part) {
  double area = 0;
  for (int i = 0; i < tote.model.mesh.n_triangles(); ++i) {
    if (tote.triangle_part[tote.part[i]] == part) area += solver::rest_area(tote.model.mesh, i);
  }
  return area;
}

class EveryTote : public testing::TestWithParam<int> {
 protected:
  samples::Named sample = samples::all()[GetParam()];
};

INSTANTIATE_TEST_SUITE_P(Samples, EveryTote,
                         testing::Range(0, static_cast<int>(samples::all().size())));

// A builder keeps the panels' mesh between libraries and levels; nothing of the totes may show it.
TEST_P(EveryTote, IsTheSameFromABuilderThatKeepsItsPanels) {
  materials::MaterialLibrary thicker = samples::library();
  thicker.for_each_quantity([](std::string_view, std::string_view, std::string_view property,
                               materials::Quantity& quantity) {
    if (property == "thickness") quantity.value *= 1.2;
  });
  const scenes::ToteBuilder builder(sample.scene);
  for (const materials::MaterialLibrary* library :
       std::array<const materials::MaterialLibrary*, 2>{&samples::library(), &thicker}) {
    for (const int level : {1, 0}) {
      const scenes::Tote kept = builder.build(*library, level);
      const scenes::Tote fresh = scenes::build_tote(sample.scene, *library, level);
      EXPECT_TRUE(kept.model.mesh.position == fresh.model.mesh.position) << sample.name;
      EXPECT_TRUE(kept.model.permanent_force_N == fresh.model.permanent_force_N) << sample.name;
      ASSERT_EQ(kept.model.stitches.size(), fresh.model.stitches.size());
      for (std::size_t i = 0; i < kept.model.stitches.size(); ++i) {
        EXPECT_EQ(kept.model.stitches[i].a.xi, fresh.model.stitches[i].a.xi);
        EXPECT_EQ(kept.model.stitches[i].b.triangle, fresh.model.stitches[i].b.triangle);
      }
    }
  }
}

// Every edge of the panels is shared by two triangles, save at the opening.
TEST_P(EveryTote, PanelsHaveNoCracks) {
  for (const int level : {0, 1}) {
    const scenes::Tote tote = scenes::build_tote(sample.scene, samples::library(), level);
    const solver::ShellMesh& mesh = tote.model.mesh;
    std::map<std::pair<int, int>, int> users;
    for (const solver::Triangle& t : mesh.triangles) {
      if (!scenes::is_panel(t.region)) continue;
      for (int k = 0; k < 3; ++k) users[std::minmax(t.node[k], t.node[(k + 1) % 3])] += 1;
    }
    std::set<std::pair<int, int>> opening;
    for (const solver::LabelledEdge& edge : mesh.labelled_edges) {
      if (edge.label == scenes::kEdgeOpening) opening.insert(std::minmax(edge.a, edge.b));
    }
    ASSERT_FALSE(opening.empty());
    for (const auto& [ends, n] : users) {
      EXPECT_EQ(n, opening.count(ends) != 0 ? 1 : 2) << sample.name << ", level " << level;
    }
    for (const auto& ends : opening) EXPECT_EQ(users.count(ends), 1U);
  }
}

TEST_P(EveryTote, TrianglesAreWellShapedAndStartNearlyUnstrained) {
  const scenes::Tote tote = scenes::build_tote(sample.scene, samples::library(), 0);
  const solver::ShellMesh& mesh = tote.model.mesh;
  double smallest = 180;
  double strain = 0;
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    for (int k = 0; k < 3; ++k) {
      const Vector3d u = mesh.rest[i].col((k + 1) % 3) - mesh.rest[i].col(k);
      const Vector3d v = mesh.rest[i].col((k + 2) % 3) - mesh.rest[i].col(k);
      // The held part of a strap cannot move: its triangles may be long.
      if (mesh.triangles[i].region != scenes::kRegionStrapHeld) {
        smallest = std::min(smallest, std::atan2(u.cross(v).norm(), u.dot(v)));
      }
      const auto& node = mesh.triangles[i].node;
      const Vector3d a = mesh.position.col(node[k]);
      const Vector3d m = mesh.position.col(node[3 + k]);
      const Vector3d b = mesh.position.col(node[(k + 1) % 3]);
      strain = std::max(strain, std::abs(((m - a).norm() + (b - m).norm()) / u.norm() - 1));
    }
  }
  EXPECT_GE(smallest * 180 / std::numbers::pi, 20.0) << sample.name;
  EXPECT_LT(strain, 0.05) << sample.name;
}

// The normal given by corner order points out of the bag: from its middle for boxes, to the face's
// own side for bags that lie flat.
TEST_P(EveryTote, NormalsPointOutwards) {
  const scenes::Tote tote = scenes::build_tote(sample.scene, samples::library(), 1);
  const solver::ShellMesh& mesh = tote.model.mesh;
  const Vector3d inside(0, 0, 0.5 * sample.scene.bag.height_m);
  const bool flat = sample.scene.bag.depth_m == 0;
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    if (!scenes::is_panel(mesh.triangles[i].region)) continue;
    const Vector3d normal = start_normal(mesh, i).normalized();
    const std::string& part = tote.triangle_part[tote.part[i]];
    const Vector3d centre = (mesh.position.col(mesh.triangles[i].node[3]) +
                             mesh.position.col(mesh.triangles[i].node[4]) +
                             mesh.position.col(mesh.triangles[i].node[5])) /
                            3;
    if (flat) {
      EXPECT_GT(normal.y() * (part == "front" ? 1 : -1), 0) << sample.name << " " << part;
    } else {
      EXPECT_GT(normal.dot(centre - inside), 0) << sample.name << " " << part;
    }
    const Vector3d rest_a = mesh.rest[i].col(1) - mesh.rest[i].col(0);
    const Vector3d rest_b = mesh.rest[i].col(2) - mesh.rest[i].col(0);
    EXPECT_GT(rest_a.cross(rest_b).z(), 0);
  }
}

TEST_P(EveryTote, StitchesJoinStrapAndPanelWhereTheyTouch) {
  for (const int level : {0, 1}) {
    const scenes::Tote tote = scenes::build_tote(sample.scene, samples::library(), level);
    const solver::ShellMesh& mesh = tote.model.mesh;
    for (const solver::Stitch& stitch : tote.model.stitches) {
      EXPECT_TRUE(scenes::is_strap(mesh.triangles[stitch.a.triangle].region));
      EXPECT_TRUE(scenes::is_panel(mesh.triangles[stitch.b.triangle].region));
      const Vector3d a = solver::position_of(mesh, mesh.position, stitch.a);
      const Vector3d b = solver::position_of(mesh, mesh.position, stitch.b);
      EXPECT_LT((a - b).norm(), 1e-9) << sample.name;
      EXPECT_GT(solver::normal_of(mesh, mesh.position, stitch.a)
                    .dot(solver::normal_of(mesh, mesh.position, stitch.b)),
                0.99);
    }
    const scenes::Strap& strap = sample.scene.straps[0];
    ASSERT_EQ(tote.attachments.size(), strap.style == scenes::StrapStyle::kTwoHandles ? 4U : 2U);
    std::size_t sum = 0;
    for (const scenes::AttachmentSite& site : tote.attachments) {
      sum += site.stitches.size();
      // One a stitch length, but for rounding each of six lines and the ends of the diagonals.
      EXPECT_NEAR(static_cast<double>(site.stitches.size()),
                  site.line_length_m / site.stitch_length_m, 6);
      for (std::size_t i = 0; i < site.stitches.size(); ++i) {
        const solver::Stitch& stitch = tote.model.stitches[site.stitches[i]];
        const auto& rest = mesh.rest[stitch.b.triangle];
        const double v = (rest * solver::shape(stitch.b.xi, stitch.b.eta))(1);
        EXPECT_NEAR(sample.scene.bag.height_m - v,
                    strap.attachment.top_offset_m + site.stitch_row_m[i], 1e-9);
      }
    }
    EXPECT_EQ(sum, tote.model.stitches.size());
  }
}

TEST_P(EveryTote, ContentsAndOwnWeightAddUp) {
  const scenes::Scene& scene = sample.scene;
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 1);
  const double gravity = tote.model.gravity_m_per_s2;
  EXPECT_NEAR(-tote.model.payload_force_N.row(2).sum(), scene.contents.mass_kg * gravity,
              1e-12 * scene.contents.mass_kg * gravity);
  double mass = scene.feet.count * scene.feet.mass_each_kg;
  for (int i = 0; i < tote.model.mesh.n_triangles(); ++i) {
    mass += solver::rest_area(tote.model.mesh, i) *
            tote.model.sections[tote.model.mesh.triangles[i].section].areal_mass_kg_per_m2;
  }
  EXPECT_NEAR(tote.bag_mass_kg, mass, 1e-12);
  EXPECT_GT(mass, 0.1);

  scenes::Scene loose = scene;
  loose.contents.kind = scenes::ContentsKind::kLoose;
  loose.contents.mass_kg = 3.0;
  loose.contents.bulk_density_kg_per_m3 = 700;
  loose.contents.friction_angle_rad = std::numbers::pi / 6;
  const scenes::Tote filled = scenes::build_tote(loose, samples::library(), 0);
  EXPECT_NEAR(filled.model.fill.lateral_ratio_K, 0.5, 1e-12);
  EXPECT_EQ(filled.model.payload_force_N.size(), 0);
  std::size_t panels = 0;
  for (const solver::Triangle& t : filled.model.mesh.triangles)
    panels += scenes::is_panel(t.region) ? 1 : 0;
  EXPECT_EQ(filled.model.fill.triangles.size(), panels);
}

// The bags are their own mirror images in every measure; what their cloth weighs is not.
TEST_P(EveryTote, ClothIsUneven) {
  const scenes::Tote tote = scenes::build_tote(sample.scene, samples::library(), 1);
  const solver::Model& model = tote.model;
  const Eigen::Matrix3Xd even =
      solver::own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  Eigen::Matrix3Xd uneven = even;
  scenes::make_uneven(model.mesh.position, uneven);
  EXPECT_FALSE(model.permanent_force_N.isApprox(even, 0.1 * scenes::kUnevenness));
  EXPECT_NEAR(uneven.row(2).sum(), even.row(2).sum(), 1e-13 * std::abs(even.row(2).sum()));
  double square = 0;  // of the difference, weighed by weight
  double mirrored = 0;
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    if (std::abs(even(2, i)) < 1e-9) continue;
    const double share = uneven(2, i) / even(2, i) - 1;
    square += share * share * even(2, i) / even.row(2).sum();
    const Eigen::Vector3d image =
        model.mesh.position.col(i).cwiseProduct(Eigen::Vector3d(-1, 1, 1));
    Eigen::Matrix3Xd there(3, 2);
    there << model.mesh.position.col(i), image;
    Eigen::Matrix3Xd both = Eigen::Vector3d(0, 0, -1).replicate(1, 2);
    scenes::make_uneven(there, both);
    mirrored = std::max(mirrored, std::abs(both(2, 0) - both(2, 1)));
  }
  // Waves as long as a bag's pieces do not average out to the figure itself.
  EXPECT_NEAR(std::sqrt(square), scenes::kUnevenness, 0.2 * scenes::kUnevenness);
  EXPECT_GT(mirrored, scenes::kUnevenness);
}

TEST_P(EveryTote, EveryTriangleOfALevelLiesInOneOfTheLevelBelow) {
  const scenes::Tote coarse = scenes::build_tote(sample.scene, samples::library(), 0);
  const scenes::Tote fine = scenes::build_tote(sample.scene, samples::library(), 1);
  const solver::ShellMesh& mesh = fine.model.mesh;
  ASSERT_EQ(mesh.child_of.size(), mesh.triangles.size());
  EXPECT_GE(mesh.n_triangles(), 4 * coarse.model.mesh.n_triangles());
  std::vector<double> area(coarse.model.mesh.triangles.size(), 0);
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    const solver::ChildOf& child = mesh.child_of[i];
    area[child.parent] += solver::rest_area(mesh, i);
    EXPECT_EQ(fine.part[i], coarse.part[child.parent]);
    for (int k = 0; k < 3; ++k) {
      const solver::SurfacePoint at{child.parent, child.corner(0, k), child.corner(1, k)};
      EXPECT_LT((solver::position_of(coarse.model.mesh, coarse.model.mesh.position, at) -
                 mesh.position.col(mesh.triangles[i].node[k]))
                    .norm(),
                1e-12);
    }
  }
  for (int i = 0; i < coarse.model.mesh.n_triangles(); ++i) {
    EXPECT_NEAR(area[i] / solver::rest_area(coarse.model.mesh, i), 1, 1e-9);
  }
}

// Front and back, left and right: a bag of equal halves has a mesh of equal halves.
TEST_P(EveryTote, MeshMirrorsLeftToRight) {
  if (sample.scene.straps[0].style != scenes::StrapStyle::kTwoHandles) {
    GTEST_SKIP()
        << "a strap end on a side panel mirrors within itself, which refining does not keep";
  }
  const scenes::Tote tote = scenes::build_tote(sample.scene, samples::library(), 1);
  const solver::ShellMesh& mesh = tote.model.mesh;
  std::set<std::array<long, 3>> places;
  const auto key = [](const Eigen::Vector3d& p) {
    return std::array<long, 3>{std::lround(p.x() * 1e7), std::lround(p.y() * 1e7),
                               std::lround(p.z() * 1e7)};
  };
  for (int i = 0; i < mesh.n_nodes(); ++i) {
    const std::array<long, 3> at = key(mesh.position.col(i));
    for (long dx = -1; dx <= 1; ++dx) {
      for (long dy = -1; dy <= 1; ++dy) {
        for (long dz = -1; dz <= 1; ++dz) places.insert({at[0] + dx, at[1] + dy, at[2] + dz});
      }
    }
  }
  int unmatched = 0;
  for (const solver::Triangle& t : mesh.triangles) {
    if (t.region >= scenes::kRegionStrap && t.region != scenes::kRegionBaseSheet) continue;
    for (const int node : t.node) {
      const Eigen::Vector3d p = mesh.position.col(node);
      unmatched += places.count(key({-p.x(), p.y(), p.z()})) == 0 ? 1 : 0;
    }
  }
  EXPECT_EQ(unmatched, 0);
}

TEST_P(EveryTote, HeldStrapIsFixedAndNothingElse) {
  const scenes::Tote tote = scenes::build_tote(sample.scene, samples::library(), 1);
  std::set<std::pair<int, int>> wanted;
  for (const solver::Triangle& t : tote.model.mesh.triangles) {
    if (t.region != scenes::kRegionStrapHeld) continue;
    for (const int node : t.node) {
      for (int axis = 0; axis < 3; ++axis) wanted.emplace(node, axis);
    }
  }
  ASSERT_FALSE(wanted.empty());
  std::set<std::pair<int, int>> fixed;
  for (const solver::FixedDof& f : tote.model.fixed)
    EXPECT_TRUE(fixed.emplace(f.node, f.axis).second);
  EXPECT_EQ(fixed, wanted);
}

TEST_P(EveryTote, SectionsArePositiveDefiniteAndNoTwoAlike) {
  const scenes::Tote tote = scenes::build_tote(sample.scene, samples::library(), 1);
  const auto& sections = tote.model.sections;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    Eigen::Matrix<double, 6, 6> whole;
    whole << sections[i].A, sections[i].B, sections[i].B.transpose(), sections[i].D;
    EXPECT_EQ((Eigen::LLT<Eigen::Matrix<double, 6, 6>>(whole).info()), Eigen::Success);
    for (std::size_t j = 0; j < i; ++j) {
      EXPECT_FALSE(sections[i].A == sections[j].A && sections[i].D == sections[j].D &&
                   sections[i].areal_mass_kg_per_m2 == sections[j].areal_mass_kg_per_m2);
    }
  }
}

TEST(ToteAreas, StraightShapes_AreThePatternsTo1e9) {
  for (const scenes::Scene& scene : {samples::boxed(), samples::gusset_with_pocket()}) {
    const scenes::Bag& bag = scene.bag;
    const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 1);
    const double face = bag.width_m * bag.height_m;
    const double side = bag.depth_m * bag.height_m;
    EXPECT_NEAR(part_area(tote, "front") / face, 1, 1e-9);
    EXPECT_NEAR(part_area(tote, "back") / face, 1, 1e-9);
    EXPECT_NEAR(part_area(tote, "side left") / side, 1, 1e-9);
    EXPECT_NEAR(part_area(tote, "side right") / side, 1, 1e-9);
    EXPECT_NEAR(part_area(tote, "base") / (bag.width_m * bag.depth_m), 1, 1e-9);
    const scenes::Strap& strap = scene.straps[0];
    EXPECT_NEAR(
        part_area(tote, "strap front") / (strap.width_m * (strap.length_m + 2 * strap.overlap_m)),
        1, 1e-9);
  }
  const scenes::Scene sack = samples::sack();
  const scenes::Tote tote = scenes::build_tote(sack, samples::library(), 1);
  EXPECT_NEAR(part_area(tote, "front") / (sack.bag.width_m * sack.bag.height_m), 1, 1e-9);
}

TEST(ToteAreas, RoundedCorners_KeepTheFacesAreaTo0p3Percent) {
  const scenes::Scene scene = samples::rounded();
  const double r = scene.bag.corner_radius_m;
  const double exact =
      scene.bag.width_m * scene.bag.height_m - 2 * r * r * (1 - std::numbers::pi / 4);
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 0);
  EXPECT_NEAR(part_area(tote, "front") / exact, 1, 0.003);
  EXPECT_NEAR(part_area(tote, "back") / exact, 1, 0.003);
}

TEST(ToteRegions, HemUpperLowerAndBase_LieWhereTheSceneSays) {
  const scenes::Scene scene = samples::rounded();
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 1);
  const double strip = 0.08 * scene.bag.height_m;  // kBaseStripShare
  std::map<int, double> low;
  std::map<int, double> high;
  for (int i = 0; i < tote.model.mesh.n_triangles(); ++i) {
    const int region = tote.model.mesh.triangles[i].region;
    if (!scenes::is_panel(region)) continue;
    for (int k = 0; k < 3; ++k) {
      const double v = tote.model.mesh.rest[i](1, k);
      low[region] = low.count(region) != 0 ? std::min(low[region], v) : v;
      high[region] = std::max(high[region], v);
    }
  }
  const double top = scene.bag.height_m;
  EXPECT_NEAR(high[scenes::kRegionHem], top, 1e-9);
  EXPECT_NEAR(low[scenes::kRegionHem], top - scene.bag.hem_m, 1e-9);
  EXPECT_NEAR(high[scenes::kRegionUpper], top - scene.bag.hem_m, 1e-9);
  EXPECT_NEAR(low[scenes::kRegionUpper], top - scene.bag.upper_height_m, 1e-9);
  EXPECT_NEAR(high[scenes::kRegionLower], top - scene.bag.upper_height_m, 1e-9);
  EXPECT_NEAR(low[scenes::kRegionLower], strip, 1e-9);
  EXPECT_NEAR(high[scenes::kRegionBase], strip, 1e-9);
  EXPECT_NEAR(low[scenes::kRegionBase], 0, 1e-9);
}

TEST(TotePocket, TiesCoverTheSheetAndSitOnTheBaseBeneath) {
  const scenes::Scene scene = samples::gusset_with_pocket();
  for (const int level : {0, 1}) {
    const scenes::Tote tote = scenes::build_tote(scene, samples::library(), level);
    const solver::ShellMesh& mesh = tote.model.mesh;
    std::map<int, int> ties;
    double stiffness = 0;
    for (const solver::NormalTie& tie : tote.model.normal_ties) {
      ties[tie.slave.triangle] += 1;
      stiffness += tie.stiffness_N_per_m;
      EXPECT_EQ(mesh.triangles[tie.slave.triangle].region, scenes::kRegionBaseSheet);
      EXPECT_EQ(mesh.triangles[tie.master.triangle].region, scenes::kRegionBase);
      const Vector3d apart = solver::position_of(mesh, mesh.position, tie.slave) -
                             solver::position_of(mesh, mesh.position, tie.master);
      EXPECT_LT(apart.head<2>().norm(), 1e-9);
      // At the start every tie is at ease.
      EXPECT_NEAR(solver::normal_of(mesh, mesh.position, tie.master).dot(apart), tie.gap_m, 1e-12);
      EXPECT_LT(tie.gap_m, 0);
    }
    for (int i = 0; i < mesh.n_triangles(); ++i) {
      if (mesh.triangles[i].region == scenes::kRegionBaseSheet) {
        EXPECT_EQ(ties[i], 3);
      }
    }
    const double weight = (tote.bag_mass_kg + scene.contents.mass_kg) * tote.model.gravity_m_per_s2;
    EXPECT_NEAR(stiffness * 1e-6 / weight, 1, 1e-9);  // mean gap of a micrometre
    double slide = 0;
    for (const solver::WeakSpring& spring : tote.model.weak_springs)
      slide += spring.stiffness_N_per_m;
    EXPECT_NEAR(slide * 1e-3, 1e-3 * weight, 1e-9);  // N per millimetre
    // The corners' chords cost part of the sheet; what is left is the outline's to 0.3 %.
    const double w = scene.bag.width_m - 2 * scene.base.clearance_m;
    const double d = scene.bag.depth_m - 2 * scene.base.clearance_m;
    const double r = scene.base.corner_radius_m;
    EXPECT_NEAR(part_area(tote, "base sheet") / (w * d - (4 - std::numbers::pi) * r * r), 1, 0.003);
  }
}

TEST(ToteLayers, StiffenedPlacesAreStifferAndHeavier) {
  const scenes::Tote tote = scenes::build_tote(samples::boxed(), samples::library(), 1);
  const solver::ShellMesh& mesh = tote.model.mesh;
  double plain = 1e300;
  double hem = 0;
  double seam = 0;
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    const solver::Section& section = tote.model.sections[mesh.triangles[i].section];
    const int region = mesh.triangles[i].region;
    if (region == scenes::kRegionUpper) {
      plain = std::min(plain, section.D(0, 0));
      seam = std::max(seam, section.D(0, 0));
    }
    if (region == scenes::kRegionHem) hem = std::max(hem, section.D(0, 0));
  }
  EXPECT_GT(seam, 1.2 * plain);
  EXPECT_LT(seam, 2.0 * plain + 1e-12);  // at most one more ply of the same duck
  EXPECT_GE(hem, 2.0 * plain * (1 - 1e-9));
}

TEST(ToteLayers, FullyCoveredBandsAddExactlyTheirPlies) {
  scenes::Scene scene = samples::boxed();
  scene.bag.seam_allowance_m = 0;
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 0);
  const solver::ShellMesh& mesh = tote.model.mesh;
  Eigen::Matrix3d wall = Eigen::Matrix3d::Zero();
  Eigen::Matrix3d hem = Eigen::Matrix3d::Zero();
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    const solver::Section& section = tote.model.sections[mesh.triangles[i].section];
    if (mesh.triangles[i].region == scenes::kRegionUpper) wall = section.A;
    if (mesh.triangles[i].region == scenes::kRegionHem) hem = section.A;
  }
  EXPECT_LT((hem - 2 * wall).norm(), 1e-12 * wall.norm());
}

TEST(ToteBudget, OrdinaryBagAt30mm_HasAboutFifteenHundredToTwoThousandTriangles) {
  const scenes::Scene scene = samples::boxed();
  const scenes::Tote tote =
      scenes::build_tote(scene, samples::library(), scenes::finest_level(scene));
  EXPECT_GT(tote.model.mesh.n_triangles(), 1000);
  EXPECT_LT(tote.model.mesh.n_triangles(), 2200);
}

}  // namespace
}  // namespace totebench
