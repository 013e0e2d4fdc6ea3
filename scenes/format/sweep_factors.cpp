#include "scenes/format/sweep_factors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <set>
#include <utility>

#include "scenes/format/json_text.hpp"
#include "totebench/scenes/nearest.hpp"

namespace totebench::scenes {
namespace {

using nlohmann::json;

std::vector<std::string> parts_of(const std::string& dotted) {
  std::vector<std::string> parts;
  for (std::size_t start = 0; start <= dotted.size();) {
    const std::size_t end = std::min(dotted.find('.', start), dotted.size());
    parts.push_back(dotted.substr(start, end - start));
    start = end + 1;
  }
  return parts;
}

bool takes_plain_numbers(const Key& key) {
  return key.type == KeyType::kNumber || key.type == KeyType::kInteger ||
         (key.type == KeyType::kProperty && key.dimension == Dimension::kNone);
}
bool holds_others(const Key& key) {
  return key.children != nullptr || key.type == KeyType::kPatch || key.type == KeyType::kExpect;
}

// As a person wrote it; the number it stands for where it is one.
SweptValue told_value(const json& value, const Key& key) {
  SweptValue out;
  out.text = value.is_string() ? value.get<std::string>()
                               : value.dump(-1, ' ', false, json::error_handler_t::replace);
  if (takes_quantities(key) && value.is_string()) {
    const QuantityResult parsed = parse_quantity(out.text, key.dimension);
    if (parsed.quantity) out.number = parsed.quantity->si;
  } else if (takes_plain_numbers(key) && value.is_number()) {
    out.number = value.get<double>();
  }
  return out;
}

// Reads the factors; `good` ends as false where anything is wrong with them.
class Factors {
 public:
  Factors(ChangedScenes& scenes, SceneReport& report) : report_(report), scenes_(scenes) {}

  std::vector<PlannedFactor> read(const json& list, bool latin) {
    std::vector<PlannedFactor> factors;
    for (std::size_t i = 0; i < list.size() && !report_.is_full(); ++i) {
      const json* name = value_at(list[i], "key");
      if (name == nullptr || !name->is_string()) {
        good_ = false;
        continue;
      }
      factors.push_back(
          read_one(list[i], name->get<std::string>(), fmt::format("/sweep/factors/{}", i), latin));
    }
    return factors;
  }
  [[nodiscard]] bool good() const { return good_; }

 private:
  void refuse(const std::string& pointer, std::string message, std::string cure) {
    good_ = false;
    report_.error(pointer, std::move(message), std::move(cure));
  }

  PlannedFactor read_one(const json& entry, const std::string& name, const std::string& at,
                         bool latin) {
    PlannedFactor factor;
    factor.told.key = name;
    if (!find_key(name, at + "/key", factor)) return factor;
    if (!keys_.insert(factor.target).second) {
      refuse(at + "/key", fmt::format("\"{}\" is a factor already", name.substr(0, 60)),
             "list all its levels in one place");
      return factor;
    }
    factor.told.dimension =
        takes_quantities(*factor.key) ? factor.key->dimension : Dimension::kNone;
    if (!read_values(entry, at, latin, factor)) return factor;
    for (const Level& level : factor.levels) check(factor, level);
    factor.told.number = std::all_of(factor.levels.begin(), factor.levels.end(),
                                     [](const auto& l) { return std::isfinite(l.told.number); });
    check_apart(factor);
    return factor;
  }

