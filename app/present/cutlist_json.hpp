// cutlist.json: the sizes to cut and every outline, in SI, for programs.
#pragma once

#include <string>
#include <vector>

#include "totebench/scenes/cutlist.hpp"

namespace totebench::app {

[[nodiscard]] std::string cutlist_json(const scenes::Scene& scene,
                                       const std::vector<scenes::CutPiece>& pieces);

}  // namespace totebench::app
