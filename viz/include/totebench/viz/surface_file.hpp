// Mesh files that need VTK to be read.
#pragma once

#include <string>

#include "totebench/scenes/scene.hpp"

namespace totebench::viz {

// Reads the faces of a sheet scene that takes its shape from a .vtp file into the scene; does
// nothing with any other. Returns an empty text, or what went wrong.
[[nodiscard]] std::string read_surface_file(scenes::Scene& scene);

}  // namespace totebench::viz
