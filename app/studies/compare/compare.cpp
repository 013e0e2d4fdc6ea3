#include "totebench/studies/compare.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>

#include "app/studies/hang/moves_in_squares.hpp"
#include "totebench/scenes/json_trees.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/scenes/units.hpp"
#include "totebench/studies/data_scatter.hpp"

namespace totebench::studies {
namespace {

using Json = nlohmann::ordered_json;

std::string layer_text(const scenes::Layer& layer, const materials::MaterialLibrary& library,
                       const std::string& units) {
  const std::string name = library.name_of(layer.material);
  if (!(layer.thickness_m > 0)) return name;
  return fmt::format("{} ({} thick)", name, scenes::thickness_text(layer.thickness_m, units));
}

// What `to` has beyond `from`, counting double layers twice.
std::vector<std::string> beyond(std::vector<std::string> from, const std::vector<std::string>& to) {
  std::vector<std::string> out;
  for (const std::string& one : to) {
    const auto it = std::find(from.begin(), from.end(), one);
    if (it == from.end()) {
      out.push_back(one);
    } else {
      from.erase(it);
    }
  }
  return out;
}

void add_new(std::vector<std::string>& list, const std::vector<std::string>& more,
             const std::string& where) {
  for (const std::string& one : more) {
    const std::string text = where.empty() ? one : one + " in the " + where;
    if (std::find(list.begin(), list.end(), one) == list.end()) list.push_back(text);
  }
}

void compare_layers(const scenes::Scene& from, const scenes::Scene& to,
                    const materials::MaterialLibrary& library, const std::string& units,
                    BagDifference& out) {
  const auto texts = [&](const scenes::Scene& scene, const std::string& region) {
    std::vector<std::string> list;
    const auto it = scene.layers.find(region);
    if (it == scene.layers.end()) return list;
    for (const scenes::Layer& layer : it->second) {
      list.push_back(layer_text(layer, library, units));
    }
    return list;
  };
  for (const char* region : {"upper", "lower", "base", "hem"}) {
    const auto before = texts(from, region), after = texts(to, region);
    const bool everywhere = std::string(region) == "upper";
    const auto added = beyond(before, after), removed = beyond(after, before);
    add_new(out.added, added, everywhere ? "" : region);
    add_new(out.removed, removed, everywhere ? "" : region);
    const auto from_it = from.layers.find(region), to_it = to.layers.find(region);
    if (added.empty() && removed.empty() && from_it != from.layers.end() &&
        to_it != to.layers.end() && !(from_it->second == to_it->second)) {
      out.changed.push_back(fmt::format("order or joining of the layers ({})", region));
    }
  }
}

std::string base_text(const scenes::BaseSheet& base, const materials::MaterialLibrary& library,
                      const std::string& units) {
  if (base.kind == scenes::BaseKind::kNone) return "";
  return fmt::format(
      "a base of {}{} {}", library.name_of(base.material),
      base.thickness_m > 0 ? ", " + scenes::thickness_text(base.thickness_m, units) + "," : "",
      base.kind == scenes::BaseKind::kStitched ? "stitched in" : "in a pocket");
}

std::string shown(const Json& value) {
  return value.is_string() ? value.get<std::string>() : value.dump();
}

const Json& member(const Json& object, const std::string& key) {
  static const Json none(nullptr);
  return object.is_object() && object.contains(key) ? object[key] : none;
}

// A scene as it is, to the last digit, and as it is told.
struct BothTrees {
  Json exact;
  Json told;
};

void compare_rest(const Json& from, const Json& to, const Json& told_from, const Json& told_to,
                  const std::string& path, std::vector<std::string>& changed) {
  if (from.is_object() && to.is_object()) {
    for (const auto& item : to.items()) {
      const std::string& key = item.key();
      compare_rest(member(from, key), item.value(), member(told_from, key), member(told_to, key),
                   path.empty() ? key : path + "." + key, changed);
    }
    return;
  }
  if (from == to) return;
  if (from.is_structured() || to.is_structured()) {
    changed.push_back(path);
  } else if (from.is_null()) {
    changed.push_back(fmt::format("{} {}", path, shown(told_to)));
  } else {
    changed.push_back(fmt::format("{} {} instead of {}", path, shown(told_to), shown(told_from)));
  }
}

std::string joined(const std::vector<std::string>& list) {
  std::string out;
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (i > 0) out += i + 1 == list.size() ? " and " : ", ";
    out += list[i];
  }
  return out;
}

// Without what compare_layers and compare_base tell, and what is not the bag.
BothTrees rest_of(const scenes::Scene& scene, const std::string& units) {
  const auto told = [&units](double si, scenes::Dimension dimension) {
    if (dimension == scenes::Dimension::kLength) return scenes::length_text(si, units);
    if (dimension == scenes::Dimension::kMass) return scenes::mass_text(si, units);
    return scenes::quantity_text(si, dimension);
  };
  BothTrees trees{scenes::resolved_tree(scene), scenes::resolved_tree(scene, told)};
  for (const char* key : {"$schema", "name", "note", "units", "layers", "base", "mesh", "solve",
                          "expect", "variants", "materials", "rating"}) {
    trees.exact.erase(key);
  }
  return trees;
}

Json own_materials(const scenes::Scene& scene) {
  const Json json = scenes::resolved_tree(scene);
  return json.contains("materials") ? json["materials"] : Json::object();
}

// How far a second shape of a bag has a figure from the first; nothing where none was found or none
// has the figure.
std::optional<double> moved_by_other_shape(const HangResult& bag, const scenes::Figure& figure) {
  const scenes::Findings& found = bag.findings;
  if (!found.other_shape.found) return std::nullopt;
  if (&figure == &scenes::figure_of<&scenes::Findings::bottom_sag_m>()) {
    return std::abs(found.other_shape.bottom_sag_m - found.bottom_sag_m);
  }
  if (&figure == &scenes::figure_of<&scenes::Findings::strap_drop_loaded_m>()) {
    return std::abs(found.other_shape.strap_drop_m - found.strap_drop_loaded_m);
  }
  return std::nullopt;
}

}  // namespace

