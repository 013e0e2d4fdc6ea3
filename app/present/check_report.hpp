// What `check` tells of one scene, for programs.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "totebench/scenes/reader.hpp"

namespace totebench::app {

// {file, good, summary, resolved, diagnostics}; a scene with faults has neither summary nor
// resolved. `units` of the summary: in, cm, si, or "" for the scene's own.
[[nodiscard]] nlohmann::ordered_json check_tree(const std::string& file,
                                                const scenes::ReadResult& read,
                                                const materials::MaterialLibrary& library,
                                                const std::string& units);

}  // namespace totebench::app
