// What a finished piece of work belongs to.
#pragma once

#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"
#include "totebench/studies/rate_scatter.hpp"

namespace totebench::studies {

// Sixteen hexadecimal digits that change with the scene and with the data it draws on (FNV-1a).
[[nodiscard]] std::string work_key(const scenes::Scene& scene,
                                   const std::vector<ScatterInput>& inputs);

}  // namespace totebench::studies
