#include "scenes/format/variants.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <set>

namespace totebench::scenes {
namespace {

using nlohmann::json;

bool is_variant(const json& entry) {
  return entry.is_object() && entry.contains("name") && entry["name"].is_string() &&
         entry.contains("change") && entry["change"].is_object();
}

class Variants {
 public:
  Variants(const json& root, const std::string& file, const ReadRoot& read, SceneReport& report)
      : report_(report), scenes_(root, file, read, report) {
    names_.insert(root.value("name", json("")).dump());
  }

  // `pointer` leads to the variant in the file.
  Scene scene_of(const json& entry, const std::string& pointer) {
    const std::string at = pointer + "/change";
    const auto name = entry["name"].get<std::string>();
    const std::string shown = name.substr(0, 60);
    if (name.empty()) {
      report_.error(pointer + "/name", "the name is empty", "name what is different");
    } else if (!names_.insert(entry["name"].dump()).second) {
      report_.error(pointer + "/name", fmt::format("the name \"{}\" is taken already", shown),
                    "each variant needs a name of its own, other than the scene's");
    }
    if (scenes_.changes_nothing(entry["change"])) {
      report_.warning(at, fmt::format("variant \"{}\" changes nothing", shown));
    }
    const json note = entry.contains("note") ? entry["note"] : json("");
    return scenes_.read(at, fmt::format("variant \"{}\"", shown), {{"name", name}, {"note", note}});
  }

 private:
  SceneReport& report_;
  ChangedScenes scenes_;
  std::set<std::string> names_;
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

}  // namespace totebench::scenes
