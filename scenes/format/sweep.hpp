// The bags of a scene's "sweep": each is the scene's own text with a value of every factor put in,
// read and checked like any scene.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "scenes/format/change.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench::scenes {

// What is wrong with a factor, or with one of its values in the scene's place, is reported where it
// stands; nothing is returned then, nor for a text without a sweep. Factors that are none at all
// are passed over: the key table has reported them. What is returned refers to nothing of these,
// but to what `read` does.
[[nodiscard]] ReadSweep read_sweep(const nlohmann::json& root, const std::string& file,
                                   const ReadRoot& read, SceneReport& report);

}  // namespace totebench::scenes
