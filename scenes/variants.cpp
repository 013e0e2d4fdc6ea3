#include "scenes/variants.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "scenes/nearest.hpp"

namespace totebench {
namespace {

using nlohmann::json;

// What makes a scene file that file is not for a variant to change.
constexpr const char* kFixed[] = {"$schema", "schema_version", "kind", "name", "note", "variants"};

std::string child(const std::string& pointer, const std::string& key) {
  return pointer + "/" + pointer_token(key);
}

std::vector<std::string> keys_of(const json& object) {
  std::vector<std::string> keys;
  for (const auto& item : object.items()) keys.push_back(item.key());
  return keys;
}

void check_fixed(const json& patch, const std::string& pointer, SceneReport& report) {
  for (const char* key : kFixed) {
    if (!patch.contains(key)) continue;
    report.error_at_key(child(pointer, key), fmt::format("a variant cannot change \"{}\"", key),
                        "a variant has a name and a note of its own, beside \"change\"");
  }
}

// A misspelt key beside null would otherwise change nothing and say nothing.
void check_taken_out(const json& value, const json& patch, const std::string& pointer,
                     SceneReport& report) {
  for (const auto& item : patch.items()) {
    const bool there = value.is_object() && value.contains(item.key());
    if (item.value().is_null() && !there) {
      const std::string near = value.is_object() ? nearest(item.key(), keys_of(value)) : "";
      report.error_at_key(
          child(pointer, item.key()),
          fmt::format("the scene has no \"{}\" here to take out", item.key().substr(0, 60)),
          near.empty() ? "leave it out" : fmt::format("did you mean \"{}\"?", near));
    } else if (item.value().is_object() && there) {
      check_taken_out(value[item.key()], item.value(), child(pointer, item.key()), report);
    }
  }
}

bool is_variant(const json& entry) {
  return entry.is_object() && entry.contains("name") && entry["name"].is_string() &&
         entry.contains("change") && entry["change"].is_object();
}

class Variants {
 public:
  Variants(const json& root, const std::string& file, const ReadRoot& read, SceneReport& report)
      : root_(root), file_(file), read_(read), report_(report) {
    base_ = root;
    base_.erase("variants");
    base_.erase("expect");
    names_.insert(root.value("name", json("")).dump());
    known_ = SceneReport(report).take();
  }

  // `pointer` leads to the variant in the file.
  Scene scene_of(const json& entry, const std::string& pointer) {
    const json& patch = entry["change"];
    const std::string at = pointer + "/change";
    check_fixed(patch, at, report_);
    check_taken_out(base_, patch, at, report_);
    const auto name = entry["name"].get<std::string>();
    if (name.empty()) {
      report_.error(pointer + "/name", "the name is empty", "name what is different");
    } else if (!names_.insert(entry["name"].dump()).second) {
      report_.error(pointer + "/name",
                    fmt::format("the name \"{}\" is taken already", name.substr(0, 60)),
                    "each variant needs a name of its own, other than the scene's");
    }
    json merged = base_;
    merged.merge_patch(patch);
    if (merged == base_) {
      report_.warning(at, fmt::format("variant \"{}\" changes nothing", name.substr(0, 60)));
    }
    merged["name"] = name;
    merged["note"] = entry.contains("note") ? entry["note"] : json("");
    SceneReport own(file_, report_.places().merged(root_, at));
    Scene scene = read_(merged, own);
    add_new(own, at, name);
    return scene;
  }

 private:
  // What the scene itself was told already is not told again.
  void add_new(SceneReport& own, const std::string& at, const std::string& name) {
    for (Diagnostic& d : own.take()) {
      const bool known = std::any_of(known_.begin(), known_.end(), [&](const Diagnostic& k) {
        return k.line == d.line && k.column == d.column && k.message == d.message;
      });
      if (known) continue;
      const std::string in_patch = at + d.pointer;
      if (report_.places().contains(in_patch)) d.pointer = in_patch;
      d.message = fmt::format("variant \"{}\": {}", name.substr(0, 60), d.message);
      report_.add(std::move(d));
    }
  }

  const json& root_;
  const std::string& file_;
  const ReadRoot& read_;
  SceneReport& report_;
  json base_;
  std::set<std::string> names_;
  std::vector<Diagnostic> known_;
};

}  // namespace

std::vector<Scene> read_variants(const json& root, const std::string& file, const ReadRoot& read,
                                 SceneReport& report) {
  std::vector<Scene> scenes;
  const auto list = root.find("variants");
  if (list == root.end() || !list->is_array()) return scenes;
  if (list->size() > kMostVariants) {
    report.error("/variants",
                 fmt::format("{} variants are more than fit side by side", list->size()),
                 fmt::format("{} are possible beside the scene itself", kMostVariants));
    return scenes;
  }
  Variants variants(root, file, read, report);
  for (std::size_t i = 0; i < list->size(); ++i) {
    if (!is_variant((*list)[i])) continue;
    scenes.push_back(variants.scene_of((*list)[i], "/variants/" + std::to_string(i)));
  }
  return scenes;
}

}  // namespace totebench
