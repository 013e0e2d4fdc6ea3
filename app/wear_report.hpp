// What `wear` says: a sentence, what a carry test comes to, tables, cautions, the same for programs
// and as a page.
#pragma once

#include <string>
#include <vector>

#include "app/text_table.hpp"
#include "app/wear_study.hpp"
#include "viz/report.hpp"

namespace totebench {

[[nodiscard]] std::string wear_sentence(const Scene& scene, const WearResult& result,
                                        const std::string& units);
// Empty where the scene asks for no carry test.
[[nodiscard]] std::string verdict_text(const Scene& scene, const WearResult& result,
                                       const std::string& units);
// What wears through, and under what.
[[nodiscard]] TextTable wear_table(const WearResult& result);
[[nodiscard]] std::string each_use_text(const Scene& scene, const WearResult& result);
// The shape after a day, a month, a year; and what a limp stabilizer would make of the new bag,
// empty without any.
[[nodiscard]] TextTable aged_table(const WearResult& result, const std::string& units);
[[nodiscard]] std::string softened_text(const WearResult& result, const std::string& units);
[[nodiscard]] std::vector<std::string> wear_cautions(const WearResult& result);

// wear.json, SI.
[[nodiscard]] std::string wear_json(const Scene& scene, const WearResult& result);
[[nodiscard]] Page wear_page(const Scene& scene, const WearResult& result,
                             const MaterialLibrary& library, const std::string& units,
                             const std::string& json);

}  // namespace totebench
