#include "app/hang_study.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <optional>

namespace totebench {
namespace {

constexpr double kOtherStartBump_m = 2e-3;   // amplitude of the shake of another start
constexpr double kOtherShapeShare = 0.05;    // another shape sags differently by this share ...
constexpr double kOtherShapeLeast_m = 1e-3;  // ... and by this length
constexpr int kMostHalvings = 6;             // of a load step, before giving up

class Study {
 public:
  Study(HangEffort& effort, const OnHangProgress& on_progress)
      : effort_(effort), on_progress_(on_progress), begin_(std::chrono::steady_clock::now()) {}

  // One equilibrium. `options` are completed with progress reports under the name `stage`.
  SolveReport solve(const Model& model, double load_factor, State& state, const std::string& stage,
                    SolveOptions options = {}) {
    options.on_progress = [&](const Progress& progress) {
      return !on_progress_ || on_progress_({stage, progress});
    };
    const SolveReport report = find_equilibrium(model, load_factor, state, options);
    effort_.newton_iterations += report.newton_iterations;
    effort_.factorisations += report.factorisations;
    effort_.seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - begin_).count();
    return report;
  }

  // The load rising from `state` at factor 0 to 1 in `n_steps` steps, halved where one fails. Every
  // equilibrium is appended to `steps`. On failure `state` is the last one reached.
  SolveReport raise_load(const Model& model, int n_steps, State& state,
                         std::vector<LoadStep>& steps) {
    const double whole = 1.0 / std::max(1, n_steps);
    double done = 0, step = whole;
    while (true) {
      const double next = std::min(1.0, done + step);
      State trial = state;
      SolveReport report = solve(model, next, trial, fmt::format("load at {:.0f} %", 100 * next));
      if (report.status == SolveStatus::kConverged) {
        state = trial;
        done = next;
        steps.push_back({done, state});
        if (done >= 1) return report;
        step = std::min(1.5 * step, whole);
      } else if (report.status == SolveStatus::kInterrupted ||
                 step < whole / (1 << kMostHalvings)) {
        report.load_factor = done;
        return report;
      } else {
        step *= 0.5;
      }
    }
  }

 private:
  HangEffort& effort_;
  const OnHangProgress& on_progress_;
  std::chrono::steady_clock::time_point begin_;
};

bool converged(const SolveReport& report) { return report.status == SolveStatus::kConverged; }

// The whole load at once from shaken starts: does the bag also rest in another shape?
Findings::OtherShape look_for_other_shape(const Scene& scene, const HangResult& first,
                                          const State& empty, const SolveReport& empty_report,
                                          const State& loaded, const SolveReport& loaded_report,
                                          Study& study) {
  const auto sag_of = [&](const State& state, const SolveReport& report) {
    return make_findings(scene, first.coarse, empty, empty_report, state, report).bottom_sag_m;
  };
  Findings::OtherShape other;
  const double sag = sag_of(loaded, loaded_report);
  other.energy_of_first_J = loaded_report.energy_J;
  other.sag_low_m = other.sag_high_m = sag;
  double furthest = 0;
  for (int start = 1; start <= scene.solve.shapes; ++start) {
    SolveOptions options;
    options.imperfection_seed = scene.solve.seed + static_cast<unsigned>(start);
    options.imperfection_m = kOtherStartBump_m;
    State state = start_state(first.coarse.model);
    const SolveReport report =
        study.solve(first.coarse.model, 1.0, state,
                    fmt::format("another start {} of {}", start, scene.solve.shapes), options);
    if (report.status == SolveStatus::kInterrupted) break;
    ++other.starts_tried;
    if (!converged(report) || !report.stable) continue;
    const double its_sag = sag_of(state, report);
    other.sag_low_m = std::min(other.sag_low_m, its_sag);
    other.sag_high_m = std::max(other.sag_high_m, its_sag);
    const double apart = std::abs(its_sag - sag);
    if (apart > furthest && apart > kOtherShapeLeast_m && apart > kOtherShapeShare * sag) {
      furthest = apart;
      other.found = true;
      other.bottom_sag_m = its_sag;
      other.energy_J = report.energy_J;
    }
  }
  return other;
}

}  // namespace

HangResult hang_tote(const Scene& scene, const MaterialLibrary& library,
                     const OnHangProgress& on_progress) {
  HangResult result;
  Study study(result.effort, on_progress);
  result.coarse = build_tote(scene, library, 0);
  const Model& coarse = result.coarse.model;

  State empty = start_state(coarse);
  SolveReport empty_report = study.solve(coarse, 0.0, empty, "empty, coarse mesh");
  result.steps.push_back({0.0, empty});
  State loaded = empty;
  SolveReport loaded_report = empty_report;
  if (converged(empty_report)) {
    loaded_report = study.raise_load(coarse, scene.solve.load_steps, loaded, result.steps);
  }
  const bool coarse_done = converged(empty_report) && converged(loaded_report);
  std::optional<Findings::OtherShape> other;
  if (coarse_done && scene.solve.shapes > 0) {
    other = look_for_other_shape(scene, result, empty, empty_report, loaded, loaded_report, study);
  }

  result.tote = result.coarse;
  const int finest = coarse_done ? finest_level(scene) : 0;
  for (int level = 1; level <= finest; ++level) {
    Tote finer = build_tote(scene, library, level);
    State finer_empty = prolong(result.tote.model, empty, finer.model);
    State finer_loaded = prolong(result.tote.model, loaded, finer.model);
    empty_report =
        study.solve(finer.model, 0.0, finer_empty, fmt::format("empty, mesh {}", level + 1));
    if (!converged(empty_report)) break;
    loaded_report =
        study.solve(finer.model, 1.0, finer_loaded, fmt::format("loaded, mesh {}", level + 1));
    if (!converged(loaded_report)) break;
    result.tote = std::move(finer);
    empty = std::move(finer_empty);
    loaded = std::move(finer_loaded);
  }
  result.findings = make_findings(scene, result.tote, empty, empty_report, loaded, loaded_report);
  if (other) result.findings.other_shape = *other;
  result.empty = std::move(empty);
  result.loaded = std::move(loaded);
  return result;
}

SheetHangResult hang_sheet(const Scene& scene, const MaterialLibrary& library,
                           const OnHangProgress& on_progress) {
  SheetHangResult result;
  Study study(result.effort, on_progress);
  result.sheet = build_sheet(scene, library);
  State state = start_state(result.sheet.model);
  result.steps.push_back({0.0, state});
  result.report = study.raise_load(result.sheet.model, scene.solve.load_steps, state, result.steps);
  return result;
}

}  // namespace totebench
