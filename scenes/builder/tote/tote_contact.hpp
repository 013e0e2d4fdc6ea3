// Which surfaces of a tote may touch, and how thick they are.
#pragma once

#include <vector>

#include "totebench/scenes/build.hpp"

namespace totebench::scenes {

// Group of solver::Contact that the things in the bag are in: they touch everything.
inline constexpr int kThingsGroup = 8;
// What the bag stands on.
inline constexpr int kTableGroup = 9;

// 1 for each triangle of a strap that is sewn on, or shares a node with one that is.
[[nodiscard]] std::vector<char> near_sewn_ends(const Scene& scene, const solver::ShellMesh& mesh);

// Everything may touch but for what lies together: a strap's sewn end and the triangles that border
// it against the bag's cloth, a sheet in a pocket against the base, and feet and table. Needs the
// tote's mesh and thickness. None where parts of the bag start in each other: findings say so.
[[nodiscard]] solver::Contact tote_contact(const Scene& scene, const Tote& tote);

}  // namespace totebench::scenes
