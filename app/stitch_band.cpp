#include "app/stitch_band.hpp"

#include <algorithm>
#include <array>
#include <mutex>

#include "app/side_by_side.hpp"
#include "scenes/strap_seams.hpp"

namespace totebench {

std::optional<StitchBand> stitch_band(const HangResult& hung, const OnHangProgress& on_progress) {
  if (!hung.findings.converged() || hung.tote.model.stitches.empty()) return std::nullopt;
  std::array<std::optional<double>, 2> peak;
  std::mutex reporting;
  const auto solve = [&](std::size_t i) {
    Model model = hung.tote.model;
    const double share = i == 0 ? 1 / kStitchDoubt : kStitchDoubt;
    for (Stitch& stitch : model.stitches) stitch.stiffness_N_per_m *= share;
    SolveOptions options;
    options.bold = true;
    options.on_progress = [&](const Progress& progress) {
      const std::lock_guard lock(reporting);
      return !on_progress ||
             on_progress({i == 0 ? "softer stitches" : "stiffer stitches", progress});
    };
    State state = hung.loaded;
    const SolveReport report = find_equilibrium(model, 1.0, state, options);
    if (report.status != SolveStatus::kConverged) return;
    peak[i] = hardest_stitch_N(model, state);
  };
  side_by_side({[&] { solve(0); }, [&] { solve(1); }});
  if (!peak[0] || !peak[1]) return std::nullopt;
  return StitchBand{std::min(*peak[0], *peak[1]), std::max(*peak[0], *peak[1])};
}

}  // namespace totebench
