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

// A sentence on how far the hardest pulled stitch depends on the give of stitches.
[[nodiscard]] std::string stitch_band_text(const StitchBand& band, const std::string& units);

// The headline lengths, each with its likely range where the scatter was asked for, and with what
// the mesh changed, where there are two.
[[nodiscard]] TextTable length_rows(const HangResult& result, const std::string& units);

// What the likely range is, and what that of the bottom sag comes from; empty without one.
[[nodiscard]] std::string likely_range_text(const HangResult& result);

// A heading and a row for each strap seam: its pull, its stitches, its force per length.
[[nodiscard]] TextTable seam_rows(const Findings& found, const std::string& units);

// "with 8 kg", "with 17.6 lb of loose contents"
[[nodiscard]] std::string load_text(const Scene& scene, const std::string& units);

}  // namespace totebench
