// The likely range of a length: closed forms, and a bag whose numbers are changed by hand.
#include "totebench/studies/data_scatter.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "builder_samples.hpp"
#include "totebench/studies/coarser_mesh.hpp"
#include "totebench/studies/likely_range.hpp"
#include "totebench/studies/rate_scatter.hpp"

namespace totebench {
namespace {

constexpr const scenes::Figure& kSag = scenes::figure_of<&scenes::Findings::bottom_sag_m>();
constexpr const scenes::Figure& kStitch = scenes::figure_of(scenes::peak_stitch_N);

studies::HangResult hung_by_hand(double sag_before_m, double sag_m) {
  studies::HangResult hung;
  hung.findings.bottom_sag_m = sag_m;
  hung.coarse_findings = scenes::Findings();
  hung.coarse_findings->bottom_sag_m = sag_before_m;
  hung.findings.triangles = 4;
  hung.coarse_findings->triangles = 1;
  hung.data_scatter = studies::DataScatter();
  return hung;
}

studies::DataScatter::Moves sag_moves(const std::string& input, double at_low_m, double at_high_m) {
  studies::DataScatter::Moves moves;
  moves.input = input;
  moves.at_low[place_of(kSag)] = at_low_m;
  moves.at_high[place_of(kSag)] = at_high_m;
  return moves;
}

// Moves up 3 and 4 mm: 5 mm; down 5 and 12 mm: 13 mm; on top 1 mm by the mesh.
TEST(LikelyRange, AddsMovesInSquaresAndTheMeshOnTop) {
  studies::HangResult hung = hung_by_hand(0.051, 0.050);
  hung.data_scatter->moves = {sag_moves("a", 0.003, -0.005), sag_moves("b", -0.012, 0.004)};
  EXPECT_NEAR(studies::likely_range(hung, kSag)->low, 0.050 - 0.001 - 0.013, 1e-12);
  EXPECT_NEAR(studies::likely_range(hung, kSag)->high, 0.050 + 0.001 + 0.005, 1e-12);
}

TEST(LikelyRange, ANumberThatMovesTheSameWayAtBothEndsCountsOnce) {
  studies::HangResult hung = hung_by_hand(0.050, 0.050);
  hung.data_scatter->moves = {sag_moves("a", 0.003, 0.002)};
  EXPECT_NEAR(studies::likely_range(hung, kSag)->low, 0.050, 1e-12);
  EXPECT_NEAR(studies::likely_range(hung, kSag)->high, 0.053, 1e-12);
}

TEST(LikelyRange, ComesFromTheNumbersInProportionToTheirSquares) {
  studies::DataScatter scatter;
  scatter.moves = {sag_moves("a", 0.001, -0.001), sag_moves("b", -0.003, 0.003)};
  EXPECT_EQ(drivers_text(studies::drivers(scatter, kSag)), "b (90 %), a (10 %)");
}

studies::ScatterInput stiffness_of_sheet(const scenes::Scene& scene) {
  for (const studies::ScatterInput& in : studies::scatter_inputs(scene, samples::library())) {
    if (in.id == "hdpe_sheet" && in.property == "youngs_modulus") return in;
  }
  throw std::logic_error("the sheet's stiffness has no range");
}

// All numbers of the bag are known but one.
materials::MaterialLibrary known_but(const studies::ScatterInput& spread,
                                     const scenes::Scene& scene) {
  const std::vector<studies::ScatterInput> inputs =
      studies::scatter_inputs(scene, samples::library());
  std::vector<double> values;
  for (const studies::ScatterInput& in : inputs) values.push_back(in.value);
  materials::MaterialLibrary library = studies::with_values(samples::library(), inputs, values);
  library.for_each_quantity([&](std::string_view kind, std::string_view id,
                                std::string_view property, materials::Quantity& q) {
    if (kind != spread.kind || id != spread.id || property != spread.property) return;
    q.low = spread.low;
    q.high = spread.high;
  });
  return library;
}

// The ends of the one number are set by hand, and the bag goes there from the typical shapes:
// raised anew, its soft walls may settle in a shape close by.
TEST(DataScatter, MovesWhatTheChangedBagMoves) {
  scenes::Scene scene = samples::small_bag();
  scene.solve.shapes = 0;
  const studies::ScatterInput spread = stiffness_of_sheet(scene);
  const materials::MaterialLibrary library = known_but(spread, scene);
  const studies::HangResult hung = studies::hang_tote(scene, library, {}, 0);
  const std::optional<studies::DataScatter> scatter =
      studies::data_scatter(scene, library, hung, {});
  ASSERT_TRUE(scatter);
  EXPECT_EQ(scatter->unsolved, 0);
  ASSERT_EQ(scatter->moves.size(), 1u);
  EXPECT_EQ(scatter->moves[0].input, spread.label());

  const auto with = [&](double chance) {
    const double value = studies::triangle_quantile(spread, chance);
    const scenes::Tote tote =
        scenes::build_tote(scene, studies::with_values(library, {spread}, {value}), 0);
    solver::State empty = hung.steps.front().state, loaded = hung.steps.back().state;
    const solver::SolveReport of_empty = solver::find_equilibrium(tote.model, 0, empty);
    const solver::SolveReport of_loaded = solver::find_equilibrium(tote.model, 1, loaded);
    return scenes::make_findings(scene, tote, empty, of_empty, loaded, of_loaded);
  };
  const scenes::Findings low = with(0.05), high = with(0.95);
  ASSERT_TRUE(low.converged() && high.converged());
  EXPECT_GT(low.bottom_sag_m, 1.05 * high.bottom_sag_m);  // a softer sheet sags more
  int followed = 0;
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (figure.likely_from != scenes::LikelyFrom::kMaterials) continue;
    ++followed;
    const std::size_t k = place_of(figure);
    const double typical = figure.value(hung.findings);
    // The search for the moves ends at 1e-4 of the load, and so of what the load moves.
    const double tolerance = 1e-3 * hung.findings.overall_lengthening_m;
    EXPECT_NEAR(scatter->moves[0].at_low[k], figure.value(low) - typical, tolerance) << figure.key;
    EXPECT_NEAR(scatter->moves[0].at_high[k], figure.value(high) - typical, tolerance)
        << figure.key;
  }
  EXPECT_EQ(followed, 5);
}

// The low end alone would tell that this number hardly counts.
TEST(DataScatter, ANumberThatReachesFarToOneSideIsFollowedThere) {
  scenes::Scene scene = samples::small_bag();
  scene.solve.shapes = 0;
  studies::ScatterInput spread = stiffness_of_sheet(scene);
  spread.low = 0.999 * spread.value;
  spread.high = 4 * spread.value;
  const materials::MaterialLibrary library = known_but(spread, scene);
  const studies::HangResult hung = studies::hang_tote(scene, library, {}, 0);
  const std::optional<studies::DataScatter> scatter =
      studies::data_scatter(scene, library, hung, {});
  ASSERT_TRUE(scatter && scatter->moves.size() == 1);
  const studies::DataScatter::Moves& moves = scatter->moves[0];
  const std::size_t sag = place_of(kSag);
  EXPECT_LT(moves.at_high[sag], -0.1 * hung.findings.bottom_sag_m);
  EXPECT_LT(std::abs(moves.at_low[sag]), 0.2 * std::abs(moves.at_high[sag]));
}

TEST(LikelyRange, OfTheHardestStitchIsItsBandWithTheMeshOnTop) {
  studies::HangResult hung = hung_by_hand(0.05, 0.05);
  EXPECT_FALSE(studies::likely_range(hung, kStitch));
  scenes::StrapSeamFinding seam;
  seam.peak_stitch_N = 3;
  hung.findings.strap_seams = {seam};
  hung.stitch_band = studies::StitchBand{2.5, 3.5};
  EXPECT_FALSE(studies::mesh_change(hung, kStitch));  // the coarse mesh is not refined at seams
  EXPECT_NEAR(studies::likely_range(hung, kStitch)->low, 2.5, 1e-12);
  seam.peak_stitch_N = 3.2;
  hung.coarser = scenes::Findings();
  hung.coarser->strap_seams = {seam};
  EXPECT_NEAR(studies::likely_range(hung, kStitch)->low, 2.3, 1e-12);
  EXPECT_NEAR(studies::likely_range(hung, kStitch)->high, 3.7, 1e-12);
}

// The mesh compared with is like the finest one, on longer edges.
TEST(CoarserMesh, HasEdgesTwiceAsLongAndCarriesTheSameLoad) {
  scenes::Scene scene = samples::small_bag();
  scene.solve.shapes = 0;
  const studies::HangResult hung = studies::hang_tote(scene, samples::library(), {});
  const std::optional<scenes::Findings> coarser =
      studies::coarser_findings(scene, samples::library(), hung, {});
  ASSERT_TRUE(coarser);
  EXPECT_LT(coarser->triangles, hung.findings.triangles);
  EXPECT_GT(coarser->triangles, hung.coarse_findings->triangles);
  EXPECT_NEAR(coarser->loaded.reaction_N.z(), coarser->weight_N, 1e-5 * coarser->weight_N);
  // Statics shares the load out among the strap's ends, whatever the mesh.
  ASSERT_EQ(coarser->strap_seams.size(), hung.findings.strap_seams.size());
  for (std::size_t i = 0; i < coarser->strap_seams.size(); ++i) {
    EXPECT_NEAR(coarser->strap_seams[i].force_N.z(), hung.findings.strap_seams[i].force_N.z(),
                0.01 * coarser->weight_N);
  }
}

TEST(DataScatter, EndsOnRequest) {
  scenes::Scene scene = samples::small_bag();
  scene.solve.shapes = 0;
  const studies::HangResult hung = studies::hang_tote(scene, samples::library(), {}, 0);
  const auto stop = [](const studies::HangProgress&) { return false; };
  EXPECT_FALSE(studies::data_scatter(scene, samples::library(), hung, stop));
}

}  // namespace
}  // namespace totebench
