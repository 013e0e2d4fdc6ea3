// The parts of what `rate` says, for its report on the terminal and its page.
#pragma once

#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/studies/rate.hpp"

namespace totebench::app {

// "strap_fastening" (Utilisation::mode) in words.
[[nodiscard]] std::string mode_words(const std::string& mode);

// A rated mass, never rounded up: whole pounds, or the half kilos it comes in.
[[nodiscard]] std::string rated_text(double kg, const std::string& units);

[[nodiscard]] std::string rate_sentence(const scenes::Scene& scene,
                                        const studies::RateResult& result,
                                        const std::string& units);
// What is used up at the set load.
[[nodiscard]] TextTable modes_table(const studies::RateResult& result, const std::string& units);
// Loads at first failure with their bands; and what stands behind these, a sentence each.
[[nodiscard]] TextTable failures_table(const studies::Rating& r, const std::string& units);
[[nodiscard]] std::vector<std::string> spread_lines(const studies::Rating& r);
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
