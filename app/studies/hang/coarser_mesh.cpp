#include "totebench/studies/coarser_mesh.hpp"

#include <array>
#include <mutex>

#include "totebench/studies/side_by_side.hpp"

namespace totebench::studies {

std::optional<scenes::Findings> coarser_findings(const scenes::Scene& scene,
                                                 const materials::MaterialLibrary& library,
                                                 const HangResult& hung,
                                                 const OnHangProgress& on_progress) {
  if (!hung.findings.converged() || !hung.coarse_findings) return std::nullopt;
  const scenes::Tote tote = scenes::build_coarse_with_refined_seams(scene, library);
  std::mutex reporting;
  std::array<solver::State, 2> states = {hung.steps.front().state, hung.steps.back().state};
  std::array<solver::SolveReport, 2> reports;
  const auto solve = [&](std::size_t i) {
    solver::SolveOptions options;
    options.full_steps = true;
    options.on_progress = [&](const solver::Progress& progress) {
      const std::lock_guard lock(reporting);
      return !on_progress ||
             on_progress({i == 0 ? "empty, longer edges" : "loaded, longer edges", progress});
    };
    solver::State state = solver::prolong(hung.coarse.model, states[i], tote.model);
    reports[i] = solver::find_equilibrium(tote.model, static_cast<double>(i), state, options);
    states[i] = std::move(state);
  };
  side_by_side({[&] { solve(0); }, [&] { solve(1); }});
  scenes::Findings found =
      scenes::make_findings(scene, tote, states[0], reports[0], states[1], reports[1]);
  if (!found.converged()) return std::nullopt;
  return found;
}

}  // namespace totebench::studies
