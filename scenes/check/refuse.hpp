// For who builds a scene, be it read from a file or not.
#pragma once

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// Throws std::invalid_argument with all that is wrong with the scene, by the rules that the reader
// reports by. A scene that was read without errors passes. `library` holds its own materials.
void refuse_faulty(const Scene& scene, const materials::MaterialLibrary& library);

}  // namespace totebench::scenes
