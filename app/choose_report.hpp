// What `choose` says: the sentence first, then the trade-off, the limits, how it was found; the
// same as a page and for programs.
#pragma once

#include <string>
#include <vector>

#include "app/choose_study.hpp"
#include "viz/report.hpp"
#include "viz/results.hpp"

namespace totebench {

// "The lightest of 18 builds within the limits: ..."
[[nodiscard]] std::string choose_sentence(const ChooseResult& result, const std::string& units);

// The builds of the front, and the chosen, the runner-up or the nearest miss with them; the first
// row is the heading. First cells are the chart's labels.
[[nodiscard]] std::vector<std::vector<std::string>> choose_rows(const ChooseResult& result,
                                                                const std::string& units);
// Each limit: what the shown build does, and how many builds of less cost miss it.
[[nodiscard]] std::vector<std::vector<std::string>> limit_rows(const ChooseResult& result,
                                                               const std::string& units);
// How many builds were solved, predicted, left out; a sentence each.
[[nodiscard]] std::vector<std::string> search_lines(const ChooseResult& result);

[[nodiscard]] std::vector<std::string> choose_cautions(const ChooseResult& result,
                                                       const std::string& units);

[[nodiscard]] std::string choose_report(const ChooseResult& result, const std::string& units,
                                        const Written& written, const std::string& folder);

// Cost against bottom sag (choose.svg).
[[nodiscard]] std::string choose_chart_svg(const ChooseResult& result, const std::string& units);

// choose.json, SI; the same whatever the number of threads.
[[nodiscard]] std::string choose_json(const Scene& scene, const ChooseResult& result);

// The shown build as a scene of its own, named after `scene`.
[[nodiscard]] Scene chosen_scene(const Scene& scene, const ChooseResult& result);

// report.html: the choice, then the shown build as `hang` reports one. The result must outlive it.
[[nodiscard]] Page choose_page(const Scene& scene, const ChooseResult& result,
                               const MaterialLibrary& library, const std::string& units,
                               const std::string& json, const std::filesystem::path& folder);

}  // namespace totebench
