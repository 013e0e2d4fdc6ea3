#include "totebench/scenes/reader.hpp"

#include <nlohmann/json.hpp>

#include "scenes/check/scene.hpp"
#include "scenes/format/alternatives.hpp"
#include "scenes/format/json_text.hpp"
#include "scenes/format/resolve.hpp"
#include "scenes/format/scene_report.hpp"
#include "scenes/format/sweep.hpp"
#include "scenes/format/value_reader.hpp"
#include "scenes/format/variants.hpp"
#include "scenes/pieces/drawing.hpp"
#include "totebench/materials/ageing.hpp"

namespace totebench::scenes {
namespace {

using nlohmann::json;

const JsonKind kSceneFile = {"scene", R"({ "schema_version": 1, "kind": "tote", ... })"};

ReadResult refused(const Diagnostic& problem) { return {std::nullopt, {problem}, {}, {}, {}}; }

std::vector<std::string> own_material_ids(const json& root) {
  std::vector<std::string> ids;
  const auto materials = root.find("materials");
  if (materials == root.end() || !materials->is_object()) return ids;
  for (const auto& item : materials->items()) ids.push_back(item.key());
  return ids;
}

// A file is named relative to the scene that uses it.
void anchor_file(std::string& name, const std::filesystem::path& folder) {
  if (name.empty()) return;
  const std::filesystem::path file(name);
  if (file.is_relative()) {
    name = std::filesystem::absolute(folder / file).lexically_normal().string();
  }
}

void read_drawing(Scene& scene, SceneReport& report) {
  Bag& bag = scene.bag;
  if (bag.shape != BagShape::kPieces || bag.file.empty() || bag.pieces.empty()) return;
  for (SewingFault& fault : read_pieces(bag, scene.units)) {
    report.error(fault.pointer, std::move(fault.what), std::move(fault.cure));
  }
}

// What most lengths and masses are written in; as many of both kinds count as metric.
std::string written_units(const json& root) {
  int imperial = 0, metric = 0;
  const auto count = [&](const auto& self, const json& value) -> void {
    if (value.is_structured()) {
      for (const auto& item : value.items()) self(self, item.value());
      return;
    }
    if (!value.is_string()) return;
    for (const Dimension dimension : {Dimension::kLength, Dimension::kMass}) {
      const auto read = parse_quantity(value.get_ref<const std::string&>(), dimension);
      if (read.quantity) ++(is_imperial(read.quantity->unit, dimension) ? imperial : metric);
    }
  };
  count(count, root);
  return imperial > metric ? "in" : "cm";
}

// What a scene is read with, besides its text.
struct Surroundings {
  std::filesystem::path folder;  // of the scene file
  const materials::MaterialLibrary& library;
  SurfaceReader read_surface;
};

void read_faces(const Surroundings& around, Scene& scene, SceneReport& report) {
  std::error_code error;
  if (!around.read_surface || !std::filesystem::is_regular_file(scene.sheet.geometry.file, error)) {
    return;
  }
  const std::string problem = around.read_surface(scene);
  if (!problem.empty()) {
    report.error("/sheet/file", problem, "mend the mesh, or save it as .obj or .stl");
  }
}

Scene read_one(const json& root, const Surroundings& around, SceneReport& report) {
  const materials::MaterialLibrary& library = around.library;
  Scene scene;
  ValueReader reader(library, report);
  reader.set_folder(around.folder);
  reader.set_own_materials(own_material_ids(root));
  reader.read(root, scene_keys(), "", &scene);
  if (!root.contains("units")) scene.units = written_units(root);
  anchor_file(scene.sheet.geometry.file, around.folder);
  anchor_file(scene.bag.file, around.folder);
  read_drawing(scene, report);
  read_faces(around, scene, report);
  // Without a kind there is no telling which parts should be there.
  const bool kind_known = root.contains("kind") && root["kind"].is_string() &&
                          (root["kind"] == "tote" || root["kind"] == "sheet");
  if (kind_known) {
    fill_derived(scene);
    check_scene(scene, library_of(scene, library), report);
  }
  return scene;
}

// Reads at any time later.
ReadRoot lasting(const Surroundings& around) {
  return [folder = around.folder, library = around.library, read_surface = around.read_surface](
             const json& root, SceneReport& report) {
    return read_one(root, {folder, library, read_surface}, report);
  };
}

ReadBuild builds_of(const json& root, const std::string& name, const SourceMap& places,
                    const Surroundings& around) {
  return [root, name, places, read = lasting(around)](const std::vector<int>& picks) {
    SceneReport report(name, build_places(root, places, picks));
    ReadResult result;
    Scene scene = read(build_root(root, picks), report);
    if (!report.has_errors()) result.scene = std::move(scene);
    result.diagnostics = report.take();
    return result;
  };
}

ReadResult read_text(std::string_view written, const std::string& name,
                     const Surroundings& around) {
  const std::string text = without_comments(written);
  Diagnostic problem;
  const std::optional<json> object = object_of_text(text, name, kSceneFile, problem);
  if (!object) return refused(problem);
  const json& root = *object;
  SceneReport report(name, SourceMap::of(text));
  if (const auto kind = root.find("kind"); kind != root.end() && *kind == "swatch") {
    report.error("/kind", "this is a swatch file, not a scene", "totebench swatch takes it");
    return {std::nullopt, report.take(), {}, {}, {}};
  }
  report_duplicates(report);
  const ReadRoot read_root = [&](const json& one, SceneReport& its_report) {
    return read_one(one, around, its_report);
  };
  Scene scene = read_root(root, report);
  std::vector<Scene> variants = read_variants(root, name, read_root, report);
  check_alternatives(root, name, read_root, report);
  ReadSweep sweep;
  if (root.contains("sweep")) sweep = read_sweep(root, name, lasting(around), report);
  ReadResult result;
  if (!report.has_errors()) {
    if (scene.choose) result.build = builds_of(root, name, report.places(), around);
    result.scene = std::move(scene);
    result.variants = std::move(variants);
    result.sweep = std::move(sweep);
  }
  result.diagnostics = report.take();
  return result;
}

}  // namespace

ReadResult read_scene_text(std::string_view text, const std::string& name,
                           const materials::MaterialLibrary& library,
                           const SurfaceReader& read_surface) {
  return read_text(text, name, {std::filesystem::path(), library, read_surface});
}

ReadResult read_scene(const std::filesystem::path& file, const materials::MaterialLibrary& library,
                      const SurfaceReader& read_surface) {
  Diagnostic problem;
  const std::optional<std::string> text = text_of_file(file, kSceneFile, problem);
  if (!text) return refused(problem);
  return read_text(*text, file.string(), {file.parent_path(), library, read_surface});
}

materials::MaterialLibrary library_of(const Scene& scene,
                                      const materials::MaterialLibrary& library) {
  materials::MaterialLibrary all = library;
  for (materials::Material material : scene.own_materials) {
    const auto like = scene.own_material_like.find(material.id);
    const materials::Material* base =
        like == scene.own_material_like.end() ? nullptr : library.find(like->second);
    if (base != nullptr) materials::creep_in_proportion(material, *base);
    all.add(std::move(material));
  }
  // Of a time that could not be read its own fault is told, and nothing that would follow from it.
  const double loaded_s = scene.contents.carried_for_s;
  if (scene.kind != SceneKind::kTote || !(loaded_s > 0)) return all;
  return materials::under_load(all, loaded_s);
}

}  // namespace totebench::scenes
