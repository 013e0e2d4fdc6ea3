// A change of a scene: a JSON merge patch (RFC 7396) on the scene file's own keys. A key of the
// patch replaces that of the scene, objects are merged key by key, lists are replaced as a whole,
// null takes a key out.
//
// One thing goes beyond the RFC: an object in place of a list changes the entries it numbers, from
// "1", each like a member of an object; null takes an entry out. Numbers are those of the list as
// it stands in the scene. (By the RFC the object would replace the list, which no scene can use.)
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "scenes/format/scene_report.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

void apply_change(nlohmann::json& target, const nlohmann::json& patch);

// Reads and checks one complete scene text; what is wrong goes into the report.
using ReadRoot = std::function<Scene(const nlohmann::json& root, SceneReport& report)>;

// Scenes made from one text by changes that stand in it.
class ChangedScenes {
 public:
  // All must outlive this. What `report` holds by now is told of no changed scene again.
  ChangedScenes(const nlohmann::json& root, const std::string& file, const ReadRoot& read,
                SceneReport& report);
  ~ChangedScenes();
  ChangedScenes(const ChangedScenes&) = delete;
  ChangedScenes& operator=(const ChangedScenes&) = delete;

  // The scene with the change at `pointer` made; `heading` holds keys that go over its own after
  // that (name, note). What is wrong with it alone is reported at its place in the change, each
  // message begun with `who` ("variant \"x\"").
  Scene read(const std::string& pointer, const std::string& who, const nlohmann::json& heading);

  // The scene whose text is `changed`, which is base() with single values put in. `stands_at` says
  // of each where it was put and where it stands in the file: pointers, of which none leads below
  // another. What is wrong with it alone is reported there.
  Scene read_with(const nlohmann::json& changed,
                  const std::map<std::string, std::string>& stands_at, const std::string& who);

  [[nodiscard]] const nlohmann::json& base() const { return *base_; }  // see inherited()
  [[nodiscard]] bool changes_nothing(const nlohmann::json& patch) const;

 private:
  // `place_of` turns a pointer into the changed text into one into the file.
  void add_new(SceneReport& own, const std::string& who,
               const std::function<std::string(const std::string&)>& place_of);

  const nlohmann::json& root_;
  const std::string& file_;
  const ReadRoot& read_;
  SceneReport& report_;
  const std::unique_ptr<nlohmann::json> base_;
  std::vector<Diagnostic> known_;
};

// What makes a scene file that file (its name, its variants, ...) is not for a change to touch.
[[nodiscard]] bool is_fixed(const std::string& key);

// The text's own keys, without what a changed scene does not inherit: its variants, its choice, its
// sweep and its expectations, which were written for the scene itself.
[[nodiscard]] nlohmann::json inherited(const nlohmann::json& root);

}  // namespace totebench::scenes
