// totebench materials [WORDS]: what the library holds, side by side, and where each number comes
// from.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "app/commands/common.hpp"
#include "app/present/material_entries.hpp"
#include "app/present/text_table.hpp"
#include "totebench/materials/library.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

using Json = nlohmann::ordered_json;

std::string with_unit(double value, const std::string& unit) {
  return unit == "1" || unit.empty() ? scenes::number_text(value)
                                     : scenes::number_text(value) + " " + unit;
}

void list_all(const std::vector<MaterialEntry>& entries) {
  std::vector<std::string> order;
  std::map<std::string, std::vector<const MaterialEntry*>> by_category;
  std::size_t widest = 0;
  for (const MaterialEntry& entry : entries) {
    if (by_category.count(entry.category) == 0) order.push_back(entry.category);
    by_category[entry.category].push_back(&entry);
    widest = std::max(widest, entry.id.size());
  }
  for (const std::string& category : order) {
    fmt::print("{}\n", category);
    for (const MaterialEntry* entry : by_category[category]) {
      fmt::print("  {:<{}}  {}\n", entry->id, widest, entry->name);
    }
    fmt::print("\n");
  }
  fmt::print(
      "`totebench materials ID` shows every property of one, with its source; `totebench "
      "materials canvas` compares what goes by a word.\n");
}

