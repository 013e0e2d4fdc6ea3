// The report page of a result: what `hang` and `compare` found, put together for viz/report.hpp.
#pragma once

#include <filesystem>
#include <string>

#include "app/compare_study.hpp"
#include "app/hang_study.hpp"
#include "app/text_table.hpp"
#include "viz/report.hpp"
#include "viz/svg_chart.hpp"

namespace totebench {

// `sentence` is the first line of the terminal report, `json` the content of findings.json; the
// picture is read from `folder` when it is there. The result must outlive the page.
[[nodiscard]] Page hang_page(const Scene& scene, const HangResult& result,
                             const MaterialLibrary& library, const std::string& units,
                             const std::string& sentence, const std::string& json,
                             const std::filesystem::path& folder);
[[nodiscard]] Page hang_page(const Scene& scene, const SheetHangResult& result,
                             const MaterialLibrary& library, const std::string& units,
                             const std::string& sentence, const std::string& json,
                             const std::filesystem::path& folder);
[[nodiscard]] Page comparison_page(const Comparison& comparison, const MaterialLibrary& library,
                                   const std::string& units, const std::string& json,
                                   const std::filesystem::path& folder);

// The page of a study of one tote: what `hang` found of it to turn and look at, no sections yet.
[[nodiscard]] Page bag_page(const Scene& scene, const HangResult& hang, const std::string& units,
                            const std::string& sentence);
// The sections every page ends with: layers, and what went in with its sources.
void add_background(Page& page, const Scene& scene, const MaterialLibrary& library,
                    const std::string& units);
// Bars and a table of the shares of known strengths that are used up.
[[nodiscard]] PageSection use_section(const Findings& found, const std::string& units);
// The first row as heading.
[[nodiscard]] PageTable page_table(TextTable rows);

// A tote as the 3-D view shows it: its shape at every load step, colours at full load.
[[nodiscard]] PageModel tote_page_model(const std::string& name, const HangResult& result,
                                        const std::string& units);

// Sag and strap drop at each computed load step: (load in the user's mass unit, lengths).
[[nodiscard]] LineChart load_chart(const PageModel& model, const Scene& scene,
                                   const std::string& units);

}  // namespace totebench
