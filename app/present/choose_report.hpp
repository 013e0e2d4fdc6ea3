// What `choose` says: the sentence first, then the trade-off, the limits, how it was found; the
// same as a page and for programs.
#pragma once

#include <string>
#include <vector>

#include "totebench/studies/choose.hpp"
#include "totebench/viz/report.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::app {

// "The lightest of 18 builds within the limits: ..."
[[nodiscard]] std::string choose_sentence(const studies::ChooseResult& result,
                                          const std::string& units);

// Every build that was solved, those of the front first; the first row is the heading. First cells
// begin with the chart's labels.
[[nodiscard]] std::vector<std::vector<std::string>> choose_rows(const studies::ChooseResult& result,
                                                                const std::string& units);
// Each limit: what the shown build does, and how many builds of less cost miss it.
[[nodiscard]] std::vector<std::vector<std::string>> limit_rows(const studies::ChooseResult& result,
                                                               const std::string& units);
// How many builds were solved, predicted, left out; a sentence each.
[[nodiscard]] std::vector<std::string> search_lines(const studies::ChooseResult& result);

[[nodiscard]] std::vector<std::string> choose_cautions(const studies::ChooseResult& result,
                                                       const std::string& units);

[[nodiscard]] std::string choose_report(const studies::ChooseResult& result,
                                        const std::string& units, const viz::Written& written,
                                        const std::string& folder);

// Cost against bottom sag (choose.svg).
[[nodiscard]] std::string choose_chart_svg(const studies::ChooseResult& result,
                                           const std::string& units);

// choose.json, SI; the same whatever the number of threads.
[[nodiscard]] std::string choose_json(const scenes::Scene& scene,
                                      const studies::ChooseResult& result);

// The shown build as a scene of its own, named after `scene`.
[[nodiscard]] scenes::Scene chosen_scene(const scenes::Scene& scene,
                                         const studies::ChooseResult& result);

// report.html: the choice, then the shown build as `hang` reports one. The result must outlive it.
[[nodiscard]] viz::Page choose_page(const scenes::Scene& scene, const studies::ChooseResult& result,
                                    const materials::MaterialLibrary& library,
                                    const std::string& units, const std::string& json);

}  // namespace totebench::app
