// What `stand` says: a sentence, how the bag stands as a table, a picture, cautions, and the same
// for programs and as a page.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/studies/stand.hpp"
#include "totebench/viz/report.hpp"
#include "totebench/viz/standing_picture.hpp"

namespace totebench::app {

[[nodiscard]] std::string stand_sentence(const scenes::Scene& scene,
                                         const studies::Standing& result, const std::string& units);
// A row for the bag as its pattern has it, empty and loaded.
[[nodiscard]] TextTable stand_table(const scenes::Scene& scene, const studies::Standing& result,
                                    const std::string& units);
// What the words and numbers mean and rest on, a sentence or two each.
[[nodiscard]] std::vector<std::string> stand_basis(const studies::Standing& result,
                                                   const std::string& units);
[[nodiscard]] std::vector<std::string> stand_cautions(const studies::Standing& result);

// All that `stand` prints; `files` is what it says of those it wrote.
[[nodiscard]] std::string stand_report(const scenes::Scene& scene, const studies::Standing& result,
                                       const std::string& units, const std::string& files);

// Those of its states that came to rest. `result` must outlive them.
[[nodiscard]] std::vector<viz::StoodView> stood_views(const scenes::Scene& scene,
                                                      const studies::Standing& result,
                                                      const std::string& units);

// stand.json, SI.
[[nodiscard]] std::string stand_json(const scenes::Scene& scene, const studies::Standing& result);
[[nodiscard]] viz::Page stand_page(const scenes::Scene& scene, const studies::Standing& result,
                                   const materials::MaterialLibrary& library,
                                   const std::string& units, const std::string& json,
                                   const viz::Written& drawn);

// All that `stand` writes, in the scene's units, of a bag that came to rest empty: stand.json, then
// files for viewers, then the page.
[[nodiscard]] viz::Written write_stand_files(const scenes::Scene& scene,
                                             const studies::Standing& result,
                                             const materials::MaterialLibrary& library,
                                             const std::filesystem::path& folder, bool picture);

}  // namespace totebench::app
