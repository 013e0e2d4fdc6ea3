#include <algorithm>
#include <cmath>
#include <limits>

#include "totebench/studies/choose_build.hpp"
#include "totebench/studies/rate_climb.hpp"
#include "totebench/studies/side_by_side.hpp"
#include "totebench/studies/stand.hpp"

namespace totebench::studies {
namespace {

constexpr double kLeastTold_m = 1e-3;  // of a height to which a bag stands
constexpr double kUnknown = std::numeric_limits<double>::quiet_NaN();

struct Use {
  double ratio = kUnknown;
  std::string by;
};

// The most used strength of a kind with `mass_kg` in the bag.
Use use_at(const scenes::Scene& scene, const HangResult& hang, double mass_kg, FailureClass of,
           const std::function<bool()>& keep_going) {
  Climb climb(scene, hang.tote, hang.loaded, 1.0);
  climb.set_stop(keep_going);
  const std::vector<scenes::Utilisation>* used = climb.to(mass_kg / scene.contents.mass_kg);
  if (used == nullptr) return {};
  const scenes::Utilisation* most = most_used(*used, of, {});
  // Where nothing is known to be spoilt nothing is; what drops the load has to be known.
  if (most == nullptr) return {of == FailureClass::kSpoilsBag ? 0 : kUnknown, ""};
  return {most->ratio, most->mode};
}

}  // namespace

BuildSolve solve_build(const ChooseBuild& build, const materials::MaterialLibrary& library,
                       const RequiredLoad& load, int level, const std::function<bool()>& keep_going,
                       HangResult* hang) {
  BuildSolve out;
  out.figures.assign(kChooseFigures.size(), kUnknown);
  out.figures[kFigureMass] = build.mass_kg;
  out.figures[kFigurePrice] = build.price;
  scenes::Scene scene = build.scene;
  if (level == 0) scene.solve.shapes = 0;
  HangResult result = hang_tote(
      scene, library, [&](const HangProgress&) { return keep_going(); }, level);
  const scenes::Findings& found = result.findings;
  if (found.converged() && !result.stopped_early) {
    for (std::size_t f = 0; f < kChooseFigures.size(); ++f) {
      if (kChooseFigures[f].found != nullptr) out.figures[f] = kChooseFigures[f].found(found);
    }
    if (load.carries_kg > 0) {
      Use drops;
      Use spoils;
      side_by_side({[&] {
                      drops = use_at(scene, result, load.carries_kg * load.design_factor,
                                     FailureClass::kDropsLoad, keep_going);
                    },
                    [&] {
                      spoils = use_at(scene, result, load.carries_kg * load.shock_factor,
                                      FailureClass::kSpoilsBag, keep_going);
                    }});
      out.figures[kFigureDropsUse] = drops.ratio;
      out.figures[kFigureSpoilsUse] = spoils.ratio;
      out.drops_by = drops.by;
      out.spoils_by = spoils.by;
    }
  }
  if (hang != nullptr) *hang = std::move(result);
  return out;
}

double standing_share(const ChooseBuild& build, const materials::MaterialLibrary& library,
                      const std::function<bool()>& keep_going) {
  if (std::isnan(build.must_stand_m)) return kUnknown;
  const double height = height_it_stands_to_m(build.scene, library,
                                              [&](const HangProgress&) { return keep_going(); });
  return build.must_stand_m / std::max(height, kLeastTold_m);
}

}  // namespace totebench::studies
