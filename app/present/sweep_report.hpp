// What `sweep` says: the sentence first, then the bags, what each factor does, where to look; the
// same as a page, as a chart, and for programs.
#pragma once

#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/studies/sweep.hpp"
#include "totebench/viz/report.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::app {

[[nodiscard]] std::string sweep_sentence(const scenes::Scene& scene,
                                         const studies::SweepResult& result,
                                         const std::string& units);
// A heading and a row a bag, at most `most` of them: the unbeaten ones and then the first.
[[nodiscard]] TextTable sweep_rows(const studies::SweepResult& result, const std::string& units,
                                   std::size_t most);
// A heading and a row a factor: between which values of it the figure that goes up in the picture
// is least and largest, each the mean of the bags at rest that have it; those that do most first.
// Of a range the lower, middle and upper third. Without rows where no figure is known.
[[nodiscard]] TextTable effect_rows(const studies::SweepResult& result, const std::string& units);

[[nodiscard]] std::vector<std::string> sweep_cautions(const studies::SweepResult& result);

[[nodiscard]] std::string sweep_report(const scenes::Scene& scene,
                                       const studies::SweepResult& result, const std::string& units,
                                       const viz::Written& written, const std::string& folder);

// The trade-off (sweep.svg); empty where no bag came to rest.
[[nodiscard]] std::string sweep_chart_svg(const studies::SweepResult& result,
                                          const std::string& units);

// sweep.json, and the same bags as a table for spreadsheets (sweep.csv, RFC 4180), both in SI; the
// same whatever the number of threads and processes.
[[nodiscard]] std::string sweep_json(const scenes::Scene& scene,
                                     const studies::SweepResult& result);
[[nodiscard]] std::string sweep_csv(const studies::SweepResult& result);

[[nodiscard]] viz::Page sweep_page(const scenes::Scene& scene, const studies::SweepResult& result,
                                   const std::string& units, const std::string& json);

}  // namespace totebench::app
