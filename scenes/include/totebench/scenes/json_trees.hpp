// What scenes have to say for programs, as trees of JSON values rather than as text.
#pragma once

#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "totebench/scenes/diagnostics.hpp"
#include "totebench/scenes/scene.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {

// How a quantity, in SI, is put into words.
using QuantityText = std::function<std::string(double si, Dimension dimension)>;

// What resolved_json() (totebench/scenes/reader.hpp) writes, its quantities as `quantity` has them.
[[nodiscard]] nlohmann::ordered_json resolved_tree(const Scene& scene,
                                                   const QuantityText& quantity = quantity_text);

// An array of {severity, file, line, column, pointer, message, hint}.
[[nodiscard]] nlohmann::ordered_json diagnostics_tree(const std::vector<Diagnostic>& diagnostics);

}  // namespace totebench::scenes
