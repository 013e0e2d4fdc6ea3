#include "app/coarser_mesh.hpp"

#include <array>
#include <mutex>

#include "app/side_by_side.hpp"

namespace totebench {

std::optional<Findings> coarser_findings(const Scene& scene, const MaterialLibrary& library,
                                         const HangResult& hung,
                                         const OnHangProgress& on_progress) {
  if (!hung.findings.converged() || !hung.coarse_findings) return std::nullopt;
  const Tote tote = build_coarse_with_refined_seams(scene, library);
  std::mutex reporting;
  std::array<State, 2> states = {hung.steps.front().state, hung.steps.back().state};
  std::array<SolveReport, 2> reports;
  const auto solve = [&](std::size_t i) {
    SolveOptions options;
    options.bold = true;
    options.on_progress = [&](const Progress& progress) {
      const std::lock_guard lock(reporting);
      return !on_progress ||
             on_progress({i == 0 ? "empty, longer edges" : "loaded, longer edges", progress});
    };
    State state = prolong(hung.coarse.model, states[i], tote.model);
    reports[i] = find_equilibrium(tote.model, static_cast<double>(i), state, options);
    states[i] = std::move(state);
  };
  side_by_side({[&] { solve(0); }, [&] { solve(1); }});
  Findings found = make_findings(scene, tote, states[0], reports[0], states[1], reports[1]);
  if (!found.converged()) return std::nullopt;
  return found;
}

}  // namespace totebench
