// What `carry` says: a sentence, a table of what was done with the bag, cautions, the same for
// programs and as a page.
#pragma once

#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/studies/carry.hpp"
#include "totebench/viz/report.hpp"

namespace totebench::app {

[[nodiscard]] std::string carry_sentence(const scenes::Scene& scene,
                                         const studies::CarryResult& result,
                                         const std::string& units);
[[nodiscard]] TextTable carry_table(const studies::CarryResult& result, const std::string& units);
// What the figures rest on.
[[nodiscard]] std::string carry_basis(const studies::CarryResult& result,
                                      const studies::CarryOptions& options);
[[nodiscard]] std::vector<std::string> carry_cautions(const studies::CarryResult& result,
                                                      const std::string& units);

// carry.json (SI) and carry.csv: every event over time.
[[nodiscard]] std::string carry_json(const scenes::Scene& scene, const studies::CarryResult& result,
                                     const studies::CarryOptions& options);
[[nodiscard]] std::string carry_csv(const studies::CarryResult& result);
[[nodiscard]] viz::Page carry_page(const scenes::Scene& scene, const studies::CarryResult& result,
                                   const studies::CarryOptions& options,
                                   const materials::MaterialLibrary& library,
                                   const std::string& units, const std::string& json);

}  // namespace totebench::app
