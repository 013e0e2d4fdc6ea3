// The alternatives of a scene's "choose": each is read and checked alone, made part of the scene;
// any one of each option together give a build.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "scenes/format/change.hpp"
#include "scenes/format/source_map.hpp"

namespace totebench::scenes {

// What is wrong with single alternatives is reported at their places in the file; so are options
// that change the same key, of which the later would undo the earlier. Entries that are no
// alternatives at all are passed over: the key table has reported them.
void check_alternatives(const nlohmann::json& root, const std::string& file, const ReadRoot& read,
                        SceneReport& report);

// A build as a scene of its own, of each option the alternative with this index, and where each
// part of it stands in the file. For a root, with its places, that check_alternatives had nothing
// against.
[[nodiscard]] nlohmann::json build_root(const nlohmann::json& root, const std::vector<int>& picks);
[[nodiscard]] SourceMap build_places(const nlohmann::json& root, const SourceMap& places,
                                     const std::vector<int>& picks);

}  // namespace totebench::scenes
