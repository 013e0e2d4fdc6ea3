#include "app/present/material_entries.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "totebench/materials/trade_words.hpp"

namespace totebench::app {

std::vector<MaterialEntry> material_entries(const materials::MaterialLibrary& library) {
  std::vector<MaterialEntry> entries;
  for (const materials::Material& material : library.materials()) {
    MaterialEntry entry{material.id, material.name, material.category, material.note, {}};
    for (const auto& [name, quantity] : material.properties) {
      entry.properties.emplace_back(name, quantity);
    }
    entries.push_back(std::move(entry));
  }
  for (const materials::Thread& thread : library.threads()) {
    entries.push_back({thread.id,
                       thread.name,
                       "thread",
                       fmt::format("{:g} tex", thread.tex),
                       {{"breaking_strength", thread.breaking_strength},
                        {"elongation", thread.elongation},
                        {"loop_ratio", thread.loop_ratio}}});
  }
  for (const materials::StitchType& stitch : library.stitches()) {
    entries.push_back({stitch.id, stitch.name, "stitch", "", {{"factor", stitch.factor}}});
  }
  return entries;
}

std::vector<std::string> ids_called(const materials::MaterialLibrary& library,
                                    const std::vector<MaterialEntry>& entries,
                                    const std::string& words) {
  const bool is_id = std::any_of(entries.begin(), entries.end(),
                                 [&](const MaterialEntry& entry) { return entry.id == words; });
  return is_id ? std::vector{words} : materials::materials_called(library, words);
}

std::string nothing_called_text(const materials::MaterialLibrary& library,
                                const std::string& words) {
  const std::string nearest = library.closest(words);
  return fmt::format("The library has nothing called \"{}\".{}", words,
                     nearest.empty() ? " `totebench materials` lists what it has."
                                     : " Did you mean \"" + nearest + "\"?");
}

std::string cited(const materials::MaterialLibrary& library, const std::string& ids) {
  std::string text;
  std::size_t from = 0;
  while (from < ids.size()) {
    const std::size_t to = std::min(ids.find(", ", from), ids.size());
    const std::string id = ids.substr(from, to - from);
    const auto source = library.sources().find(id);
    std::string one = source == library.sources().end() ? id : source->second.cite;
    if (source != library.sources().end() && !source->second.address.empty()) {
      one += " <" + source->second.address + ">";
    }
    text += (text.empty() ? "" : "; ") + one;
    from = to + 2;
  }
  return text;
}

nlohmann::ordered_json entry_tree(const materials::MaterialLibrary& library,
                                  const MaterialEntry& entry) {
  nlohmann::ordered_json json = {
      {"id", entry.id}, {"name", entry.name}, {"category", entry.category}, {"note", entry.note}};
  json["properties"] = nlohmann::ordered_json::object();
  for (const auto& [name, quantity] : entry.properties) {
    json["properties"][name] = {{"value", quantity.value},
                                {"low", quantity.low},
                                {"high", quantity.high},
                                {"unit", quantity.unit},
                                {"grade", quantity.grade},
                                {"source", quantity.source},
                                {"cite", cited(library, quantity.source)},
                                {"note", quantity.note},
                                {"bound", quantity.bound}};
  }
  return json;
}

}  // namespace totebench::app
