// The report page of a result: what `hang` and `compare` found, put together for
// totebench/viz/report.hpp.
#pragma once

#include <filesystem>
#include <string>

#include "app/present/text_table.hpp"
#include "totebench/studies/compare.hpp"
#include "totebench/studies/hang.hpp"
#include "totebench/viz/report.hpp"
#include "totebench/viz/results.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::app {

// `sentence` is the first line of the terminal report, `json` the content of findings.json,
// `picture_png` the picture, "" where there is none. The result must outlive the page.
[[nodiscard]] viz::Page hang_page(const scenes::Scene& scene, const studies::HangResult& result,
                                  const materials::MaterialLibrary& library,
                                  const std::string& units, const std::string& sentence,
                                  const std::string& json, const viz::Written& drawn);
[[nodiscard]] viz::Page hang_page(const scenes::Scene& scene,
                                  const studies::SheetHangResult& result,
                                  const materials::MaterialLibrary& library,
                                  const std::string& units, const std::string& sentence,
                                  const std::string& json, const viz::Written& drawn);
[[nodiscard]] viz::Page comparison_page(const studies::Comparison& comparison,
                                        const materials::MaterialLibrary& library,
                                        const std::string& units, const std::string& json,
                                        const std::string& picture_png);

// The page of a study of one tote: what `hang` found of it to turn and look at, no sections yet.
[[nodiscard]] viz::Page bag_page(const scenes::Scene& scene, const studies::HangResult& hang,
                                 const std::string& units, const std::string& sentence);
// The sections every page ends with: layers, and what went in with its sources.
void add_background(viz::Page& page, const scenes::Scene& scene,
                    const materials::MaterialLibrary& library, const std::string& units);
// Bars and a table of the shares of known strengths that are used.
[[nodiscard]] viz::PageSection use_section(const scenes::Findings& found, const std::string& units);
// The first row as heading.
[[nodiscard]] viz::PageTable page_table(TextTable rows);

// A tote as the 3-D view shows it: its shape at every load step, colours at full load.
[[nodiscard]] viz::PageModel tote_page_model(const std::string& name,
                                             const studies::HangResult& result,
                                             const std::string& units);

// Sag and strap drop at each computed load step: (load in the user's mass unit, lengths).
[[nodiscard]] viz::LineChart load_chart(const viz::PageModel& model, const scenes::Scene& scene,
                                        const std::string& units);

}  // namespace totebench::app