  // The key that a dotted name leads to, and the pointer to it.
  bool find_key(const std::string& name, const std::string& at, PlannedFactor& factor) {
    const std::vector<std::string> parts = parts_of(name);
    if (is_fixed(parts[0]) || parts[0] == "units" || parts[0] == "expect") {
      refuse(at, fmt::format("\"{}\" is not for a sweep to vary", parts[0].substr(0, 60)),
             "it varies what the bag is made of, what it carries and how it is solved");
      return false;
    }
    const KeyTable* table = &scene_keys();
    const json* here = &scenes_.base();
    std::string above;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const Key* key = table == nullptr ? nullptr : table->find(parts[i]);
      if (key == nullptr) return unknown_key(parts[i], above, table, at);
      above += (above.empty() ? "" : ".") + parts[i];
      factor.target = child_pointer(factor.target, parts[i]);
      factor.key = key;
      table = key->children;
      here = here != nullptr ? value_at(*here, parts[i]) : nullptr;
      if (key->type != KeyType::kList && key->type != KeyType::kNamed) continue;
      if (++i == parts.size()) break;
      const std::optional<std::string> entry = entry_of(*key, parts[i], here, above, at);
      if (!entry) return false;
      above += "." + parts[i];
      factor.target = child_pointer(factor.target, *entry);
      here = here->is_array() ? &(*here)[std::stoul(*entry)] : value_at(*here, *entry);
      if (i + 1 == parts.size()) return whole(*key, above, at);
    }
    return !holds_others(*factor.key) || whole(*factor.key, above, at);
  }

  bool unknown_key(const std::string& part, const std::string& above, const KeyTable* table,
                   const std::string& at) {
    if (table == nullptr) {
      refuse(at, fmt::format("\"{}\" has no keys of its own", above), "leave out what follows it");
      return false;
    }
    const std::string near = nearest(part, table->names());
    const std::string dotted = (above.empty() ? "" : above + ".") + near;
    refuse(at,
           fmt::format("unknown key \"{}\" in {}", part.substr(0, 60),
                       above.empty() ? "the scene" : "\"" + above + "\""),
           near.empty() ? "see totebench explain for the keys that are known"
                        : fmt::format("did you mean \"{}\"?", dotted));
    return false;
  }

  bool whole(const Key& key, const std::string& name, const std::string& at) {
    std::string inner = key.children == nullptr ? "" : key.children->keys.front().name;
    const bool list =
        key.type == KeyType::kList && name.find_first_of("0123456789") == std::string::npos;
    if (list) inner = "1." + inner;
    refuse(at, fmt::format("\"{}\" holds keys of its own: a factor is a single value", name),
           inner.empty() ? "name another key"
                         : fmt::format("name one of them, as in \"{}.{}\"", name, inner));
    return false;
  }

  // The token of an entry of a list, or of a named one, that is there.
  std::optional<std::string> entry_of(const Key& key, const std::string& part, const json* list,
                                      const std::string& name, const std::string& at) {
    if (key.type == KeyType::kNamed) {
      if (list != nullptr && list->is_object() && list->contains(part)) return part;
      refuse(at, fmt::format("the scene's \"{}\" has no \"{}\"", name, part.substr(0, 60)),
             "name one that it has; a material of the library is varied by its name, as in "
             "\"layers.upper.1.material\"");
      return std::nullopt;
    }
    const std::size_t size = list != nullptr && list->is_array() ? list->size() : 0;
    const bool digits = !part.empty() && part.size() < 4 &&
                        part.find_first_not_of("0123456789") == std::string::npos;
    const std::size_t number = digits ? std::stoul(part) : 0;
    if (number >= 1 && number <= size && part[0] != '0') return std::to_string(number - 1);
    refuse(at, fmt::format("the scene's list \"{}\" has no entry \"{}\"", name, part.substr(0, 60)),
           size == 0 ? "write the list in the scene first"
                     : fmt::format("its entries are numbered from 1 to {}", size));
    return std::nullopt;
  }

