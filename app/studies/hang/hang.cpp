#include "totebench/studies/hang.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "app/studies/hang/counted_solving.hpp"
#include "totebench/solver/continuation.hpp"
#include "totebench/studies/first_look.hpp"
#include "totebench/studies/jumps.hpp"
#include "totebench/studies/sheet_cautions.hpp"
#include "totebench/studies/side_by_side.hpp"

namespace totebench::studies {
namespace {

constexpr double kOtherStartBump_m = 2e-3;  // amplitude of the shake of another start
// Another shape sags, or lengthens its strap drop, differently by this share and by this length.
constexpr double kOtherShapeShare = 0.05;
constexpr double kOtherShapeLeast_m = 1e-3;
// Of the load, to which the load of a jump is found. A limp bag's walls pop in every step: narrower
// costs it more solves than all the rest.
constexpr double kJumpWidth = 0.01;
constexpr double kJumpWidthOfBag = 0.05;
constexpr double kLeastLoadStep = 1.0 / 128;  // of the load steps asked for

// Steps of a load from 0 to 1: so many where none fails and nothing jumps.
solver::LoadStepping in_steps(int n_steps, double jump_width) {
  const double whole = 1.0 / std::max(1, n_steps);
  return {
      .first = whole, .largest = whole, .least = kLeastLoadStep * whole, .jump_width = jump_width};
}

// The load rising from `state` at factor 0 to 1. Every equilibrium is appended to `steps`. On
// failure `state` is the last one reached.
solver::SolveReport raise_load(CountedSolving& study, solver::EquilibriumSearch& search,
                               const solver::LoadStepping& stepping, solver::State& state,
                               std::vector<solver::LoadStep>& steps,
                               std::vector<solver::Jump>& jumps) {
  const auto solve_at = [&](double load_factor, solver::State& at) {
    return study.solve(search, load_factor, at, fmt::format("load at {:.0f} %", 100 * load_factor));
  };
  const auto keep = [&](double load_factor, const solver::State& at) {
    steps.push_back({load_factor, at});
  };
  const auto energy = [&](double load_factor, const solver::State& at) {
    return search.energy(load_factor, at);
  };
  solver::Continuation way = solver::follow_load(solve_at, 0, 1, state, stepping, keep, energy);
  jumps = std::move(way.jumps);
  return way.report;
}

bool converged(const solver::SolveReport& report) {
  return report.status == solver::SolveStatus::kConverged;
}

struct Solved {
  solver::State state;
  solver::SolveReport report;
};

// The whole load at once from a shaken start.
Solved other_start(const scenes::Tote& tote, const scenes::Scene& scene, int start,
                   CountedSolving& study) {
  solver::SolveOptions options;
  options.imperfection_seed = scene.solve.seed + static_cast<unsigned>(start);
  options.imperfection_m = kOtherStartBump_m;
  options.full_steps = true;
  Solved solved{solver::start_state(tote.model), {}};
  solver::EquilibriumSearch search(tote.model);
  solved.report =
      study.solve(search, 1.0, solved.state,
                  fmt::format("another start {} of {}", start, scene.solve.shapes), options);
  return solved;
}

// By how much, where that is enough to tell two shapes apart, else 0.
double differs(double value, double first) {
  const double apart = std::abs(value - first);
  return apart > kOtherShapeLeast_m && apart > kOtherShapeShare * std::abs(first) ? apart : 0;
}

// Does the bag also rest in another shape?
scenes::Findings::OtherShape compare_shapes(const scenes::Tote& tote, const solver::State& empty,
                                            const Solved& first,
                                            const std::vector<Solved>& others) {
  scenes::Findings::OtherShape other;
  const double sag = scenes::bottom_sag(tote, empty, first.state);
  const double empty_drop = scenes::strap_drop(tote, empty);
  const double drop = scenes::strap_drop(tote, first.state);
  other.energy_of_first_J = first.report.energy_J;
  other.sag_low_m = other.sag_high_m = sag;
  double furthest = 0;
  for (const Solved& solved : others) {
    if (solved.report.status == solver::SolveStatus::kInterrupted) break;
    ++other.starts_tried;
    if (!converged(solved.report) || !solved.report.stable) continue;
    const double its_sag = scenes::bottom_sag(tote, empty, solved.state);
    const double its_drop = scenes::strap_drop(tote, solved.state);
    other.sag_low_m = std::min(other.sag_low_m, its_sag);
    other.sag_high_m = std::max(other.sag_high_m, its_sag);
    const double apart =
        std::max(differs(its_sag, sag), differs(its_drop - empty_drop, drop - empty_drop));
    if (apart > furthest) {
      furthest = apart;
      other.found = true;
      other.bottom_sag_m = its_sag;
      other.strap_drop_m = its_drop;
      other.energy_J = solved.report.energy_J;
    }
  }
  return other;
}

// The jumps on the way that lead to another shape in the sense of compare_shapes; a wall that pops
// from one side to the other is none. `steps` hold both ends of each.
std::vector<solver::Jump> jumps_to_another_shape(const scenes::Tote& tote,
                                                 const solver::State& empty,
                                                 const std::vector<solver::LoadStep>& steps,
                                                 std::vector<solver::Jump> jumps) {
  const auto at = [&](double load_factor) -> const solver::State& {
    return std::find_if(
               steps.begin(), steps.end(),
               [&](const solver::LoadStep& step) { return step.load_factor == load_factor; })
        ->state;
  };
  std::erase_if(jumps, [&](const solver::Jump& jump) {
    const solver::State& before = at(jump.load_before);
    const solver::State& after = at(jump.load_after);
    const double drop = scenes::strap_drop(tote, empty);
    return differs(scenes::bottom_sag(tote, empty, after),
                   scenes::bottom_sag(tote, empty, before)) == 0 &&
           differs(scenes::strap_drop(tote, after) - drop,
                   scenes::strap_drop(tote, before) - drop) == 0;
  });
  return jumps;
}

// Carries a state from the coarse mesh to finer and finer ones, in equilibrium on each. Entry l is
// level l; the last one may have failed.
std::vector<Solved> onto_finer_meshes(const std::vector<scenes::Tote>& levels, Solved coarse,
                                      double load_factor, const std::string& what,
                                      CountedSolving& study) {
  std::vector<Solved> chain = {std::move(coarse)};
  for (std::size_t l = 1; l < levels.size() && converged(chain.back().report); ++l) {
    Solved next{solver::prolong(levels[l - 1].model, chain.back().state, levels[l].model), {}};
    solver::SolveOptions options;
    options.full_steps = true;
    solver::EquilibriumSearch search(levels[l].model);
    next.report = study.solve(search, load_factor, next.state,
                              fmt::format("{}, mesh {}", what, l + 1), options);
    chain.push_back(std::move(next));
  }
  return chain;
}

}  // namespace

HangResult hang_tote(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                     const OnHangProgress& on_progress, std::optional<int> level) {
  HangResult result;
  CountedSolving study(result.effort, on_progress);
  const int finest = level.value_or(scenes::finest_level(scene));
  std::vector<scenes::Tote> levels;  // coarse to fine; never moved, for searches refer to them
  levels.reserve(static_cast<std::size_t>(finest) + 1);
  const auto build = [&, builder = scenes::ToteBuilder(scene)](int l) {
    const solver::Timed timed(result.effort.meshing_s);
    levels.push_back(builder.build(library, l));
  };
  build(0);

  Solved empty{solver::start_state(levels[0].model), {}};
  solver::SolveOptions options;
  options.full_steps = true;
  solver::EquilibriumSearch coarse(levels[0].model);
  empty.report = study.solve(coarse, 0.0, empty.state, "empty, coarse mesh", options);
  result.steps.push_back({0.0, empty.state});
  std::vector<Solved> empties = {empty}, loadeds = {empty};
  scenes::Findings::OtherShape other_shape;
  if (converged(empty.report)) {
    for (int l = 1; l <= finest; ++l) build(l);
    std::vector<Solved> others(std::max(0, scene.solve.shapes));
    std::vector<std::function<void()>> work = {
        [&] {
          Solved loaded = empty;
          const bool has_things = !levels[0].model.bodies.empty();
          loaded.state = scenes::with_things_put_in(levels[0], empty.state);
          solver::LoadStepping stepping =
              in_steps(has_things ? 1 : scene.solve.load_steps, has_things ? 0 : kJumpWidthOfBag);
          // A limp bag jumps early, and often: a step over several jumps is long searched.
          if (!has_things && scene.solve.load_steps > 1) stepping.first *= 0.5;
          loaded.report =
              raise_load(study, coarse, stepping, loaded.state, result.steps, result.jumps);
          loadeds = onto_finer_meshes(levels, std::move(loaded), 1.0, "loaded", study);
        },
        [&] { empties = onto_finer_meshes(levels, empty, 0.0, "empty", study); }};
    for (std::size_t i = 0; i < others.size(); ++i) {
      work.emplace_back(
          [&, i] { others[i] = other_start(levels[0], scene, static_cast<int>(i) + 1, study); });
    }
    side_by_side(work);
    const Solved& loaded = loadeds[0];
    if (converged(loaded.report)) {
      result.coarse_findings = scenes::make_findings(scene, levels[0], empty.state, empty.report,
                                                     loaded.state, loaded.report);
      other_shape = compare_shapes(levels[0], empty.state, loaded, others);
    }
  }
  result.jumps = jumps_to_another_shape(levels[0], empty.state, result.steps, result.jumps);
  result.coarse = levels[0];

  // The finest mesh on which both are in equilibrium; whatever failed beyond it is reported.
  std::size_t reached = std::min(empties.size(), loadeds.size()) - 1;
  solver::SolveReport empty_report = empties[reached].report;
  solver::SolveReport loaded_report = loadeds[reached].report;
  while (reached > 0 &&
         !(converged(empties[reached].report) && converged(loadeds[reached].report))) {
    --reached;
  }
  result.stopped_early =
      result.coarse_findings && (empty_report.status == solver::SolveStatus::kInterrupted ||
                                 loaded_report.status == solver::SolveStatus::kInterrupted);
  if (result.stopped_early) {
    empty_report = empties[reached].report;
    loaded_report = loadeds[reached].report;
  }
  result.tote = std::move(levels[reached]);
  result.empty = std::move(empties[reached].state);
  result.loaded = std::move(loadeds[reached].state);
  result.findings = scenes::make_findings(scene, result.tote, result.empty, empty_report,
                                          result.loaded, loaded_report, other_shape);
  for (const std::string& caution : jump_cautions(result.jumps)) {
    result.findings.cautions.push_back(caution);
  }
  return result;
}

HangResult first_look(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                      const OnHangProgress& on_progress) {
  HangResult result;
  CountedSolving study(result.effort, on_progress);
  {
    const solver::Timed timed(result.effort.meshing_s);
    result.coarse = scenes::build_tote(scene, library, 0);
  }
  solver::SolveOptions options;
  options.full_steps = true;
  solver::EquilibriumSearch search(result.coarse.model);
  Solved empty{solver::start_state(result.coarse.model), {}};
  empty.report = study.solve(search, 0.0, empty.state, "empty, coarse mesh", options);
  Solved loaded = empty;
  loaded.state = scenes::with_things_put_in(result.coarse, empty.state);
  if (converged(empty.report)) {
    loaded.report = study.solve(search, 1.0, loaded.state, "loaded, coarse mesh", options);
  }
  if (loaded.report.status != solver::SolveStatus::kInterrupted &&
      !(converged(loaded.report) && loaded.report.stable)) {
    scenes::Scene alone = scene;
    alone.solve.shapes = 0;
    return hang_tote(alone, library, on_progress, 0);
  }
  result.steps = {{0.0, empty.state}, {1.0, loaded.state}};
  result.tote = result.coarse;
  result.findings = scenes::make_findings(scene, result.tote, empty.state, empty.report,
                                          loaded.state, loaded.report);
  result.empty = std::move(empty.state);
  result.loaded = std::move(loaded.state);
  if (result.findings.converged()) result.coarse_findings = result.findings;
  return result;
}

std::vector<Eigen::Vector3d> support_forces(const SheetHangResult& result,
                                            const solver::LoadStep& step) {
  if (result.sheet.support_nodes.empty()) return {};
  Eigen::Matrix3Xd left =
      solver::support_reactions(result.sheet.model, step.state, step.load_factor);
  std::vector<Eigen::Vector3d> forces;
  for (const std::vector<int>& nodes : result.sheet.support_nodes) {
    Eigen::Vector3d force = Eigen::Vector3d::Zero();
    for (const int node : nodes) {
      force += left.col(node);
      left.col(node).setZero();
    }
    forces.push_back(force);
  }
  return forces;
}

SheetHangResult hang_sheet(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                           const OnHangProgress& on_progress) {
  SheetHangResult result;
  CountedSolving study(result.effort, on_progress);
  result.sheet = scenes::build_sheet(scene, library);
  solver::State state = solver::start_state(result.sheet.model);
  solver::EquilibriumSearch search(result.sheet.model);
  result.steps.push_back({0.0, state});
  result.report = raise_load(study, search, in_steps(scene.solve.load_steps, kJumpWidth), state,
                             result.steps, result.jumps);
  if (converged(result.report)) {
    const solver::Model& model = result.sheet.model;
    result.unseen_wrinkles = solver::unseen_wrinkles(model, solver::shell_fields(model, state));
  }
  result.cautions = sheet_cautions(result);
  return result;
}

}  // namespace totebench::studies
