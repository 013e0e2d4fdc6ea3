// Variants of a scene: the same text with a change made (change.hpp), read and checked like any
// scene. The scene's "expect" is not handed down, since it was written for the scene itself.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "scenes/format/change.hpp"

namespace totebench::scenes {

inline constexpr std::size_t kMostVariants = 11;

// All variants of `root`, in the order of the text. What is wrong only with a variant is added to
// `report`, each at its place in the file. Entries that are no variants at all are passed over: the
// key table has reported them.
[[nodiscard]] std::vector<Scene> read_variants(const nlohmann::json& root, const std::string& file,
                                               const ReadRoot& read, SceneReport& report);

}  // namespace totebench::scenes
