// What time under load and repeated loading do to materials.
#pragma once

#include <vector>

#include "totebench/materials/library.hpp"

namespace totebench::materials {

// Cycles to a peak of `peak_share` of the static strength, unloaded in between:
//   S / S_ult = 1 - b log10 N       (semi-log S-N line; rules "fatigue_slope_*")
// 1 at or above the static strength; infinity for a share of 0 or less.
[[nodiscard]] double cycles_to_failure(double peak_share, double slope_b);

// Uses until the shares of life used up add to 1 (Palmgren-Miner): each use is `n` cycles at each
// of the peaks. At least 0; infinity when nothing is used up.
struct CyclesAtPeak {
  double n = 0;
  double peak_share = 0;
};
[[nodiscard]] double uses_to_failure(const std::vector<CyclesAtPeak>& each_use, double slope_b);

// Share of its stiffness that cloth, stabilizer or webbing keeps after `loaded_s` seconds under
// load: 1 - r log10(t / 60 s), rule "relaxation_per_decade"; 1 up to a minute.
[[nodiscard]] double stiffness_kept(const MaterialLibrary& library, double loaded_s);

// Whether the library knows how a material's Young's modulus falls under lasting load.
[[nodiscard]] bool creeps(const Material& material);

// The library as it is for a bag that hangs for `loaded_s`: Young's modulus of what creeps() is
// modulus_under_load() (strength.hpp), and the one of a short test is kept beside it as
// youngs_modulus_short. All else stays. Of a library that went through this before, the short test
// counts.
[[nodiscard]] MaterialLibrary under_load(const MaterialLibrary& library, double loaded_s);

// The creep moduli of `material`, a copy of `like`, in proportion to its own Young's modulus, as
// far as they still are those of `like`: whoever tests a sheet for a minute has not tested its
// creep.
void creep_in_proportion(Material& material, const Material& like);

// The library after so long under load: what creeps() by creep_modulus() (strength.hpp), all else
// by stiffness_kept(). Recovery while unloaded is not counted, so that it errs to the limp
// side.
[[nodiscard]] MaterialLibrary aged(const MaterialLibrary& library, double loaded_s);

// The library with the bending rigidity of its stabilizers times `share`: there are no data for
// their softening by flexing, only the question what it would do.
[[nodiscard]] MaterialLibrary softened(const MaterialLibrary& library, double share);

}  // namespace totebench::materials
