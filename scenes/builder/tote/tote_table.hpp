// A bag put down: what it stands on.
#pragma once

#include "scenes/builder/tote/tote_mesh.hpp"
#include "totebench/scenes/build.hpp"

namespace totebench::scenes {

// Coefficient of a table and of feet on it against the bag (estimate: plastics on laminate 0.2,
// card on wood 0.5: code of practice for packing cargo, friction appendix).
inline constexpr double kTableFriction = 0.3;
// Of a foot (common practice, no source).
inline constexpr double kFootDiameter_m = 0.012;

// Adds a level table under the base as a fixed body, reaching the bag's height beyond it, and
// the scene's feet on it, likewise fixed: the bag stands on them where they are sewn on, and they
// do not follow its base aside. Both just clear of the cloth. Sets Tote::table_m. Needs the tote's
// mesh and thickness.
void put_on_table(const Scene& scene, const ToteMesh& mesh, Tote& tote);

}  // namespace totebench::scenes