void show_one(const materials::MaterialLibrary& library, const MaterialEntry& entry) {
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

// Mean of the two directions, N m; a solid bends with the cube of its thickness. NaN where it is
// not known.
double rigidity_N_m(const materials::Material& m) {
  const auto mean_of = [&](const char* along, const char* across, const char* both) {
    const materials::Quantity* one = m.find(along);
    const materials::Quantity* other = m.find(across);
    if (one != nullptr && other != nullptr) return (one->value + other->value) / 2;
    const materials::Quantity* same = m.find(both);
    return same == nullptr ? std::nan("") : same->value;
  };
  const double measured =
      mean_of("bending_rigidity_warp", "bending_rigidity_weft", "bending_rigidity");
  const materials::Quantity* thickness = m.find("thickness");
  if (!std::isnan(measured) || thickness == nullptr) return measured;
  const double modulus = mean_of("youngs_modulus_md", "youngs_modulus_cd", "youngs_modulus");
  return modulus * std::pow(thickness->value, 3) / 12;
}

double areal_mass_kg_per_m2(const materials::Material& m) {
  if (const materials::Quantity* mass = m.find("areal_mass")) return mass->value;
  if (!m.has("density") || !m.has("thickness")) return std::nan("");
  return m.get("density").value * m.get("thickness").value;
}

// What a column sorts and shows; NaN stands last.
struct Comparing {
  const char* by;  // --by
  double (*of)(const materials::Material&);
};
constexpr Comparing kComparing[] = {
    {"stiffness", rigidity_N_m},
    {"weight", areal_mass_kg_per_m2},
    {"thickness",
     [](const materials::Material& m) {
       return m.has("thickness") ? m.get("thickness").value : std::nan("");
     }},
};
constexpr const char* kMeasureOfStiffness = "quilting_cotton";

// Several materials in one table, the least first.
TextTable compared(const materials::MaterialLibrary& library, std::vector<std::string> ids,
                   const std::string& by, const std::string& units) {
  const auto value = [&](const std::string& id) {
    const materials::Material* m = library.find(id);
    for (const Comparing& one : kComparing) {
      if (m != nullptr && by == one.by) return one.of(*m);
    }
    return std::nan("");
  };
  std::stable_sort(ids.begin(), ids.end(), [&](const std::string& a, const std::string& b) {
    const double first = value(a), second = value(b);
    if (std::isnan(first) || std::isnan(second)) return !std::isnan(first) && std::isnan(second);
    return first < second;
  });
  const materials::Material* measure = library.find(kMeasureOfStiffness);
  const scenes::ShownUnit weight = scenes::areal_mass_unit(units);
  TextTable table = {{"id", "stiffness, quilting cotton = 1", "weight, " + weight.name,
                      "thickness, " + scenes::fine_length_unit(units).name, "what it is"}};
  for (const std::string& id : ids) {
    const materials::Material* m = library.find(id);
    if (m == nullptr) {
      const materials::Thread* thread = library.find_thread(id);
      table.push_back({id, "", "", "", thread == nullptr ? "" : thread->name});
      continue;
    }
    const auto text = [](double its) { return std::isnan(its) ? "-" : scenes::rough_text(its); };
    const double thick = m->has("thickness")
                             ? m->get("thickness").value * scenes::fine_length_unit(units).per_SI
                             : std::nan("");
    table.push_back(
        {id, text(measure == nullptr ? std::nan("") : rigidity_N_m(*m) / rigidity_N_m(*measure)),
         text(areal_mass_kg_per_m2(*m) * weight.per_SI), text(thick), m->name});
  }
  return table;
}

int show_several(const materials::MaterialLibrary& library,
                 const std::vector<MaterialEntry>& entries, const std::vector<std::string>& ids,
                 const std::string& words, const std::string& by, const Common& common) {
  if (common.json) {
    Json all = Json::array();
    for (const MaterialEntry& entry : entries) {
      if (std::count(ids.begin(), ids.end(), entry.id) == 0) continue;
      all.push_back(entry_tree(library, entry));
    }
    fmt::print("{}\n", all.dump(2));
    return kExitDone;
  }
  const TextTable table = compared(library, ids, by, common.units);
  fmt::print("{} things called \"{}\", the least {} first:\n\n{}\n", ids.size(), words,
             by == "weight"      ? "heavy"
             : by == "thickness" ? "thick"
                                 : "stiff",
             table_text(table, 4));
  fmt::print(
      "Stiffness is that against bending, mean of both directions; solid sheets at the thickness "
      "shown, with the cube of it at any other.\n`totebench materials ID` shows every property of "
      "one, with its source.\n");
  return kExitDone;
}

int materials(const std::string& words, const std::string& by, const Common& common) {
  materials::MaterialLibrary library;
  try {
    library = materials::MaterialLibrary::load();
  } catch (const std::runtime_error& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return kExitBadInput;
  }
  const std::vector<MaterialEntry> entries = material_entries(library);
  if (words.empty()) {
    if (common.json) {
      Json all = Json::array();
      for (const MaterialEntry& entry : entries) all.push_back(entry_tree(library, entry));
      fmt::print("{}\n", all.dump(2));
    } else {
      list_all(entries);
    }
    return kExitDone;
  }
  const std::vector<std::string> ids = ids_called(library, entries, words);
  if (ids.size() > 1) return show_several(library, entries, ids, words, by, common);
  if (ids.empty()) {
    fmt::print(stderr, "{}\n", nothing_called_text(library, words));
    return kExitBadInput;
  }
  const auto found = std::find_if(entries.begin(), entries.end(), [&](const MaterialEntry& entry) {
    return entry.id == ids.front();
  });
  if (common.json) {
    fmt::print("{}\n", entry_tree(library, *found).dump(2));
  } else {
    show_one(library, *found);
  }
  return kExitDone;
}

}  // namespace

void add_materials_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "materials", "List the material library, compare what goes by a word, or show one entry");
  auto words = std::make_shared<std::vector<std::string>>();
  auto by = std::make_shared<std::string>("stiffness");
  command->add_option("WORDS", *words,
                      "An id, or words of the trade, such as canvas, fusible fleece, webbing");
  command->add_option("--by", *by, "Sort several by: stiffness (the default), weight, thickness")
      ->check(CLI::IsMember({"stiffness", "weight", "thickness"}));
  add_common_options(*command, common);
  command->callback([&common, &exit_code, words, by] {
    exit_code = materials(fmt::format("{}", fmt::join(*words, " ")), *by, common);
  });
}

}  // namespace totebench::app
