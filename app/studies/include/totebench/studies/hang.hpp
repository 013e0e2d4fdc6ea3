// How a scene hangs: the study behind `totebench hang`.
//
//   build coarse -> empty -> load rising -> loaded, carried to each finer mesh  } side by side
//                                           empty, carried to each finer mesh   } -> findings
//                                           other starts on the coarse mesh     }
#pragma once

#include <array>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/figure.hpp"
#include "totebench/scenes/scene.hpp"
#include "totebench/solver/continuation.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::studies {

struct HangProgress {
  std::string stage;  // "empty, coarse mesh"
  solver::Progress step;
  double share_done = 0;  // of the stage; 0 = not known
};
// Return false to stop. Called by one thread at a time.
using OnHangProgress = std::function<bool(const HangProgress&)>;

// Work of one stage of a study.
struct StageEffort {
  std::string stage;  // as in HangProgress
  int degrees_of_freedom = 0;
  int newton_iterations = 0;
  int factorisations = 0;
  solver::WorkTimes times;
};

// Work over all meshes and starts.
struct HangEffort {
  int newton_iterations = 0;
  int factorisations = 0;
  double seconds = 0;
  double meshing_s = 0;             // building the bag on all its meshes
  std::vector<StageEffort> stages;  // as they ended; their seconds overlap where they ran together
};

// The force on the hardest pulled stitch, see totebench/studies/stitch_band.hpp.
struct StitchBand {
  double low_N = 0;
  double high_N = 0;
};

// What the scatter of the material data moves, see totebench/studies/data_scatter.hpp.
struct DataScatter {
  // One a line of kFigures, SI; 0 where its likely range is not from the materials.
  using PerFigure = std::array<double, scenes::kFigures.size()>;
  struct Moves {
    std::string input;  // ScatterInput::label()
    PerFigure at_low{}, at_high{};
  };
  std::vector<Moves> moves;    // of the numbers that move anything
  int unsolved = 0;            // numbers with which the bag did not come to rest; their moves are 0
  bool own_materials = false;  // the scene has some: numbers without a range count as exact
};

// How far something beside the materials moves the figures, see
// totebench/studies/circumstances.hpp.
struct Circumstance {
  std::string what;
  std::optional<DataScatter::PerFigure> moved;  // SI; empty = no such bag came to rest
};

struct HangResult {
  scenes::Tote tote;            // on the mesh that `empty` and `loaded` belong to: the finest
                                // reached, the coarse one when that already failed
  solver::State empty, loaded;  // last good states where not converged
  scenes::Tote coarse;          // mesh of `steps`
  std::vector<solver::LoadStep> steps;  // the load rising from empty (factor 0)
  std::vector<solver::Jump> jumps;      // on the way into another shape: of sag or strap drop
  scenes::Findings findings;
  std::optional<scenes::Findings> coarse_findings;  // on the coarse mesh, where that came to rest
  std::optional<scenes::Findings> coarser;          // on longer edges, where that was asked for
  std::optional<StitchBand> stitch_band;            // where it was asked for
  std::optional<DataScatter> data_scatter;          // where it was asked for
  std::optional<std::vector<Circumstance>> circumstances;  // where it was asked for
  bool stopped_early = false;   // on request, with the finest mesh still to do; findings hold
  bool ranges_stopped = false;  // on request, before all of what was asked for above was known
  HangEffort effort;
};

// `library` is library_of(scene, ...). `level` is the mesh to end on, finest_level(scene) unless
// given. Throws std::invalid_argument on geometry that the reader refuses.
[[nodiscard]] HangResult hang_tote(const scenes::Scene& scene,
                                   const materials::MaterialLibrary& library,
                                   const OnHangProgress& on_progress,
                                   std::optional<int> level = std::nullopt);

struct SheetHangResult {
  scenes::SheetModel sheet;
  std::vector<solver::LoadStep> steps;  // the load rising; the first is the start (factor 0)
  solver::SolveReport report;           // of the full load, or of the last good part of it
  std::vector<solver::Jump> jumps;      // of the shape on the way
  double unseen_wrinkles = 0;           // solver::unseen_wrinkles at the end
  std::vector<std::string> cautions;    // what to bear in mind with all this
  HangEffort effort;
};
// Force of each support of the scene on the sheet at one of its steps, N. Where two hold one node,
// it is the earlier one's.
[[nodiscard]] std::vector<Eigen::Vector3d> support_forces(const SheetHangResult& result,
                                                          const solver::LoadStep& step);
[[nodiscard]] SheetHangResult hang_sheet(const scenes::Scene& scene,
                                         const materials::MaterialLibrary& library,
                                         const OnHangProgress& on_progress);

}  // namespace totebench::studies
