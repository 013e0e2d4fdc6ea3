// Everything of the material library by one shape, whatever its kind, and the same for programs.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <utility>
#include <vector>

#include "totebench/materials/library.hpp"

namespace totebench::app {

struct MaterialEntry {
  std::string id, name, category, note;
  std::vector<std::pair<std::string, materials::Quantity>> properties;
};
[[nodiscard]] std::vector<MaterialEntry> material_entries(
    const materials::MaterialLibrary& library);

// Of the entry with that id, else of all materials that go by these words of the trade. Empty where
// nothing does, which nothing_called_text() says with the nearest name.
[[nodiscard]] std::vector<std::string> ids_called(const materials::MaterialLibrary& library,
                                                  const std::vector<MaterialEntry>& entries,
                                                  const std::string& words);
[[nodiscard]] std::string nothing_called_text(const materials::MaterialLibrary& library,
                                              const std::string& words);

// The sources behind a list of their ids, joined with ", ".
[[nodiscard]] std::string cited(const materials::MaterialLibrary& library, const std::string& ids);

// {id, name, category, note, properties: by name {value, low, high, unit, grade, source, cite,
// note, bound}}
[[nodiscard]] nlohmann::ordered_json entry_tree(const materials::MaterialLibrary& library,
                                                const MaterialEntry& entry);

}  // namespace totebench::app
