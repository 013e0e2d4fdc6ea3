// The factors of a sweep: the key that each names, and the values that it has.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "scenes/format/change.hpp"
#include "scenes/format/keys/keys.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench::scenes {

// One value of a factor, and where it stands in the file.
struct Level {
  std::string json;  // as the scene's text has it
  SweptValue told;
  std::string at;
};

struct PlannedFactor {
  SweptFactor told;
  const Key* key = nullptr;
  std::string target;         // pointer into the scene's text
  std::vector<Level> levels;  // of a range its two ends
  bool range = false;
  std::string unit;  // in which values of the range are told
};

// Whether the values of a key are quantities with a unit.
[[nodiscard]] bool takes_quantities(const Key& key);

// Those of a list of factors; `latin`: ranges have a use. Each value is read and checked in the
// place of the scene's own. What is wrong is reported where it stands, and `good` is false then;
// entries that are no factors at all are passed over.
[[nodiscard]] std::vector<PlannedFactor> read_factors(const nlohmann::json& list, bool latin,
                                                      ChangedScenes& scenes, SceneReport& report,
                                                      bool& good);

}  // namespace totebench::scenes
