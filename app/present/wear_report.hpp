// What `wear` says: a sentence, what a carry test comes to, tables, cautions, the same for programs
// and as a page.
#pragma once

#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/studies/wear.hpp"
#include "totebench/viz/report.hpp"

namespace totebench::app {

[[nodiscard]] std::string wear_sentence(const scenes::Scene& scene,
                                        const studies::WearResult& result,
                                        const std::string& units);
// Empty where the scene asks for no carry test.
[[nodiscard]] std::string verdict_text(const scenes::Scene& scene,
                                       const studies::WearResult& result, const std::string& units);
// "12 000": two digits are more than the data bear; and from the weak end of the data to the
// strong.
[[nodiscard]] std::string uses_text(double uses);
[[nodiscard]] std::string uses_band_text(const studies::WearMode& mode);
// What wears through, and under what.
[[nodiscard]] TextTable wear_table(const studies::WearResult& result, const std::string& units);
[[nodiscard]] std::string each_use_text(const scenes::Scene& scene,
                                        const studies::WearResult& result);
// The shape after a day, a month, a year; and what a limp stabilizer would make of the new bag,
// empty without any.
[[nodiscard]] TextTable aged_table(const studies::WearResult& result, const std::string& units);
[[nodiscard]] std::string softened_text(const studies::WearResult& result,
                                        const std::string& units);
[[nodiscard]] std::vector<std::string> wear_cautions(const studies::WearResult& result);

// wear.json, SI.
[[nodiscard]] std::string wear_json(const scenes::Scene& scene, const studies::WearResult& result);
[[nodiscard]] viz::Page wear_page(const scenes::Scene& scene, const studies::WearResult& result,
                                  const materials::MaterialLibrary& library,
                                  const std::string& units, const std::string& json);

}  // namespace totebench::app
