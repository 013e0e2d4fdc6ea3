#include "tests/benchmarks/demo_scene.hpp"

#include <cmath>
#include <stdexcept>

#include "tests/support/source_folder.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench {

DemoScene demo_scene(int extra_levels) {
  const materials::MaterialLibrary library = materials::MaterialLibrary::load();
  const scenes::ReadResult read =
      scenes::read_scene(test::source_folder() / "scenes/examples/demo.json", library);
  if (!read.scene) throw std::runtime_error(scenes::to_text(read.diagnostics));
  DemoScene demo{*read.scene, scenes::library_of(*read.scene, library)};
  demo.scene.mesh.size_m = std::ldexp(demo.scene.mesh.size_m, -extra_levels);
  return demo;
}

}  // namespace totebench
