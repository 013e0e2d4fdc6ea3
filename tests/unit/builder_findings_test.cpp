// Findings of states made by hand, whose answers are known without solving.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "builder_samples.hpp"
#include "scenes/findings/surface_crossings.hpp"
#include "totebench/scenes/findings.hpp"
#include "totebench/scenes/strap_seams.hpp"
#include "totebench/scenes/utilisation.hpp"

namespace totebench {
namespace {

using Eigen::Vector3d;

solver::SolveReport done() {
  solver::SolveReport report;
  report.status = solver::SolveStatus::kConverged;
  report.stable = true;
  report.load_factor = 1;
  return report;
}

scenes::Findings findings_of(const scenes::Scene& scene, const scenes::Tote& tote,
                             const solver::State& empty, const solver::State& loaded) {
  return scenes::make_findings(scene, tote, empty, done(), loaded, done());
}

// Moves every node that belongs to a panel or the base sheet, not to a strap.
void move_bag(const scenes::Tote& tote, const Vector3d& by, solver::State& state) {
  std::set<int> nodes;
  for (const solver::Triangle& t : tote.model.mesh.triangles) {
    if (!scenes::is_strap(t.region)) nodes.insert(t.node.begin(), t.node.end());
  }
  for (const int n : nodes) state.x.col(n) += by;
}

class Boxed : public testing::Test {
 protected:
  scenes::Scene scene = samples::boxed();
  scenes::Tote tote = scenes::build_tote(scene, samples::library(), 0);
  solver::State start = solver::start_state(tote.model);
};

TEST_F(Boxed, SameStateTwice_HasNoSagAndNoLengthening) {
  const scenes::Findings found = findings_of(scene, tote, start, start);
  EXPECT_NEAR(found.bottom_sag_m, 0, 1e-15);
  EXPECT_NEAR(found.overall_lengthening_m, 0, 1e-15);
  EXPECT_NEAR(found.strap_drop_lengthening_m, 0, 1e-15);
  for (const scenes::StrapSeamFinding& seam : found.strap_seams)
    EXPECT_LT(seam.peak_stitch_N, 1e-9);
  EXPECT_EQ(found.surface_crossings, 0) << found.surface_crossings_where;
  EXPECT_NEAR(found.weight_N, (tote.bag_mass_kg + scene.contents.mass_kg) * 9.80665, 1e-9);
  EXPECT_TRUE(found.converged());
}

// A base that hangs through as a paraboloid of 20 mm sags by 20 mm: its outline stays where it was.
TEST_F(Boxed, DishedBase_SagsByItsDepth) {
  solver::State loaded = start;
  const double depth = 0.020;
  std::set<int> base;
  for (const solver::Triangle& t : tote.model.mesh.triangles) {
    if (t.region == scenes::kRegionBase) base.insert(t.node.begin(), t.node.end());
  }
  double deepest = 0;
  for (const int n : base) {
    const double u = 2 * loaded.x(0, n) / scene.bag.width_m;
    const double v = 2 * loaded.x(1, n) / scene.bag.depth_m;
    const double down = depth * (1 - u * u) * (1 - v * v);
    loaded.x(2, n) -= down;
    deepest = std::max(deepest, down);
  }
  const scenes::Findings found = findings_of(scene, tote, start, loaded);
  EXPECT_GE(found.bottom_sag_m, deepest - 1e-12);  // nodes, or a centre between them
  EXPECT_LE(found.bottom_sag_m, depth);
  EXPECT_NEAR(found.bottom_sag_m, depth, 0.1 * depth);
  EXPECT_NEAR(found.overall_lengthening_m, found.bottom_sag_m, 1e-12);
  EXPECT_NEAR(findings_of(scene, tote, loaded, loaded).bottom_sag_m, 0, 1e-12)
      << "what hangs through empty already is no sag of the load";
}

// A bag that moves down whole lengthens and its strap drop grows, but its base does not sag.
TEST_F(Boxed, BagMovedDown_LengthensWithoutSag) {
  solver::State loaded = start;
  move_bag(tote, {0, 0, -0.015}, loaded);
  const scenes::Findings found = findings_of(scene, tote, start, loaded);
  EXPECT_NEAR(found.bottom_sag_m, 0, 1e-12);
  EXPECT_NEAR(found.overall_lengthening_m, 0.015, 1e-12);
  EXPECT_NEAR(found.strap_drop_lengthening_m, 0.015, 1e-12);
  EXPECT_NEAR(found.strap_drop_empty_m,
              solver::position_of(tote.model.mesh, start.x, tote.strap_midpoints[0]).z() -
                  tote.thickness_m[tote.strap_midpoints[0].triangle] / 2 - scene.bag.height_m,
              1e-9);
}

// An empty base that dips by 20 mm and is drawn flat by the load: 20 mm below zero.
TEST_F(Boxed, BaseDrawnFlat_SagsByLessThanNothing) {
  solver::State empty = start;
  for (const solver::Triangle& t : tote.model.mesh.triangles) {
    if (t.region != scenes::kRegionBase) continue;
    for (const int n : t.node) {
      const double u = 2 * start.x(0, n) / scene.bag.width_m;
      const double v = 2 * start.x(1, n) / scene.bag.depth_m;
      empty.x(2, n) = start.x(2, n) - 0.020 * (1 - u * u) * (1 - v * v);
    }
  }
  const scenes::Findings found = findings_of(scene, tote, empty, start);
  EXPECT_NEAR(found.bottom_sag_m, -0.020, 0.002);
  EXPECT_NEAR(found.overall_lengthening_m, found.bottom_sag_m, 1e-12);
}

// Drawn by hand: the opening flops down by up to 100 mm between a strap's ends, and one end of each
// strap sinks by 10 mm. A tape from the strap to the line between its ends reads 5 mm more than
// before, whatever hangs between them.
TEST_F(Boxed, StrapDropIsMeasuredToTheLineBetweenTheStrapsEnds) {
  const double before = scenes::strap_drop(tote, start);
  solver::State flopped = start;
  const double half = 0.5 * scene.straps.front().spacing_m;
  for (int n = 0; n < tote.model.mesh.n_nodes(); ++n) {
    const Vector3d x = start.x.col(n);
    if (x.z() > scene.bag.height_m + 1e-9) continue;  // straps above the opening
    flopped.x(2, n) -= 0.1 * std::max(0.0, 1 - std::pow(x.x() / half, 2));
    if (std::abs(x.x() - half) < 0.5 * scene.straps.front().width_m + 1e-6) {
      flopped.x(2, n) -= 0.010;
    }
  }
  EXPECT_NEAR(scenes::strap_drop(tote, flopped), before + 0.005, 2e-4);
  for (const scenes::StrapDrop& drop : scenes::strap_drops(tote, flopped.x)) {
    EXPECT_EQ(drop.foot.head<2>(), drop.underside.head<2>()) << "straight down";
    EXPECT_NEAR(drop.foot.z(), scene.bag.height_m - 0.005, 2e-4);
  }
}

// The ends of a shoulder strap lie on the two sides.
TEST(StrapFeet, LieWhereTheStrapCrossesTheOpening) {
  scenes::Scene scene = samples::boxed();
  scene.straps.front().style = scenes::StrapStyle::kShoulderStrap;
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 0);
  ASSERT_EQ(tote.strap_feet.size(), 1u);
  for (const solver::SurfacePoint& foot : tote.strap_feet.front()) {
    const Vector3d at = solver::position_of(tote.model.mesh, tote.model.mesh.position, foot);
    EXPECT_NEAR(std::abs(at.x()), 0.5 * scene.bag.width_m, 1e-6);
    EXPECT_NEAR(at.y(), 0, 1e-6);
    EXPECT_NEAR(at.z(), scene.bag.height_m, 1e-9);
  }
}

// All stitches opened by the same vector: every one carries stiffness times that, so totals, peaks
// and the split into directions are known.
TEST_F(Boxed, StitchForces_SplitAlongAcrossAndPeel) {
  const double k = tote.model.stitches[0].stiffness_N_per_m;
  const double small = 1e-5;
  struct Case {
    Vector3d strap_moves;
    double along, across, peel;  // of the front's ends
  };
  // On the front the strap runs up (z), the panel's normal is +y.
  const Case cases[] = {{{0, 0, small}, 1, 0, 0},
                        {{small, 0, 0}, 0, 1, 0},
                        {{0, small, 0}, 0, 0, 1},
                        {{0, -small, 0}, 0, 0, 0}};  // pressed on: no peel
  for (const Case& c : cases) {
    solver::State state = start;
    move_bag(tote, -c.strap_moves, state);
    const scenes::Findings found = findings_of(scene, tote, start, state);
    for (std::size_t a = 0; a < found.strap_seams.size(); ++a) {
      const scenes::StrapSeamFinding& seam = found.strap_seams[a];
      if (seam.name.rfind("front", 0) != 0) continue;
      const double n = static_cast<double>(tote.attachments[a].stitches.size());
      EXPECT_LT((seam.force_N - n * k * c.strap_moves).norm(), 1e-6 * n * k * small);
      EXPECT_NEAR(seam.peak_stitch_N, k * small, 1e-6 * k * small);
      EXPECT_NEAR(seam.mean_stitch_N, k * small, 1e-6 * k * small);
      EXPECT_NEAR(seam.peak_N_per_m, k * small / 0.003, 1e-6 * k * small / 0.003);
      const double line = n * k * small / tote.attachments[a].line_length_m;
      EXPECT_NEAR(seam.mean_N_per_m, line, 1e-6 * line);
      EXPECT_NEAR(seam.shear_along_N_per_m, c.along * line, 1e-6 * line);
      EXPECT_NEAR(seam.shear_across_N_per_m, c.across * line, 1e-6 * line);
      EXPECT_NEAR(seam.peel_N_per_m, c.peel * line, 1e-6 * line);
    }
  }
}

TEST_F(Boxed, FrontPushedThroughTheBack_IsReportedByName) {
  solver::State state = start;
  for (int n = 0; n < state.x.cols(); ++n) {
    const double z = state.x(2, n);
    const double x = state.x(0, n);
    const bool free_of_edges = std::abs(x) < 0.15 && z > 0.05 && z < 0.25;
    if (free_of_edges && state.x(1, n) > 0.07) state.x(1, n) = -0.10;
  }
  const scenes::SurfaceCrossings crossings = scenes::surface_crossings(scene, tote, state);
  EXPECT_GT(crossings.pairs, 0);
  EXPECT_NE(crossings.where.find("front through back"), std::string::npos) << crossings.where;
  const scenes::Findings found = findings_of(scene, tote, start, state);
  const bool told = std::any_of(
      found.cautions.begin(), found.cautions.end(),
      [](const std::string& text) { return text.find("pass through each other") != text.npos; });
  EXPECT_TRUE(told);
}

TEST_F(Boxed, Utilisation_IsSortedAndNamesItsSources) {
  solver::State state = start;
  move_bag(tote, {0, 0, -2e-4}, state);
  const scenes::Findings found = findings_of(scene, tote, start, state);
  ASSERT_FALSE(found.utilisation.empty());
  for (std::size_t i = 0; i < found.utilisation.size(); ++i) {
    const scenes::Utilisation& use = found.utilisation[i];
    EXPECT_GT(use.capacity, 0);
    EXPECT_NEAR(use.ratio, use.demand / use.capacity, 1e-12);
    EXPECT_FALSE(use.source.empty()) << use.what;
    if (i > 0) {
      EXPECT_LE(use.ratio, found.utilisation[i - 1].ratio);
    }
  }
}

TEST_F(Boxed, Cautions_AlwaysThere_NeverCallAnythingSafe) {
  const scenes::Findings found = findings_of(scene, tote, start, start);
  EXPECT_GE(found.cautions.size(), 5U);
  std::string all;
  for (const std::string& text : found.cautions) all += text + "\n";
  for (const char* must : {"no lifting device", "Test a sample", "wet", "licensed"}) {
    EXPECT_NE(all.find(must), std::string::npos) << must;
  }
  EXPECT_EQ(all.find("safe"), std::string::npos);

  scenes::Findings failed = found;
  failed.loaded.status = solver::SolveStatus::kNotConverged;
  const auto texts = scenes::cautions(scene, tote, failed);
  EXPECT_TRUE(std::any_of(texts.begin(), texts.end(), [](const std::string& text) {
    return text.find("No equilibrium") != std::string::npos;
  }));
  scenes::Findings wrinkled;
  wrinkled.unseen_wrinkles = 0.3;
  const auto told = [&] {
    for (const std::string& text : scenes::cautions(scene, tote, wrinkled)) {
      if (text.starts_with("On 30 % of the cloth the real bag would wrinkle")) return true;
    }
    return false;
  };
  EXPECT_TRUE(told());
  wrinkled.unseen_wrinkles = 0.2;
  EXPECT_FALSE(told());
}

// A sheet in a pocket, rolled to a cylinder of radius R: sigma = E t / (2 (1 - nu^2) R) at its
// faces (plate bending; the curvature across is held at zero).
TEST(BaseSheet, RolledToACylinder_HasThePlatesStress) {
  const scenes::Scene scene = samples::gusset_with_pocket();
  scenes::Tote tote = scenes::build_tote(scene, samples::library(), 1);
  const double radius = 2.0;
  for (int n = 0; n < tote.model.mesh.n_nodes(); ++n) {
    auto x = tote.model.mesh.position.col(n);
    const double r = radius + x.z();
    x = Vector3d(r * std::sin(x.x() / radius), x.y(), r * std::cos(x.x() / radius) - radius);
  }
  const solver::State state = solver::start_state(tote.model);
  const scenes::Findings found = findings_of(scene, tote, state, state);
  const double nu = tote.base_sheet_poisson_ratio;
  const double expected =
      tote.base_sheet_modulus_Pa * tote.base_sheet_thickness_m / 2 / (1 - nu * nu) / radius;
  EXPECT_GT(tote.base_sheet_modulus_Pa, 1e8);
  EXPECT_NEAR(found.base_sheet_stress_Pa / expected, 1, 0.03);
}

}  // namespace
}  // namespace totebench
