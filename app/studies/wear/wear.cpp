#include "totebench/studies/wear.hpp"

#include <algorithm>
#include <array>

#include "totebench/materials/ageing.hpp"
#include "totebench/scenes/utilisation.hpp"

namespace totebench::studies {
namespace {

// Slope of the S-N line of each mode that has one. Not known: slippage, fused bonds, base sheet.
struct ModeSlope {
  std::string_view mode;
  const char* rule;
  bool at_stitch;  // its share rises with the peak stitch, else with the weight on the hand
};
constexpr std::array<ModeSlope, 6> kSlopes = {{{"strap_fastening", "fatigue_slope_sewn_seam", true},
                                               {"tear_out", "fatigue_slope_sewn_seam", true},
                                               {"cloth_at_strap", "fatigue_slope_sewn_seam", true},
                                               {"strap", "fatigue_slope_sewn_seam", false},
                                               {"body_seam", "fatigue_slope_sewn_seam", false},
                                               {"cloth", "fatigue_slope_cotton", false}}};

// Every number of the library at the end of its data that makes things weaker (or stronger).
materials::MaterialLibrary at_an_end(const materials::MaterialLibrary& library, bool weak) {
  materials::MaterialLibrary moved = library;
  moved.for_each_quantity([weak](std::string_view, std::string_view id, std::string_view,
                                 materials::Quantity& quantity) {
    const bool harms = id == "needle_damage";
    quantity.value = weak != harms ? quantity.low : quantity.high;
  });
  return moved;
}

// The same tote, its stiffness and state as they are, with the strengths of another library.
scenes::Tote with_strengths(const scenes::Tote& tote, const scenes::Scene& scene,
                            const materials::MaterialLibrary& library, int level) {
  const scenes::Tote other = scenes::build_tote(scene, library, level);
  scenes::Tote moved = tote;
  moved.strength = other.strength;
  moved.strength_warp_N_per_m = other.strength_warp_N_per_m;
  moved.strength_weft_N_per_m = other.strength_weft_N_per_m;
  return moved;
}

const scenes::Utilisation* find(const std::vector<scenes::Utilisation>& list,
                                std::string_view mode) {
  const auto found = std::find_if(list.begin(), list.end(),
                                  [&](const scenes::Utilisation& u) { return u.mode == mode; });
  return found == list.end() ? nullptr : &*found;
}

void find_modes(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                WearResult& result) {
  const scenes::Tote& tote = result.fresh.tote;
  const solver::State& loaded = result.fresh.loaded;
  const int level = scenes::finest_level(scene);
  const auto typical = scenes::utilisations(scene, tote, loaded);
  const auto weak = scenes::utilisations(
      scene, with_strengths(tote, scene, at_an_end(library, true), level), loaded);
  const auto strong = scenes::utilisations(
      scene, with_strengths(tote, scene, at_an_end(library, false), level), loaded);
  for (const ModeSlope& kind : kSlopes) {
    const scenes::Utilisation* use = find(typical, kind.mode);
    if (use == nullptr) continue;
    const double walking = kind.at_stitch ? result.walking_stitch_factor : result.walking_factor;
    const double lifted = kind.at_stitch ? result.lifted_stitch_factor : result.lifted_factor;
    // Hung up loaded, walked with, picked up.
    const auto uses = [&](double share, double slope) {
      const double n =
          materials::uses_to_failure({{1, share},
                                      {result.steps_a_use, share * walking},
                                      {static_cast<double>(scene.use.lifts), share * lifted}},
                                     slope);
      return std::min(n, kMostUses);
    };
    const materials::Quantity& slope = library.rule(kind.rule);
    const auto share_of = [&](const std::vector<scenes::Utilisation>& list) {
      const scenes::Utilisation* found = find(list, kind.mode);
      return found == nullptr ? use->ratio : found->ratio;
    };
    WearMode mode;
    mode.mode = use->mode;
    mode.what = use->what;
    mode.share_still = use->ratio;
    mode.share_walking = use->ratio * walking;
    mode.share_lifted = use->ratio * lifted;
    mode.uses = uses(use->ratio, slope.value);
    mode.uses_low = uses(share_of(weak), slope.high);
    mode.uses_high = uses(share_of(strong), slope.low);
    mode.grade = materials::weaker_grade(use->grade, slope.grade);
    result.modes.push_back(std::move(mode));
  }
  // A part without an S-N line must not reach its strength even once.
  const double peak = std::max(result.lifted_factor, result.walking_factor);
  const bool others_hold =
      std::all_of(typical.begin(), typical.end(), [&](const scenes::Utilisation& u) {
        const bool has_line = std::any_of(kSlopes.begin(), kSlopes.end(),
                                          [&](const ModeSlope& k) { return k.mode == u.mode; });
        return has_line || u.ratio * peak < 1;
      });
  result.every_mode_known = others_hold && result.modes.size() == kSlopes.size();
  std::stable_sort(
      result.modes.begin(), result.modes.end(), [](const WearMode& a, const WearMode& b) {
        return std::pair(a.uses_low, -a.share_lifted) < std::pair(b.uses_low, -b.share_lifted);
      });
}

bool has_stabilizer(const scenes::Scene& scene, const materials::MaterialLibrary& library) {
  for (const auto& [region, layers] : scene.layers) {
    for (const scenes::Layer& layer : layers) {
      const materials::Material* material = library.find(layer.material);
      if (material != nullptr && material->category == "stabilizer") return true;
    }
  }
  return false;
}

}  // namespace

bool WearResult::whole() const {
  return !modes.empty() && std::all_of(shapes.begin(), shapes.end(),
                                       [](const AgedShape& shape) { return shape.converged; });
}

Verdict verdict_of(double uses, double low, double high) {
  if (low >= uses) return Verdict::kEndures;
  return high < uses ? Verdict::kFails : Verdict::kNotDecided;
}

WearResult wear_tote(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                     const OnHangProgress& on_progress) {
  const auto tell = [&](const std::string& part) -> OnHangProgress {
    return [&on_progress, part](const HangProgress& progress) {
      return !on_progress || on_progress({part + ": " + progress.stage, progress.step});
    };
  };
  WearResult result;
  scenes::Scene once = scene;
  once.solve.shapes = 0;
  result.fresh = hang_tote(once, library, tell("new"));
  if (!result.fresh.findings.converged() || result.fresh.stopped_early) {
    result.not_found = "hanging it new";
    return result;
  }

  CarryOptions options;
  options.events = {walking(options.cadence_Hz, result.fresh.tote.model.gravity_m_per_s2),
                    picked_up_quickly()};
  result.carried = carry_tote(once, library, options, tell("carried"));
  const auto& events = result.carried.events;
  if (events.size() != 2 || !events[0].complete || !events[1].complete) {
    result.not_found = "carrying it";
    return result;
  }
  result.walking_factor = std::max(1.0, events[0].dynamic_factor);
  // No peak is taken below the pull hanging still: a bag picked up may end in another fold.
  result.walking_stitch_factor = std::max(1.0, events[0].stitch_factor);
  result.lifted_factor = std::max(1.0, events[1].dynamic_factor);
  result.lifted_stitch_factor = std::max(1.0, events[1].stitch_factor);
  result.steps_a_use = scene.use.walk_m / library.rule("walking_step_length").value;
  find_modes(once, library, result);

  // The loaded bag settles on as its materials change: no step back to the empty one, which might
  // fold in another way.
  const scenes::ToteBuilder builder(once);
  const auto rest_with = [&](const materials::MaterialLibrary& later, const std::string& stage,
                             solver::State& state) {
    const scenes::Tote tote = builder.build(later, scenes::finest_level(once));
    solver::SolveOptions search;
    search.full_steps = true;
    search.on_progress = [&](const solver::Progress& progress) {
      return !on_progress || on_progress({stage, progress});
    };
    const solver::SolveReport report = solver::find_equilibrium(tote.model, 1.0, state, search);
    AgedShape shape;
    shape.converged = report.status == solver::SolveStatus::kConverged;
    shape.bottom_sag_m = scenes::bottom_sag(tote, result.fresh.empty, state);
    shape.strap_drop_m = scenes::strap_drop(tote, state);
    return shape;
  };
  solver::State state = result.fresh.loaded;
  for (const auto& [after, days] :
       {std::pair("a day", 1.0), {"a month", 365.25 / 12}, {"a year", 365.25}}) {
    // At least one use: the first day is a day of carrying.
    const double loaded_s =
        3600 * scene.use.loaded_hours * std::max(1.0, scene.use.times_a_week * days / 7);
    AgedShape shape =
        rest_with(materials::aged(library, loaded_s), std::string("after ") + after, state);
    shape.after = after;
    shape.days = days;
    shape.loaded_s = loaded_s;
    result.shapes.push_back(shape);
    if (!shape.converged) {
      result.not_found = "hanging it after " + shape.after;
      return result;
    }
  }
  if (has_stabilizer(scene, library)) {
    state = result.fresh.loaded;
    const AgedShape limp =
        rest_with(materials::softened(library, kSoftenedShare), "limp stabilizer", state);
    if (limp.converged) result.softened_sag_m = limp.bottom_sag_m;
  }
  if (scene.use.uses > 0 && !result.modes.empty()) {
    double low = kMostUses, high = kMostUses;
    for (const WearMode& mode : result.modes) {
      low = std::min(low, mode.uses_low);
      high = std::min(high, mode.uses_high);
    }
    result.carry_test = verdict_of(scene.use.uses, low, high);
    if (*result.carry_test == Verdict::kEndures && !result.every_mode_known) {
      result.carry_test = Verdict::kNotDecided;
    }
  }
  return result;
}

}  // namespace totebench::studies
