// One build of a choice: which alternatives it has, and what it does on a mesh.
#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/choose.hpp"
#include "totebench/scenes/figure.hpp"
#include "totebench/scenes/scene.hpp"
#include "totebench/studies/choose_search.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench::studies {

// The figures of a build, in this order; each has a limit of its kind.
enum ChooseFigurePlace : std::size_t {
  kFigureSag,
  kFigureLengthening,
  kFigureDrop,
  kFigureDropsUse,
  kFigureSpoilsUse,
  kFigureMass,
  kFigureStands,
  kFigurePrice
};

struct ChooseFigure {
  const char* name;
  const char* key;  // in choose.json
  const char* meaning;
  double scenes::ChooseLimits::*limit;
  scenes::Dimension dimension;          // of figure and limit
  scenes::FigureValue found = nullptr;  // of a bag that hangs; null = known from elsewhere
  const char* share = nullptr;          // a share used up of what the limit asks for, at most 1:
                                        // the head of its column
};

// A figure that hanging the bag tells.
[[nodiscard]] constexpr ChooseFigure hung_figure(const scenes::Figure& figure,
                                                 double scenes::ChooseLimits::*limit) {
  return {figure.name, figure.key, figure.meaning, limit, figure.dimension, figure.value};
}

inline constexpr auto kChooseFigures = std::to_array<ChooseFigure>({
    hung_figure(scenes::figure_of<&scenes::Findings::bottom_sag_m>(),
                &scenes::ChooseLimits::bottom_sag_m),
    hung_figure(scenes::figure_of<&scenes::Findings::overall_lengthening_m>(),
                &scenes::ChooseLimits::overall_lengthening_m),
    hung_figure(scenes::figure_of<&scenes::Findings::strap_drop_loaded_m>(),
                &scenes::ChooseLimits::strap_drop_m),
    {"strength against dropping the load", "drops_load_share_used",
     "most used share of a strength whose loss drops the load, at the required load",
     &scenes::ChooseLimits::carries_kg, scenes::Dimension::kNone, nullptr, "strength used, drops"},
    {"strength against lasting damage", "spoilt_share_used",
     "most used share of a strength whose loss leaves lasting damage, likewise; 0 where none is "
     "known",
     &scenes::ChooseLimits::carries_kg, scenes::Dimension::kNone, nullptr, "strength used, damage"},
    {"mass", "bag_mass_kg", "mass of the empty bag", &scenes::ChooseLimits::mass_kg,
     scenes::Dimension::kMass},
    {"standing by itself", "standing_share_used",
     "height asked for over that to which a bag of this make stands empty by itself (its own times "
     "the cube root of how many times its own weight it stands under, at most 4), coarse mesh",
     &scenes::ChooseLimits::standing_height_m, scenes::Dimension::kNone, nullptr,
     "stands by itself to"},
    {"price", "price", "price of what is chosen", &scenes::ChooseLimits::price,
     scenes::Dimension::kNone},
});
static_assert(kChooseFigures[kFigureDrop].limit == &scenes::ChooseLimits::strap_drop_m &&
              kChooseFigures[kFigureSpoilsUse].limit == &scenes::ChooseLimits::carries_kg &&
              kChooseFigures[kFigureMass].limit == &scenes::ChooseLimits::mass_kg &&
              kChooseFigures[kFigurePrice].limit == &scenes::ChooseLimits::price);

// The load that a build is asked to carry, and its margins.
struct RequiredLoad {
  double carries_kg = 0;  // 0 = nothing is asked
  double design_factor = 5;
  double shock_factor = 2;
};

struct BuildSolve {
  Figures figures;        // one a line of kChooseFigures; NaN where not found or not asked
  std::string drops_by;   // mode that is used most at the required load
  std::string spoils_by;  // likewise
};

struct ChooseBuild {
  std::vector<int> picks;
  scenes::Scene scene;      // without "choose"
  std::string impossible;   // why it cannot be made; the rest is empty then
  double mass_kg = 0;       // on the full mesh, to 0.01 g
  double must_stand_m = 0;  // ChooseLimits::standing_height_m
  double price = 0;         // NaN where one is missing
};

// Hangs a build on a mesh (0 is the coarse one) and puts the required load on it: the use of each
// kind is that of an equilibrium at the design (shock) factor times the load, reached from the
// scene's own. `library` is library_of(build.scene, ...). `hang` takes the whole result, unless
// null. `keep_going` may be asked by several threads.
[[nodiscard]] BuildSolve solve_build(const ChooseBuild& build,
                                     const materials::MaterialLibrary& library,
                                     const RequiredLoad& load, int level,
                                     const std::function<bool()>& keep_going, HangResult* hang);

// kFigureStands of a build, which is of the coarse mesh whichever the rest is of, and which
// solve_build() leaves out. NaN where nothing is asked.
[[nodiscard]] double standing_share(const ChooseBuild& build,
                                    const materials::MaterialLibrary& library,
                                    const std::function<bool()>& keep_going);

}  // namespace totebench::studies
