// For who builds a scene, be it read from a file or not.
#pragma once

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// Throws std::invalid_argument with the faults_of() the scene, where it has some.
void refuse_faulty(const Scene& scene, const materials::MaterialLibrary& library);

}  // namespace totebench::scenes
