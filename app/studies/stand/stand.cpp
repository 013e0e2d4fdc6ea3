#include "totebench/studies/stand.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "app/studies/hang/counted_solving.hpp"
#include "totebench/scenes/standing.hpp"
#include "totebench/solver/continuation.hpp"

namespace totebench::studies {
namespace {

constexpr double kFirstStep = 0.25;
constexpr double kLargestStep = 1;
// Walls that stand straight under more than they bear are pushed out of it by so much.
constexpr double kNudge_m = 1e-3;

// The bag alone, its own weight as what rises with the load factor.
scenes::Tote emptied(scenes::Tote tote) {
  solver::Model& model = tote.model;
  model.payload_force_N = model.permanent_force_N;
  model.permanent_force_N.setZero();
  model.fill = {};
  std::erase_if(model.bodies, [](const solver::Body& body) { return !body.fixed; });
  return tote;
}

class Stand {
 public:
  Stand(const scenes::Scene& scene, const materials::MaterialLibrary& library,
        const OnHangProgress& on_progress, std::optional<int> level)
      : scene_(on_table(scene)),
        library_(library),
        finest_(level.value_or(scenes::finest_level(scene))),
        study_(result_.effort, on_progress) {}

  Standing run() {
    result_.columns_m = scenes::standing_height_m(scene_, library_);
    const scenes::ToteBuilder builder(scene_);
    std::vector<Level> levels;  // never moved, for searches refer to them
    levels.reserve(static_cast<std::size_t>(finest_) + 1);
    const auto build = [&](int l) {
      const solver::Timed timed(result_.effort.meshing_s);
      scenes::Tote tote = builder.build(library_, l);
      levels.push_back({tote, emptied(tote)});
    };
    build(0);
    climb(levels[0]);
    load(levels[0]);
    std::size_t reached = 0;
    for (int l = 1; l <= finest_ && result_.empty.up && !result_.interrupted; ++l) {
      build(l);
      if (!refine(levels[l - 1], levels[l])) break;
      reached = static_cast<std::size_t>(l);
    }
    result_.tote = std::move(levels[reached].loaded);
    result_.empty_tote = std::move(levels[reached].empty);
    result_.as_placed = solver::start_state(result_.empty_tote.model);
    return std::move(result_);
  }

 private:
  struct Level {
    scenes::Tote loaded;
    scenes::Tote empty;
  };

  static scenes::Scene on_table(scenes::Scene scene) {
    scene.support = {.kind = scenes::SupportKind::kTable};
    scene.solve.contact = true;
    return scene;
  }

  // A stable rest; where the first is none, nudged off it.
  solver::SolveReport rest(solver::EquilibriumSearch& search, double load_factor,
                           solver::State& state, const std::string& stage) {
    solver::SolveReport report = study_.solve(search, load_factor, state, stage);
    if (report.status == solver::SolveStatus::kConverged && !report.stable) {
      solver::SolveOptions options;
      options.imperfection_seed = scene_.solve.seed;
      options.imperfection_m = kNudge_m;
      report = study_.solve(search, load_factor, state, stage, options);
    }
    if (report.status == solver::SolveStatus::kInterrupted) result_.interrupted = true;
    return report;
  }

  [[nodiscard]] bool is_up(const scenes::StandingShape& shape) const {
    return shape.rim_low_m >= kStandingShare * scene_.bag.height_m;
  }
  // Reads off what a state under `load_factor` is.
  void look_at(const scenes::Tote& tote, double load_factor, Stood& stood) const {
    if (!stood.at_rest()) return;
    stood.shape = scenes::standing_shape(tote, stood.state, load_factor);
    stood.up = is_up(stood.shape);
  }

  void climb(const Level& level) {
    solver::EquilibriumSearch search(level.empty.model);
    solver::State state = solver::start_state(level.empty.model);
    std::optional<solver::LoadStep> lying;  // the heaviest, up to its own weight
    const auto solve_at = [&](double load_factor, solver::State& at) {
      solver::SolveReport report =
          rest(search, load_factor, at, fmt::format("{:.2f} times its own weight", load_factor));
      if (report.status != solver::SolveStatus::kConverged) return report;
      const bool up = is_up(scenes::standing_shape(level.empty, at, load_factor));
      if (!up && load_factor <= 1 && (!lying || lying->load_factor < load_factor)) {
        lying = {load_factor, at};
      }
      if (!up || !report.stable) report.status = solver::SolveStatus::kNotConverged;
      return report;
    };
    const auto go = [&](double from, double to) {
      const solver::LoadStepping stepping = {
          .first = kFirstStep, .largest = kLargestStep, .least = kLeastStep};
      const solver::Continuation way = solver::follow_load(solve_at, from, to, state, stepping);
      result_.stood_under = way.report.load_factor;
      result_.down_under = way.out_of_reach;
      return way.report;
    };
    Stood& empty = result_.empty;
    empty.report = go(0, 1);
    empty.state = state;
    if (result_.stood_under == 1) {
      look_at(level.empty, 1, empty);
      result_.down_under.reset();
      (void)go(1, kMostOwnWeights);
    } else if (lying && !result_.interrupted) {
      empty.state = lying->state;
      empty.report = rest(search, 1, empty.state, "lying, coarse mesh");
      look_at(level.empty, 1, empty);
    }
    empty.coarse_shape = empty.shape;
  }

  void load(const Level& level) {
    Stood& loaded = result_.loaded;
    solver::EquilibriumSearch search(level.loaded.model);
    loaded.state = result_.empty.up ? scenes::with_things_put_in(level.loaded, result_.empty.state)
                                    : solver::start_state(level.loaded.model);
    loaded.report = rest(search, 1, loaded.state, "loaded, coarse mesh");
    look_at(level.loaded, 1, loaded);
    loaded.coarse_shape = loaded.shape;
  }

  // One state on a finer mesh; false, and nothing changed, where it finds no rest there.
  bool carry(const solver::Model& coarse, const scenes::Tote& fine, const std::string& stage,
             Stood& stood) {
    solver::EquilibriumSearch search(fine.model);
    Stood next{solver::prolong(coarse, stood.state, fine.model), {}, {}, stood.coarse_shape};
    next.report = rest(search, 1, next.state, stage);
    look_at(fine, 1, next);
    if (!next.at_rest()) return false;
    stood = std::move(next);
    return true;
  }

  bool refine(const Level& coarse, const Level& fine) {
    Stood empty = result_.empty;
    if (!carry(coarse.empty.model, fine.empty, "empty, finer mesh", empty)) return false;
    Stood loaded = result_.loaded;
    if (loaded.at_rest() &&
        !carry(coarse.loaded.model, fine.loaded, "loaded, finer mesh", loaded)) {
      return false;
    }
    if (!loaded.at_rest()) loaded.state = solver::start_state(fine.loaded.model);
    result_.empty = std::move(empty);
    result_.loaded = std::move(loaded);
    return true;
  }

  scenes::Scene scene_;
  const materials::MaterialLibrary& library_;
  int finest_;
  Standing result_;
  CountedSolving study_;
};

}  // namespace

std::string why_not_stood(const scenes::Scene& scene) {
  const scenes::BagShape shape = scene.bag.shape;
  if (shape == scenes::BagShape::kBoxed || shape == scenes::BagShape::kGusset) return "";
  return "this bag has no base to stand on: its shape is flat";
}

Standing stand_tote(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                    const OnHangProgress& on_progress, std::optional<int> level) {
  return Stand(scene, library, on_progress, level).run();
}

}  // namespace totebench::studies
