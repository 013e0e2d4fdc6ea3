// Does the answer behave as a person who carries bags would expect? On the coarse mesh of the
// demo tote and of the bag with a separate base: no outside numbers, only directions.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "tests/support/source_folder.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/findings.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench {
namespace {

struct Hung {
  scenes::Tote tote;
  solver::State empty, loaded;
  scenes::Findings findings;
};

Hung hang(const scenes::Scene& scene, const materials::MaterialLibrary& library) {
  Hung hung{scenes::build_tote(scene, library, 0), {}, {}, {}};
  hung.empty = solver::start_state(hung.tote.model);
  const solver::SolveReport empty = solver::find_equilibrium(hung.tote.model, 0, hung.empty);
  hung.loaded = hung.empty;
  solver::SolveReport loaded;
  for (const double share : {0.25, 0.5, 0.75, 1.0}) {
    loaded = solver::find_equilibrium(hung.tote.model, share, hung.loaded);
    EXPECT_EQ(loaded.status, solver::SolveStatus::kConverged) << static_cast<int>(loaded.failure);
  }
  hung.findings = scenes::make_findings(scene, hung.tote, hung.empty, empty, hung.loaded, loaded);
  return hung;
}

scenes::Scene example(const std::string& name, const materials::MaterialLibrary& library) {
  const scenes::ReadResult result =
      scenes::read_scene(test::source_folder() / "scenes/examples" / name, library);
  EXPECT_TRUE(result.scene.has_value()) << name;
  return result.scene.value_or(scenes::Scene{});
}

double peak_stitch(const scenes::Findings& findings) {
  double peak = 0;
  for (const scenes::StrapSeamFinding& seam : findings.strap_seams) {
    peak = std::max(peak, seam.peak_stitch_N);
  }
  return peak;
}

TEST(Sense, TwiceTheLoadRaisesEveryDemand) {
  const materials::MaterialLibrary library = materials::MaterialLibrary::load();
  scenes::Scene scene = example("demo.json", library);
  scene.contents.mass_kg = 3;
  const Hung light = hang(scene, library);
  scene.contents.mass_kg = 6;
  const Hung heavy = hang(scene, library);
  EXPECT_GT(heavy.findings.bottom_sag_m, light.findings.bottom_sag_m);
  EXPECT_GT(heavy.findings.overall_lengthening_m, light.findings.overall_lengthening_m);
  EXPECT_GT(heavy.findings.peak_panel_force_N_per_m, light.findings.peak_panel_force_N_per_m);
  EXPECT_GT(heavy.findings.base_sheet_stress_Pa, light.findings.base_sheet_stress_Pa);
  EXPECT_GT(peak_stitch(heavy.findings), peak_stitch(light.findings));
  ASSERT_EQ(heavy.findings.strap_seams.size(), light.findings.strap_seams.size());
  for (std::size_t i = 0; i < heavy.findings.strap_seams.size(); ++i) {
    EXPECT_GT(heavy.findings.strap_seams[i].force_N.norm(),
              light.findings.strap_seams[i].force_N.norm());
  }
}

// Largest distance between the two faces of the bag, front to back.
double girth(const Hung& hung) {
  double front = -1e9;
  double back = 1e9;
  for (const solver::Triangle& t : hung.tote.model.mesh.triangles) {
    if (t.region != scenes::kRegionUpper && t.region != scenes::kRegionLower) continue;
    for (const int node : t.node) {
      front = std::max(front, hung.loaded.x(1, node));
      back = std::min(back, hung.loaded.x(1, node));
    }
  }
  return front - back;
}

TEST(Sense, ALiquidBulgesTheWallsMoreThanAStiffLoad) {
  const materials::MaterialLibrary library = materials::MaterialLibrary::load();
  scenes::Scene scene = example("gusset-books.json", library);
  scene.contents.kind = scenes::ContentsKind::kEven;
  const Hung stiff = hang(scene, library);
  scene.contents.kind = scenes::ContentsKind::kLoose;
  scene.contents.bulk_density_kg_per_m3 = 1000;
  scene.contents.friction_angle_rad = 0;
  const Hung liquid = hang(scene, library);
  EXPECT_GT(girth(liquid), 1.05 * girth(stiff));
}

}  // namespace
}  // namespace totebench
