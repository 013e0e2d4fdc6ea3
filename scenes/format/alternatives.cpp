#include "scenes/format/alternatives.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "scenes/format/json_text.hpp"

namespace totebench::scenes {
namespace {

using nlohmann::json;

// Pointers of all a change sets or takes out.
void collect_places(const json& patch, const std::string& pointer, std::set<std::string>& out) {
  if (!patch.is_object()) {
    out.insert(pointer);
    return;
  }
  for (const auto& item : patch.items()) {
    collect_places(item.value(), child_pointer(pointer, item.key()), out);
  }
}

// The first place of `its` that lies within, or holds, one of `taken`; "" when there is none.
std::string shared_place(const std::set<std::string>& taken, const std::set<std::string>& its) {
  const auto within = [](const std::string& inner, const std::string& outer) {
    return inner.compare(0, outer.size(), outer) == 0 &&
           (inner.size() == outer.size() || inner[outer.size()] == '/');
  };
  for (const std::string& place : its) {
    for (const std::string& other : taken) {
      if (within(place, other) || within(other, place)) return place;
    }
  }
  return "";
}

std::string dotted(const std::string& pointer) {
  std::string out = pointer.substr(1);
  for (char& c : out) c = c == '/' ? '.' : c;
  return out;
}

std::string name_of(const json& entry) {
  const json* name = value_at(entry, "name");
  return name != nullptr && name->is_string() ? name->get<std::string>() : "";
}

const json& list_in(const json& object, const char* key) {
  static const json none = json::array();
  const json* list = value_at(object, key);
  return list != nullptr && list->is_array() ? *list : none;
}

const json& options_of(const json& root) {
  static const json none = json::object();
  const json* choose = value_at(root, "choose");
  return list_in(choose == nullptr ? none : *choose, "options");
}

void check_name(const std::string& name, std::set<std::string>& taken, const std::string& pointer,
                SceneReport& report) {
  if (name.find_first_not_of(' ') == std::string::npos) {
    report.error(pointer + "/name", "the name is empty", "say what it is in a few words");
  } else if (std::any_of(name.begin(), name.end(),
                         [](char c) { return (c >= 0 && c < ' ') || c == 127; })) {
    report.error(pointer + "/name", "the name has a line break or another control character",
                 "it stands in tables: write it in one line");
  } else if (!taken.insert(name).second) {
    report.error(pointer + "/name",
                 fmt::format("the name \"{}\" is taken already", name.substr(0, 60)),
                 "give each a name of its own");
  }
}

// Builds are compared under one load and by one measure. False where `change` touches those.
bool is_of_the_bag(const json& change, const std::string& pointer, const std::string& name,
                   SceneReport& report) {
  bool good = true;
  for (const char* key :
       {"contents", "support", "rating", "use", "mesh", "solve", "choose", "variants"}) {
    if (change.find(key) == change.end()) continue;
    good = false;
    report.error_at_key(
        pointer + "/" + key,
        fmt::format("alternative \"{}\" changes \"{}\", which is no part of the bag",
                    name.substr(0, 60), key),
        "builds are compared under the same load and by the same measure: change it in the scene");
  }
  return good;
}

// Changes of one alternative may go over each other (a base or none); those of two options may not.
void check_overlap(const json& options, SceneReport& report) {
  std::vector<std::set<std::string>> taken;
  for (std::size_t i = 0; i < options.size(); ++i) {
    const json& alternatives = list_in(options[i], "alternatives");
    std::set<std::string> all;
    bool told = false;
    for (std::size_t k = 0; k < alternatives.size(); ++k) {
      const json* change = value_at(alternatives[k], "change");
      if (change == nullptr || !change->is_object()) continue;
      std::set<std::string> its;
      collect_places(*change, "", its);
      for (std::size_t other = 0; other < taken.size() && !told; ++other) {
        const std::string place = shared_place(taken[other], its);
        if (place.empty()) continue;
        told = true;
        report.error_at_key(
            fmt::format("/choose/options/{}/alternatives/{}/change{}", i, k, place),
            fmt::format("options \"{}\" and \"{}\" both change {}", name_of(options[other]),
                        name_of(options[i]), dotted(place)),
            "the later would undo the earlier: make them one option, or change single entries of "
            "a list by their numbers, as in \"upper\": { \"3\": { ... } }");
      }
      all.merge(its);
    }
    taken.push_back(std::move(all));
  }
}

// Entry by entry, null kept: both are made part of the scene at once, so that the numbers of list
// entries mean those of the scene.
void join_changes(json& change, const json& more) {
  for (const auto& item : more.items()) {
    json& here = change[item.key()];
    if (here.is_object() && item.value().is_object()) {
      join_changes(here, item.value());
    } else {
      here = item.value();
    }
  }
}

json joined_change(const json& root, const std::vector<int>& picks) {
  const json& options = options_of(root);
  json change = json::object();
  for (std::size_t i = 0; i < picks.size(); ++i) {
    join_changes(change, options.at(i).at("alternatives").at(picks[i]).at("change"));
  }
  return change;
}

}  // namespace

void check_alternatives(const json& root, const std::string& file, const ReadRoot& read,
                        SceneReport& report) {
  const json& options = options_of(root);
  if (options.empty()) return;
  ChangedScenes scenes(root, file, read, report);
  std::set<std::string> option_names;
  for (std::size_t i = 0; i < options.size() && !report.is_full(); ++i) {
    const std::string at = fmt::format("/choose/options/{}", i);
    if (value_at(options[i], "name") != nullptr) {
      check_name(name_of(options[i]), option_names, at, report);
    }
    std::set<std::string> names;
    const json& alternatives = list_in(options[i], "alternatives");
    for (std::size_t k = 0; k < alternatives.size() && !report.is_full(); ++k) {
      const std::string here = fmt::format("{}/alternatives/{}", at, k);
      const std::string name = name_of(alternatives[k]);
      if (value_at(alternatives[k], "name") != nullptr) check_name(name, names, here, report);
      const json* change = value_at(alternatives[k], "change");
      if (change == nullptr || !change->is_object()) continue;
      if (!is_of_the_bag(*change, here + "/change", name, report)) continue;
      (void)scenes.read(here + "/change", fmt::format("alternative \"{}\"", name.substr(0, 60)),
                        json::object());
    }
  }
  check_overlap(options, report);
}

json build_root(const json& root, const std::vector<int>& picks) {
  json built = inherited(root);
  apply_change(built, joined_change(root, picks));
  return built;
}

SourceMap build_places(const json& root, const SourceMap& places, const std::vector<int>& picks) {
  std::vector<std::string> pointers;
  for (std::size_t i = 0; i < picks.size(); ++i) {
    pointers.push_back(fmt::format("/choose/options/{}/alternatives/{}/change", i, picks[i]));
  }
  return places.merged(root, joined_change(root, picks), pointers);
}

}  // namespace totebench::scenes
