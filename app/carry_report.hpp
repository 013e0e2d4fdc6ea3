// What `carry` says: a sentence, a table of what was done with the bag, cautions, the same for
// programs and as a page.
#pragma once

#include <string>
#include <vector>

#include "app/carry_study.hpp"
#include "app/text_table.hpp"
#include "viz/report.hpp"

namespace totebench {

[[nodiscard]] std::string carry_sentence(const Scene& scene, const CarryResult& result,
                                         const std::string& units);
[[nodiscard]] TextTable carry_table(const CarryResult& result, const std::string& units);
// What the figures rest on.
[[nodiscard]] std::string carry_basis(const CarryResult& result, const CarryOptions& options);
[[nodiscard]] std::vector<std::string> carry_cautions(const CarryResult& result,
                                                      const std::string& units);

// carry.json (SI) and carry.csv: every event over time.
[[nodiscard]] std::string carry_json(const Scene& scene, const CarryResult& result,
                                     const CarryOptions& options);
[[nodiscard]] std::string carry_csv(const CarryResult& result);
[[nodiscard]] Page carry_page(const Scene& scene, const CarryResult& result,
                              const CarryOptions& options, const MaterialLibrary& library,
                              const std::string& units, const std::string& json);

}  // namespace totebench
