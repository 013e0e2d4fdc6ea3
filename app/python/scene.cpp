#include "app/python/scene.hpp"

#include <algorithm>
#include <fstream>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "app/present/check_report.hpp"
#include "totebench/viz/surface_file.hpp"

namespace totebench::app::python {
namespace {

using Json = nlohmann::ordered_json;

bool lies_in(const std::string& pointer, const std::string& above) {
  return pointer == above || pointer.rfind(above + "/", 0) == 0;
}

}  // namespace

std::string& library_folder() {
  static std::string folder;
  return folder;
}

materials::MaterialLibrary library() { return materials::MaterialLibrary::load(library_folder()); }

std::string Reading::checked() const {
  return check_tree(file, read, library, "").dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string Reading::faults() const { return scenes::to_text(read.diagnostics); }

scenes::Scene Reading::scene(const std::string& units) const {
  if (!good()) throw std::invalid_argument(faults());
  scenes::Scene scene = *read.scene;
  if (!units.empty()) scene.units = units;
  return scene;
}

scenes::Scene Reading::tote(const std::string& units, const std::string& refusal) const {
  scenes::Scene tote = scene(units);
  if (tote.kind != scenes::SceneKind::kTote) throw std::invalid_argument(refusal);
  return tote;
}

Reading read_file(const std::string& path) {
  Reading reading{path, library(), {}};
  reading.read = scenes::read_scene(path, reading.library, viz::read_surface_file);
  return reading;
}

Reading read_text(const std::string& text, const std::string& name,
                  const std::vector<Misfit>& misfits) {
  Reading reading{name, library(), {}};
  scenes::ReadResult& read = reading.read;
  read = scenes::read_scene_text(text, name, reading.library, viz::read_surface_file);
  std::erase_if(read.diagnostics, [&](const scenes::Diagnostic& found) {
    return std::any_of(misfits.begin(), misfits.end(), [&](const Misfit& misfit) {
      return lies_in(found.pointer, misfit.pointer);
    });
  });
  for (scenes::Diagnostic& found : read.diagnostics) found.line = found.column = 0;
  for (const Misfit& misfit : misfits) {
    read.diagnostics.push_back(
        {scenes::Severity::kError, name, 0, 0, misfit.pointer, misfit.message, misfit.hint});
  }
  if (!misfits.empty()) read.scene.reset();
  return reading;
}

std::string plain_text(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  const Json scene = Json::parse(in, nullptr, false, true);
  return in && !scene.is_discarded() && scene.is_object() ? scene.dump() : "";
}

}  // namespace totebench::app::python
