// One build of a choice: which alternatives it has, and what it does on a mesh.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"
#include "totebench/studies/choose_search.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench::studies {

// The figures of a build, in this order; each has a limit of its kind.
enum ChooseFigure : std::size_t {
  kFigureSag,          // m
  kFigureLengthening,  // m
  kFigureDrop,         // strap drop, loaded, m
  kFigureDropsUse,  // most used share of a strength whose loss drops the load, at the required load
  kFigureSpoilsUse,  // likewise of one whose loss spoils the bag
  kFigureMass,       // of the empty bag, kg
  kFigureStands,     // height asked for over that at which the walls stand by themselves
  kFigurePrice,      // of what is chosen
  kFigures
};

// The load that a build is asked to carry, and its margins.
struct RequiredLoad {
  double carries_kg = 0;  // 0 = nothing is asked
  double design_factor = 5;
  double shock_factor = 2;
};

struct BuildSolve {
  Figures figures;        // kFigures; NaN where not found or not asked
  std::string drops_by;   // mode that is used most at the required load
  std::string spoils_by;  // likewise
};

struct ChooseBuild {
  std::vector<int> picks;
  scenes::Scene scene;     // without "choose"
  std::string impossible;  // why it cannot be made; the rest is empty then
  double mass_kg = 0;      // on the full mesh, to 0.01 g
  double stands = 0;       // as kFigureStands; NaN where nothing is asked
  double price = 0;        // NaN where one is missing
};

// Hangs a build on a mesh (0 is the coarse one) and puts the required load on it: the use of each
// kind is that of an equilibrium at the design (shock) factor times the load, reached from the
// scene's own. `library` is library_of(build.scene, ...). `hang` takes the whole result, unless
// null. `keep_going` may be asked by several threads.
[[nodiscard]] BuildSolve solve_build(const ChooseBuild& build,
                                     const materials::MaterialLibrary& library,
                                     const RequiredLoad& load, int level,
                                     const std::function<bool()>& keep_going, HangResult* hang);

}  // namespace totebench::studies
