#include "totebench/studies/stand.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/studies/hang/counted_solving.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/standing.hpp"

namespace totebench::studies {
namespace {

// Between a weight under which it stands and twice that: known to 2^(1/4).
constexpr int kHalvings = 2;
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

  double height_it_stands_to_m() {
    const scenes::Tote tote = scenes::build_tote(scene_, library_, 0);
    climb({tote, emptied(tote)});
    return scene_.bag.height_m * std::cbrt(std::max(result_.stood_under, kLeastOwnWeights));
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
    solver::State state = solver::start_state(level.empty.model);  // standing
    std::optional<solver::LoadStep> lying;  // the heaviest, up to its own weight
    Stood& empty = result_.empty;
    const auto stands_under = [&](double weights) {
      solver::State at = state;
      const solver::SolveReport report =
          rest(search, weights, at, fmt::format("{:.2g} times its own weight", weights));
      Stood found{std::move(at), report, {}, {}};
      look_at(level.empty, weights, found);
      if (found.up) {
        state = found.state;
        result_.stood_under = weights;
        if (weights == 1) empty = std::move(found);
        return true;
      }
      if (!result_.interrupted) result_.down_under = weights;
      if (weights <= 1) empty.report = report;
      if (found.at_rest() && weights <= 1 && (!lying || lying->load_factor < weights)) {
        lying = {weights, std::move(found.state)};
      }
      return false;
    };
    for (double w = kLeastOwnWeights; w <= kMostOwnWeights && stands_under(w);) w *= 2;
    for (int i = 0; i < kHalvings && result_.stood_under > 0 && result_.down_under; ++i) {
      if (result_.interrupted) return;
      (void)stands_under(std::sqrt(result_.stood_under * *result_.down_under));
    }
    if (!empty.up) {
      empty.state = state;
      if (lying && !result_.interrupted) {
        empty.state = lying->state;
        empty.report = rest(search, 1, empty.state, "lying, coarse mesh");
        look_at(level.empty, 1, empty);
      }
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
  if (scenes::has_flat_base(scene.bag)) return "";
  return "this bag has no base to stand on: its shape is flat";
}

double height_it_stands_to_m(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                             const OnHangProgress& on_progress) {
  if (!why_not_stood(scene).empty()) return 0;
  return Stand(scene, library, on_progress, 0).height_it_stands_to_m();
}

Standing stand_tote(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                    const OnHangProgress& on_progress, std::optional<int> level) {
  return Stand(scene, library, on_progress, level).run();
}

}  // namespace totebench::studies
