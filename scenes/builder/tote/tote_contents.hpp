// What is carried, as loads on the model of a tote.
#pragma once

#include "totebench/scenes/scene.hpp"
#include "totebench/solver/model.hpp"

namespace totebench::scenes {

// Puts the scene's contents on a model that has its mesh: an even load as dead forces on the part
// of the base where it lies, with all of its weight, loose goods as a fill, items as bodies just
// above the base. `thickness_m` is that of each triangle.
void add_contents(const Scene& scene, const std::vector<double>& thickness_m, solver::Model& model);

}  // namespace totebench::scenes
