// The alternatives of a scene's "choose": each is read and checked alone, made part of the scene;
// any one of each option together give a build.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "scenes/format/change.hpp"

namespace totebench::scenes {

// What is wrong with single alternatives is reported at their places in the file; so are options
// that change the same key, of which the later would undo the earlier. Entries that are no
// alternatives at all are passed over: the key table has reported them.
void check_alternatives(const nlohmann::json& root, const std::string& file, const ReadRoot& read,
                        SceneReport& report);

// The text of a build: of each option the alternative with this index. For a root that
// check_alternatives had nothing against.
[[nodiscard]] std::string build_text(const nlohmann::json& root, const std::vector<int>& picks);

}  // namespace totebench::scenes
