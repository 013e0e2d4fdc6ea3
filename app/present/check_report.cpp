#include "app/present/check_report.hpp"

#include <nlohmann/json.hpp>

#include "totebench/scenes/explain.hpp"
#include "totebench/scenes/json_trees.hpp"

namespace totebench::app {

nlohmann::ordered_json check_tree(const std::string& file, const scenes::ReadResult& read,
                                  const materials::MaterialLibrary& library,
                                  const std::string& units) {
  nlohmann::ordered_json out = {{"file", file}, {"good", read.scene.has_value()}};
  if (read.scene) {
    out["summary"] = scenes::summary(*read.scene, scenes::library_of(*read.scene, library), units);
    out["resolved"] = scenes::resolved_tree(*read.scene);
  }
  out["diagnostics"] = scenes::diagnostics_tree(read.diagnostics);
  return out;
}

}  // namespace totebench::app
