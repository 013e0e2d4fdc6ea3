// totebench materials [ID]: what the library holds, and where each number comes from.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "app/commands/common.hpp"
#include "totebench/materials/library.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

using Json = nlohmann::ordered_json;
using Properties = std::vector<std::pair<std::string, materials::Quantity>>;

// A thing of the library, whatever its kind.
struct Entry {
  std::string id, name, category, note;
  Properties properties;
};

std::vector<Entry> entries_of(const materials::MaterialLibrary& library) {
  std::vector<Entry> entries;
  for (const materials::Material& material : library.materials()) {
    Entry entry{material.id, material.name, material.category, material.note, {}};
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

std::string with_unit(double value, const std::string& unit) {
  return unit == "1" || unit.empty() ? scenes::number_text(value)
                                     : scenes::number_text(value) + " " + unit;
}

// Source ids come joined with ", ".
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

void list_all(const std::vector<Entry>& entries) {
  std::vector<std::string> order;
  std::map<std::string, std::vector<const Entry*>> by_category;
  std::size_t widest = 0;
  for (const Entry& entry : entries) {
    if (by_category.count(entry.category) == 0) order.push_back(entry.category);
    by_category[entry.category].push_back(&entry);
    widest = std::max(widest, entry.id.size());
  }
  for (const std::string& category : order) {
    fmt::print("{}\n", category);
    for (const Entry* entry : by_category[category]) {
      fmt::print("  {:<{}}  {}\n", entry->id, widest, entry->name);
    }
    fmt::print("\n");
  }
  fmt::print("`totebench materials ID` shows every property of one, with its source.\n");
}

void show_one(const materials::MaterialLibrary& library, const Entry& entry) {
  fmt::print("{} ({})\n{}\n", entry.id, entry.category, entry.name);
  if (!entry.note.empty()) fmt::print("{}\n", entry.note);
  for (const auto& [name, quantity] : entry.properties) {
    fmt::print("\n  {}: {}", name, with_unit(quantity.value, quantity.unit));
    if (quantity.low != quantity.high) {
      fmt::print("   ({} to {})", scenes::number_text(quantity.low),
                 scenes::number_text(quantity.high));
    }
    if (!quantity.bound.empty()) fmt::print("   the source gives a {}", quantity.bound);
    fmt::print("\n      {}", quantity.grade);
    const std::string source = cited(library, quantity.source);
    if (!source.empty() && source != quantity.grade) fmt::print(": {}", source);
    fmt::print("\n");
    if (!quantity.note.empty()) fmt::print("      {}\n", quantity.note);
  }
}

Json json_of(const materials::MaterialLibrary& library, const Entry& entry) {
  Json json = {
      {"id", entry.id}, {"name", entry.name}, {"category", entry.category}, {"note", entry.note}};
  json["properties"] = Json::object();
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

int materials(const std::string& id, const Common& common) {
  materials::MaterialLibrary library;
  try {
    library = materials::MaterialLibrary::load();
  } catch (const std::runtime_error& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return kExitBadInput;
  }
  const std::vector<Entry> entries = entries_of(library);
  if (id.empty()) {
    if (common.json) {
      Json all = Json::array();
      for (const Entry& entry : entries) all.push_back(json_of(library, entry));
      fmt::print("{}\n", all.dump(2));
    } else {
      list_all(entries);
    }
    return kExitDone;
  }
  const auto found = std::find_if(entries.begin(), entries.end(),
                                  [&](const Entry& entry) { return entry.id == id; });
  if (found == entries.end()) {
    const std::string nearest = library.closest(id);
    fmt::print(stderr, "The library has nothing called \"{}\".{}\n", id,
               nearest.empty() ? "" : " Did you mean \"" + nearest + "\"?");
    return kExitBadInput;
  }
  if (common.json) {
    fmt::print("{}\n", json_of(library, *found).dump(2));
  } else {
    show_one(library, *found);
  }
  return kExitDone;
}

}  // namespace

void add_materials_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "materials", "List the material library, or everything known about one entry");
  auto id = std::make_shared<std::string>();
  command->add_option("ID", *id, "A material, thread or stitch of the library");
  add_common_options(*command, common);
  command->callback([&common, &exit_code, id] { exit_code = materials(*id, common); });
}

}  // namespace totebench::app