  bool read_values(const json& entry, const std::string& at, bool latin, PlannedFactor& factor) {
    const json* levels = value_at(entry, "levels");
    const json* from = value_at(entry, "from");
    const json* to = value_at(entry, "to");
    const std::string& name = factor.told.key;
    if (levels != nullptr && (from != nullptr || to != nullptr)) {
      refuse(at + "/levels", fmt::format("\"{}\" has levels and a range", name),
             "leave out one of the two");
      return false;
    }
    if (levels != nullptr) return read_levels(*levels, at + "/levels", factor);
    if (from == nullptr || to == nullptr) {
      refuse(at,
             fmt::format("\"{}\" lacks {}", name,
                         from != nullptr ? "the end of its range"
                         : to != nullptr ? "the begin of its range"
                                         : "its values"),
             from != nullptr ? "add \"to\""
             : to != nullptr ? "add \"from\""
                             : "add \"levels\": [ ... ], or \"from\" and \"to\"");
      return false;
    }
    if (!takes_quantities(*factor.key) && !takes_plain_numbers(*factor.key)) {
      refuse(at + "/from", fmt::format("a range is of numbers, and \"{}\" is none", name),
             "list its levels: \"levels\": [ ... ]");
      return false;
    }
    if (!latin) {
      refuse(at + "/from", fmt::format("a full factorial has no use for the range of \"{}\"", name),
             "list its levels, or say \"design\": \"latin hypercube\"");
      return false;
    }
    factor.range = true;
    add_level(*from, at + "/from", factor);
    add_level(*to, at + "/to", factor);
    const QuantityResult written =
        parse_quantity(factor.levels[0].told.text, factor.key->dimension);
    if (written.quantity) factor.unit = written.quantity->unit;
    return good_;
  }

  bool read_levels(const json& list, const std::string& at, PlannedFactor& factor) {
    if (!list.is_array()) {  // told by the key table
      good_ = false;
      return false;
    }
    if (list.empty()) {
      refuse(at, fmt::format("\"{}\" has no levels", factor.told.key),
             "list its values: \"levels\": [ ... ]");
      return false;
    }
    for (std::size_t i = 0; i < list.size(); ++i) {
      add_level(list[i], fmt::format("{}/{}", at, i), factor);
    }
    return good_;
  }

  void add_level(const json& value, const std::string& at, PlannedFactor& factor) {
    if (value.is_object() || value.is_null()) {
      refuse(at, fmt::format("a level of \"{}\" is a single value", factor.told.key),
             "write it as in the scene itself");
    }
    factor.levels.push_back({value.dump(-1, ' ', false, json::error_handler_t::replace),
                             told_value(value, *factor.key), at});
  }

  // The scene with this value in its place, alone.
  void check(const PlannedFactor& factor, const Level& level) {
    json changed = scenes_.base();
    changed[json::json_pointer(factor.target)] = json::parse(level.json);
    (void)scenes_.read_with(changed, {{factor.target, level.at}},
                            fmt::format("{} = {}", factor.told.key, level.told.text.substr(0, 60)));
  }

  void check_apart(const PlannedFactor& factor) {
    if (factor.range) {
      const SweptValue &from = factor.levels[0].told, &to = factor.levels[1].told;
      if (std::isfinite(from.number) && std::isfinite(to.number) && !(from.number < to.number)) {
        refuse(factor.levels[1].at,
               fmt::format("the range of \"{}\" ends at {}, not above where it begins, {}",
                           factor.told.key, to.text, from.text),
               "let it rise from \"from\" to \"to\"");
      }
      return;
    }
    std::set<std::string> seen;
    for (const Level& level : factor.levels) {
      const std::string same =
          factor.told.number ? fmt::format("{}", level.told.number) : level.json;
      if (seen.insert(same).second) continue;
      refuse(level.at,
             fmt::format("\"{}\" has the level {} twice", factor.told.key, level.told.text),
             "leave one out");
    }
  }

  SceneReport& report_;
  ChangedScenes& scenes_;
  std::set<std::string> keys_;  // their targets
  bool good_ = true;
};

}  // namespace

bool takes_quantities(const Key& key) {
  return key.type == KeyType::kQuantity || key.type == KeyType::kReadings ||
         (key.type == KeyType::kProperty && key.dimension != Dimension::kNone);
}

std::vector<PlannedFactor> read_factors(const json& list, bool latin, ChangedScenes& scenes,
                                        SceneReport& report, bool& good) {
  Factors reader(scenes, report);
  std::vector<PlannedFactor> factors = reader.read(list, latin);
  good = reader.good();
  return factors;
}

}  // namespace totebench::scenes
