// The parts of what `rate` says, for its report on the terminal and its page.
#pragma once

#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/studies/rate.hpp"

namespace totebench::app {

// "strap_fastening" (Utilisation::mode) in words.
[[nodiscard]] std::string mode_words(const std::string& mode);

// "... is not rated: ..." with what is known instead. `result` has none and was not stopped.
[[nodiscard]] std::string unrated_sentence(const scenes::Scene& scene,
                                           const studies::RateResult& result,
                                           const std::string& units);

// A rated mass, never rounded up: whole pounds (ounces below 4 lb), or the half kilos it comes in.
[[nodiscard]] std::string rated_text(double kg, const std::string& units);

[[nodiscard]] std::string rate_sentence(const scenes::Scene& scene,
                                        const studies::RateResult& result,
                                        const std::string& units);
// Several rated bags side by side: the heading, and a bag's row.
inline constexpr const char* kStoppedCell = "stopped on request";
[[nodiscard]] TextTable rated_head();
[[nodiscard]] std::vector<std::string> rated_row(const scenes::Scene& scene,
                                                 const studies::RateResult& result,
                                                 const std::string& units);
// What is used of each strength at the set load.
[[nodiscard]] TextTable modes_table(const studies::RateResult& result, const std::string& units);
// Loads at first failure with their bands; and what stands behind these, a sentence each.
[[nodiscard]] TextTable failures_table(const studies::Rating& r, const std::string& units);
[[nodiscard]] std::vector<std::string> spread_lines(const studies::Rating& r,
                                                    const std::string& units);
// From there to the rated mass, and why that factor.
[[nodiscard]] std::vector<std::string> factor_lines(const studies::Rating& r,
                                                    const std::string& units);
// What would raise it; empty where nothing was tried.
[[nodiscard]] std::string advice_text(const studies::Rating& r, const std::string& units);
[[nodiscard]] TextTable changes_table(const studies::Rating& r, const std::string& units);
// What hand, shoulder and back say to it.
[[nodiscard]] std::vector<std::string> comfort_lines(const scenes::Scene& scene,
                                                     const studies::RateResult& result,
                                                     const std::string& units);

}  // namespace totebench::app
