// Variants of a scene: the same text with a merge patch applied, read and checked like any scene.
//
// RFC 7396: a key of the patch replaces that of the scene, objects are merged key by key, lists are
// replaced as a whole, null takes a key out. The scene's "expect" is not handed down, since it was
// written for the scene itself.
#pragma once

#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "scenes/scene.hpp"
#include "scenes/scene_report.hpp"

namespace totebench {

inline constexpr std::size_t kMostVariants = 11;

// Reads and checks one complete scene text; what is wrong goes into the report.
using ReadRoot = std::function<Scene(const nlohmann::json& root, SceneReport& report)>;

// All variants of `root`, in the order of the text. What is wrong only with a variant is added to
// `report`, each at its place in the file. Entries that are no variants at all are passed over: the
// key table has reported them.
[[nodiscard]] std::vector<Scene> read_variants(const nlohmann::json& root, const std::string& file,
                                               const ReadRoot& read, SceneReport& report);

}  // namespace totebench
