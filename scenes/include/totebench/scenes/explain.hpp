// What a key of the scene file means, told from the key tables.
#pragma once

#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

struct Explanation {
  bool found = false;
  std::string text;                  // ready to print; with suggestions when not found
  std::vector<std::string> nearest;  // dotted names, when not found
};

// "" lists every key; "bag.width", "/bag/width" or just "width" explains one (all of that name).
[[nodiscard]] Explanation explain(const std::string& key);

// The same as JSON: an array of {key, type, unit, presence, default, source, usual, possible,
// meaning, choices, choice_meanings, only_when}. Empty array when the key is unknown.
[[nodiscard]] std::string explain_json(const std::string& key);

// One sentence that says what the scene is, lengths in the scene's own units.
[[nodiscard]] std::string summary(const Scene& scene, const materials::MaterialLibrary& library,
                                  const std::string& units);

}  // namespace totebench::scenes
