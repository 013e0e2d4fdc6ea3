// What `hang` says on the terminal: one sentence, a table, where to look, cautions.
#pragma once

#include <string>

#include "app/hang_study.hpp"
#include "app/text_table.hpp"

namespace totebench {

[[nodiscard]] std::string hang_report(const Scene& scene, const HangResult& result,
                                      const std::string& units, const Written& written,
                                      const std::string& folder);
[[nodiscard]] std::string hang_report(const Scene& scene, const SheetHangResult& result,
                                      const std::string& units, const Written& written,
                                      const std::string& folder);

// The headlines, each with its likely range and with what the mesh changed, where these are known.
[[nodiscard]] TextTable headline_rows(const HangResult& result, const std::string& units);

// What those ranges are and come from, a sentence or two each.
[[nodiscard]] std::vector<std::string> how_well_known(const HangResult& result);

// A heading and a row for each strap seam: its pull, its stitches, its force per length.
[[nodiscard]] TextTable seam_rows(const Findings& found, const std::string& units);

// "with 8 kg", "with 17.6 lb of loose contents"
[[nodiscard]] std::string load_text(const Scene& scene, const std::string& units);

}  // namespace totebench
