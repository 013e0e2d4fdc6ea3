#include "totebench/studies/stitch_band.hpp"

#include <algorithm>
#include <array>
#include <mutex>

#include "totebench/scenes/strap_seams.hpp"
#include "totebench/studies/side_by_side.hpp"

namespace totebench::studies {

std::optional<StitchBand> stitch_band(const HangResult& hung, const OnHangProgress& on_progress) {
  if (!hung.findings.converged() || hung.tote.model.stitches.empty()) return std::nullopt;
  std::array<std::optional<double>, 2> peak;
  std::mutex reporting;
  const auto solve = [&](std::size_t i) {
    solver::Model model = hung.tote.model;
    const double share = i == 0 ? 1 / kStitchDoubt : kStitchDoubt;
    for (solver::Stitch& stitch : model.stitches) stitch.stiffness_N_per_m *= share;
    solver::SolveOptions options;
    options.full_steps = true;
    options.on_progress = [&](const solver::Progress& progress) {
      const std::lock_guard lock(reporting);
      return !on_progress ||
             on_progress({i == 0 ? "softer stitches" : "stiffer stitches", progress});
    };
    solver::State state = hung.loaded;
    const solver::SolveReport report = solver::find_equilibrium(model, 1.0, state, options);
    if (report.status != solver::SolveStatus::kConverged) return;
    peak[i] = scenes::hardest_stitch_N(model, state);
  };
  side_by_side({[&] { solve(0); }, [&] { solve(1); }});
  if (!peak[0] || !peak[1]) return std::nullopt;
  return StitchBand{std::min(*peak[0], *peak[1]), std::max(*peak[0], *peak[1])};
}

}  // namespace totebench::studies
