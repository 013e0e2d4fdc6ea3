// Geometry that no bag can have.
#pragma once

#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// Throws std::invalid_argument with everything that is wrong, one sentence each, joined by spaces.
void check_tote_geometry(const Scene& scene);

}  // namespace totebench::scenes
