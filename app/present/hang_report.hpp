// What `hang` says on the terminal: one sentence, a table, where to look, cautions.
#pragma once

#include <string>

#include "app/present/text_table.hpp"
#include "totebench/studies/hang.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::app {

[[nodiscard]] std::string hang_report(const scenes::Scene& scene, const studies::HangResult& result,
                                      const std::string& units, const viz::Written& written,
                                      const std::string& folder);
[[nodiscard]] std::string hang_report(const scenes::Scene& scene,
                                      const studies::SheetHangResult& result,
                                      const std::string& units, const viz::Written& written,
                                      const std::string& folder);

// The headlines, each with its likely range and with what the mesh changed, where these are known.
[[nodiscard]] TextTable headline_rows(const studies::HangResult& result, const std::string& units);

// A heading and a row for each stage of solving: its size, its steps, and where its time went.
[[nodiscard]] TextTable stage_rows(const studies::HangEffort& effort);

// What those ranges are and come from, a sentence or two each.
[[nodiscard]] std::vector<std::string> how_well_known(const studies::HangResult& result);

// A heading and a row for each strap seam: its pull, its stitches, its force per length.
[[nodiscard]] TextTable seam_rows(const scenes::Findings& found, const std::string& units);
// What lies in the bag, one row a thing.
[[nodiscard]] TextTable thing_rows(const scenes::Findings& found, const std::string& units);

// A heading and a row for each support of a sheet: its force at the end.
[[nodiscard]] TextTable support_rows(const scenes::Scene& scene,
                                     const studies::SheetHangResult& result,
                                     const std::string& units);

// Where each probe of a sheet goes as the load rises, a table a probe.
[[nodiscard]] std::vector<TextTable> probe_tables(const scenes::Scene& scene,
                                                  const studies::SheetHangResult& result,
                                                  const std::string& units);

// "812 psi (64 % of what it holds)": the stress in the base sheet beside its strength.
[[nodiscard]] std::string sheet_stress_text(const scenes::Findings& found,
                                            const std::string& units);
// "Computed in 7.4 s on a mesh of 2332 triangles."
[[nodiscard]] std::string size_text(int triangles, const studies::HangEffort& effort);
// "with 8 kg", "with 17 lb 10 oz"
[[nodiscard]] std::string load_text(const scenes::Scene& scene, const std::string& units);

}  // namespace totebench::app
