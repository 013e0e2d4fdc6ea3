// What `carry` says: a sentence, a table of what was done with the bag, cautions, the same for
// programs and as a page.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/studies/carry.hpp"
#include "totebench/viz/report.hpp"

namespace totebench::app {

[[nodiscard]] std::string carry_sentence(const scenes::Scene& scene,
                                         const studies::CarryResult& result,
                                         const std::string& units);
[[nodiscard]] TextTable carry_table(const studies::CarryResult& result, const std::string& units);
// What the figures rest on.
[[nodiscard]] std::string carry_basis(const studies::CarryResult& result,
                                      const studies::CarryOptions& options);
[[nodiscard]] std::vector<std::string> carry_cautions(const studies::CarryResult& result,
                                                      const std::string& units);

// All that `carry` prints of a bag that was carried; `files` is what it says of those it wrote.
[[nodiscard]] std::string carry_report(const scenes::Scene& scene,
                                       const studies::CarryResult& result,
                                       const studies::CarryOptions& options,
                                       const std::string& units, const std::string& files);
// And of one that came to no rest to be carried from.
[[nodiscard]] std::string not_carried_text(const scenes::Scene& scene);

struct CarryColumn {
  const char* name;
  double studies::CarrySample::*value;
};
inline constexpr std::array<CarryColumn, 5> kCarryColumns = {
    {{"time_s", &studies::CarrySample::time_s},
     {"support_force_N", &studies::CarrySample::support_force_N},
     {"floor_force_N", &studies::CarrySample::floor_force_N},
     {"peak_stitch_N", &studies::CarrySample::peak_stitch_N},
     {"bottom_sag_m", &studies::CarrySample::bottom_sag_m}}};

// carry.json (SI) and carry.csv: every event over time, in kCarryColumns.
[[nodiscard]] std::string carry_json(const scenes::Scene& scene, const studies::CarryResult& result,
                                     const studies::CarryOptions& options);
[[nodiscard]] std::string carry_csv(const studies::CarryResult& result);
[[nodiscard]] viz::Page carry_page(const scenes::Scene& scene, const studies::CarryResult& result,
                                   const studies::CarryOptions& options,
                                   const materials::MaterialLibrary& library,
                                   const std::string& units, const std::string& json);

}  // namespace totebench::app
