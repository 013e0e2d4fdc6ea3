// What there is to cut: as a table, and as cutlist.json with every outline, in SI, for programs.
#pragma once

#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/materials/library.hpp"
#include "totebench/scenes/cutlist.hpp"

namespace totebench::app {

[[nodiscard]] std::string cutlist_json(const scenes::Scene& scene,
                                       const std::vector<scenes::CutPiece>& pieces,
                                       const materials::MaterialLibrary& library);
[[nodiscard]] TextTable cutlist_table(const std::vector<scenes::CutPiece>& pieces,
                                      const materials::MaterialLibrary& library,
                                      const std::string& units);

// What to buy of each material, by width.
[[nodiscard]] TextTable to_buy_table(const std::vector<scenes::CutPiece>& pieces,
                                     const materials::MaterialLibrary& library,
                                     const std::string& units);

}  // namespace totebench::app
