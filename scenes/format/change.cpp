#include "scenes/format/change.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <iterator>
#include <nlohmann/json.hpp>

#include "totebench/scenes/nearest.hpp"

namespace totebench::scenes {
namespace {

using nlohmann::json;

// What makes a scene file that file is not for a change to touch.
constexpr const char* kFixed[] = {"$schema", "schema_version", "kind",   "name",
                                  "note",    "variants",       "choose", "sweep"};

std::vector<std::string> keys_of(const json& object) {
  std::vector<std::string> keys;
  for (const auto& item : object.items()) keys.push_back(item.key());
  return keys;
}

void check_fixed(const json& patch, const std::string& pointer, const std::string& who,
                 SceneReport& report) {
  for (const char* key : kFixed) {
    if (!patch.contains(key)) continue;
    report.error_at_key(child_pointer(pointer, key),
                        fmt::format("{} cannot change \"{}\"", who, key),
                        "what is changed has a name of its own, beside \"change\"");
  }
}

// The entry of a list that "1", "2", ... stands for; the list's size when there is none.
std::size_t entry_of(const std::string& number, const json& list) {
  std::size_t n = 0;
  const auto [end, error] = std::from_chars(number.data(), number.data() + number.size(), n);
  const bool whole = error == std::errc() && end == number.data() + number.size();
  return whole && n >= 1 && n <= list.size() && number[0] != '0' ? n - 1 : list.size();
}

void check_reach(const json& value, const json& patch, const std::string& pointer,
                 SceneReport& report);

void check_entries(const json& list, const json& patch, const std::string& pointer,
                   SceneReport& report) {
  for (const auto& item : patch.items()) {
    const std::size_t i = entry_of(item.key(), list);
    if (i == list.size()) {
      report.error_at_key(
          child_pointer(pointer, item.key()),
          fmt::format("the list has no entry \"{}\"", item.key().substr(0, 60)),
          fmt::format("its entries are numbered from \"1\" to \"{}\"; to replace the whole list "
                      "write a list",
                      list.size()));
    } else if (item.value().is_object()) {
      check_reach(list[i], item.value(), child_pointer(pointer, item.key()), report);
    }
  }
}

// A misspelt key beside null would otherwise change nothing and say nothing.
void check_reach(const json& value, const json& patch, const std::string& pointer,
                 SceneReport& report) {
  for (const auto& item : patch.items()) {
    const bool there = value.is_object() && value.contains(item.key());
    const std::string here = child_pointer(pointer, item.key());
    if (item.value().is_null() && !there) {
      const std::string near = value.is_object() ? nearest(item.key(), keys_of(value)) : "";
      report.error_at_key(
          here, fmt::format("the scene has no \"{}\" here to take out", item.key().substr(0, 60)),
          near.empty() ? "leave it out" : fmt::format("did you mean \"{}\"?", near));
    } else if (item.value().is_object() && there) {
      const json& old = value[item.key()];
      if (old.is_array()) {
        check_entries(old, item.value(), here, report);
      } else {
        check_reach(old, item.value(), here, report);
      }
    }
  }
}

void change_entries(json& list, const json& patch) {
  json kept = json::array();
  for (std::size_t i = 0; i < list.size(); ++i) {
    const auto change = patch.find(std::to_string(i + 1));
    if (change != patch.end()) {
      if (change->is_null()) continue;
      apply_change(list[i], *change);
    }
    kept.push_back(std::move(list[i]));
  }
  list = std::move(kept);
}

}  // namespace

void apply_change(json& target, const json& patch) {
  if (!patch.is_object()) {
    target = patch;
    return;
  }
  if (target.is_array()) return change_entries(target, patch);
  if (!target.is_object()) target = json::object();
  for (const auto& item : patch.items()) {
    if (item.value().is_null()) {
      target.erase(item.key());
    } else {
      apply_change(target[item.key()], item.value());
    }
  }
}

bool is_fixed(const std::string& key) {
  return std::find(std::begin(kFixed), std::end(kFixed), key) != std::end(kFixed);
}

json inherited(const json& root) {
  json base = root;
  for (const char* key : {"variants", "choose", "sweep", "expect"}) base.erase(key);
  return base;
}

ChangedScenes::ChangedScenes(const json& root, const std::string& file, const ReadRoot& read,
                             SceneReport& report)
    : root_(root),
      file_(file),
      read_(read),
      report_(report),
      base_(std::make_unique<json>(inherited(root))),
      known_(SceneReport(report).take()) {}

ChangedScenes::~ChangedScenes() = default;

bool ChangedScenes::changes_nothing(const json& patch) const {
  json merged = *base_;
  apply_change(merged, patch);
  return merged == *base_;
}

Scene ChangedScenes::read(const std::string& pointer, const std::string& who, const json& heading) {
  const json& patch = root_.at(json::json_pointer(pointer));
  check_fixed(patch, pointer, who, report_);
  check_reach(*base_, patch, pointer, report_);
  json merged = *base_;
  apply_change(merged, patch);
  merged.update(heading);
  SceneReport own(file_, report_.places().merged(root_, patch, {pointer}));
  Scene scene = read_(merged, own);
  add_new(own, who, [&](const std::string& place) { return pointer + place; });
  return scene;
}

Scene ChangedScenes::read_with(const json& changed,
                               const std::map<std::string, std::string>& stands_at,
                               const std::string& who) {
  SourceMap places = report_.places();
  for (const auto& [target, source] : stands_at) places.put(target, source);
  SceneReport own(file_, std::move(places));
  Scene scene = read_(changed, own);
  add_new(own, who, [&](const std::string& place) {
    for (const auto& [target, source] : stands_at) {
      if (place.compare(0, target.size(), target) == 0) return source + place.substr(target.size());
    }
    return place;
  });
  return scene;
}

// What the scene itself was told already is not told again.
void ChangedScenes::add_new(SceneReport& own, const std::string& who,
                            const std::function<std::string(const std::string&)>& place_of) {
  for (Diagnostic& d : own.take()) {
    const bool known = std::any_of(known_.begin(), known_.end(), [&](const Diagnostic& k) {
      return k.line == d.line && k.column == d.column && k.message == d.message;
    });
    if (known) continue;
    const std::string in_file = place_of(d.pointer);
    if (report_.places().contains(in_file)) d.pointer = in_file;
    d.message = fmt::format("{}: {}", who, d.message);
    report_.add(std::move(d));
  }
}

}  // namespace totebench::scenes
