// What `strap-ends` says: a sentence, a table, pictures to scale, cautions, and the same for
// programs.
#pragma once

#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/studies/strap_ends.hpp"
#include "totebench/viz/report.hpp"
#include "totebench/viz/strap_end_plan.hpp"

namespace totebench::app {

[[nodiscard]] std::string strap_ends_sentence(const scenes::Scene& scene,
                                              const studies::StrapEnds& result,
                                              const std::string& units);
[[nodiscard]] TextTable strap_ends_table(const studies::StrapEnds& result,
                                         const std::string& units);
// What the table rests on.
[[nodiscard]] std::vector<std::string> strap_ends_basis(const materials::MaterialLibrary& library);
[[nodiscard]] std::vector<std::string> strap_ends_cautions();
[[nodiscard]] std::vector<viz::StrapEndPlan> strap_end_plans(const scenes::Scene& scene,
                                                             const studies::StrapEnds& result,
                                                             const std::string& units);
// strap_ends.json, SI.
[[nodiscard]] std::string strap_ends_json(const scenes::Scene& scene,
                                          const studies::StrapEnds& result);
[[nodiscard]] viz::Page strap_ends_page(const scenes::Scene& scene,
                                        const studies::StrapEnds& result,
                                        const materials::MaterialLibrary& library,
                                        const std::string& units, const std::string& json);

}  // namespace totebench::app
