// What scenes have to say for programs, as trees of JSON values rather than as text.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "totebench/scenes/diagnostics.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// What resolved_json() (totebench/scenes/reader.hpp) writes.
[[nodiscard]] nlohmann::ordered_json resolved_tree(const Scene& scene);

// An array of {severity, file, line, column, pointer, message, hint}.
[[nodiscard]] nlohmann::ordered_json diagnostics_tree(const std::vector<Diagnostic>& diagnostics);

}  // namespace totebench::scenes