BagDifference difference(const scenes::Scene& from, const scenes::Scene& to,
                         const materials::MaterialLibrary& library, const std::string& units) {
  BagDifference out;
  compare_layers(from, to, library, units, out);
  const std::string before = base_text(from.base, library, units);
  const std::string after = base_text(to.base, library, units);
  if (before != after) {
    if (!after.empty()) out.added.push_back(after);
    if (!before.empty()) out.removed.push_back(before);
  }
  const BothTrees rest_before = rest_of(from, units), rest_after = rest_of(to, units);
  compare_rest(rest_before.exact, rest_after.exact, rest_before.told, rest_after.told, "",
               out.changed);
  const Json own_before = own_materials(from), own_after = own_materials(to);
  for (const auto& item : own_after.items()) {
    if (own_before.contains(item.key()) && own_before[item.key()] != item.value()) {
      out.changed.push_back("the values of " + item.key());
    }
  }
  return out;
}

std::string difference_text(const BagDifference& difference) {
  std::vector<std::string> parts;
  if (difference.added.size() == 1 && difference.removed.size() == 1) {
    parts.push_back(
        fmt::format("putting {} in place of {}", difference.added[0], difference.removed[0]));
  } else {
    if (!difference.added.empty()) parts.push_back("adding " + joined(difference.added));
    if (!difference.removed.empty()) parts.push_back("leaving out " + joined(difference.removed));
  }
  if (!difference.changed.empty()) parts.push_back("changing " + joined(difference.changed));
  std::string out;
  for (const std::string& part : parts) out += (out.empty() ? "" : ", ") + part;
  return out;
}

bool Comparison::all_converged() const {
  return std::all_of(bags.begin(), bags.end(),
                     [](const ComparedBag& bag) { return bag.result.findings.converged(); });
}

Range difference_range(const HangResult& a, const HangResult& b, const scenes::Figure& figure) {
  const double found = figure.value(b.findings) - figure.value(a.findings);
  double by_mesh = 0;
  if (mesh_change(a, figure) && mesh_change(b, figure)) {
    by_mesh = std::abs(found - (figure.value(*mesh_before(b)) - figure.value(*mesh_before(a))));
  }
  MovesInSquares all;
  if (a.data_scatter && b.data_scatter && figure.likely_from == scenes::LikelyFrom::kMaterials) {
    const std::size_t k = place_of(figure);
    std::map<std::string, std::array<double, 2>> moves;  // of the difference, by input
    for (const DataScatter::Moves& its : b.data_scatter->moves) {
      moves[its.input][0] += its.at_low[k];
      moves[its.input][1] += its.at_high[k];
    }
    for (const DataScatter::Moves& its : a.data_scatter->moves) {
      moves[its.input][0] -= its.at_low[k];
      moves[its.input][1] -= its.at_high[k];
    }
    for (const auto& [input, at] : moves) all.add(at[0], at[1]);
  }
  return {found - by_mesh - all.down(), found + by_mesh + all.up()};
}

bool can_be_told_apart(const HangResult& a, const HangResult& b, const scenes::Figure& figure) {
  const double apart = std::abs(figure.value(a.findings) - figure.value(b.findings));
  for (const HangResult* bag : {&a, &b}) {
    const std::optional<double> moved = moved_by_other_shape(*bag, figure);
    if (moved && apart <= *moved) return false;
  }
  const Range range = difference_range(a, b, figure);
  return range.low > 0 || range.high < 0;
}

Comparison compare_totes(const std::vector<scenes::Scene>& scenes,
                         const materials::MaterialLibrary& library, const std::string& units,
                         const OnHangProgress& on_progress, bool with_ranges) {
  Comparison comparison;
  bool go_on = true;
  for (const scenes::Scene& scene : scenes) {
    if (!go_on) break;
    ComparedBag bag;
    bag.scene = scene;
    // Each scene may bring materials of its own, under names another scene uses differently.
    materials::MaterialLibrary own = scenes::library_of(scene, library);
    const OnHangProgress tell = [&](const HangProgress& progress) {
      const std::string stage = fmt::format("{} of {}, {}: {}", comparison.bags.size() + 1,
                                            scenes.size(), scene.name, progress.stage);
      go_on = !on_progress || on_progress({stage, progress.step});
      return go_on;
    };
    bag.result = hang_tote(scene, own, tell);
    if (with_ranges && go_on) {
      bag.result.data_scatter = data_scatter(scene, own, bag.result, tell);
    }
    for (const materials::Material& material : scenes.front().own_materials) {
      if (own.find(material.id) == nullptr) own.add(material);
    }
    bag.from_first = difference(scenes.front(), scene, own, units);
    comparison.bags.push_back(std::move(bag));
  }
  return comparison;
}

}  // namespace totebench::studies
