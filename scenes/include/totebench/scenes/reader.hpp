// From a scene file to a Scene: everything wrong is found in one run, each with its place and cure.
#pragma once

#include <filesystem>
#include <functional>
#include <limits>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/diagnostics.hpp"
#include "totebench/scenes/scene.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {

struct ReadResult;
// Reads the scene with one alternative of each option of its "choose" made part of it: `picks` are
// their indices, option by option. May be called at any time later, from several threads.
using ReadBuild = std::function<ReadResult(const std::vector<int>& picks)>;

// A factor of a sweep, and its value in one of the bags.
struct SweptFactor {
  std::string key;  // as the scene has it
  Dimension dimension = Dimension::kNone;
  bool number = false;  // its values are numbers, of that dimension
};
struct SweptValue {
  std::string text;                                          // as a person writes it
  double number = std::numeric_limits<double>::quiet_NaN();  // SI; NaN = a word
};

// The bags of a scene's "sweep", from 0. The functions may be called at any time later, from
// several threads.
struct ReadSweep {
  std::size_t n_bags = 0;
  std::vector<SweptFactor> factors;
  std::function<std::vector<SweptValue>(std::size_t bag)> values;  // one a factor
  std::function<ReadResult(std::size_t bag)> read;  // its scene, or why it cannot be made
};

struct ReadResult {
  std::optional<Scene> scene;           // nothing when there are errors
  std::vector<Diagnostic> diagnostics;  // warnings too, sorted by place
  std::vector<Scene> variants;  // with their changes made and their own names; only beside a scene
  ReadBuild build;              // of a scene with "choose" only
  ReadSweep sweep;              // of a scene with "sweep" only
};

// Reads the faces of a sheet whose shape is a .vtp file into the scene, which takes VTK; does
// nothing with any other. Returns an empty text, or what went wrong.
using SurfaceReader = std::function<std::string(Scene&)>;

// Neither throws on bad input, however broken or hostile: files above 1 MiB or nested deeper than
// 64 are refused. `name` stands for the file in diagnostics; files that a text names are looked for
// in the working folder. Without `read_surface` a .vtp file is taken on trust.
[[nodiscard]] ReadResult read_scene(const std::filesystem::path& file,
                                    const materials::MaterialLibrary& library,
                                    const SurfaceReader& read_surface = {});
[[nodiscard]] ReadResult read_scene_text(std::string_view text, const std::string& name,
                                         const materials::MaterialLibrary& library,
                                         const SurfaceReader& read_surface = {});

// The library with the scene's own materials added and, for a tote, everything that creeps as it is
// after Contents::carried_for_s. Builders must be given this one.
[[nodiscard]] materials::MaterialLibrary library_of(const Scene& scene,
                                                    const materials::MaterialLibrary& library);

// The scene as a scene file with every default written out, quantities in SI with their units.
// Reads back to the same Scene, without its variants, its choice and its sweep.
[[nodiscard]] std::string resolved_json(const Scene& scene);

}  // namespace totebench::scenes
