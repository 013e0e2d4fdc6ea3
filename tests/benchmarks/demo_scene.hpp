// The demo tote, as the benchmarks use it.
#pragma once

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench {

struct DemoScene {
  scenes::Scene scene;
  materials::MaterialLibrary library;
};

// The demo scene with its mesh refined `extra_levels` times: each splits every triangle in four.
// Throws std::runtime_error when the scene cannot be read.
[[nodiscard]] DemoScene demo_scene(int extra_levels);

}  // namespace totebench
