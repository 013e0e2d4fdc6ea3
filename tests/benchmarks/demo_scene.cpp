#include "tests/benchmarks/demo_scene.hpp"

#include <cmath>
#include <stdexcept>

#include "scenes/reader.hpp"

namespace totebench {

DemoScene demo_scene(int extra_levels) {
  const MaterialLibrary library = MaterialLibrary::load();
  const ReadResult read = read_scene(TOTEBENCH_SOURCE_DIR "/scenes/examples/demo.json", library);
  if (!read.scene) throw std::runtime_error(to_text(read.diagnostics));
  DemoScene demo{*read.scene, library_of(*read.scene, library)};
  demo.scene.mesh.size_m = std::ldexp(demo.scene.mesh.size_m, -extra_levels);
  return demo;
}

}  // namespace totebench
