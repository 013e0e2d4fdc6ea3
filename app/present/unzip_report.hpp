// What `unzip` says: a sentence, the breaks as a table, drawings, cautions, and the same for
// programs.
#pragma once

#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/studies/unzip.hpp"
#include "totebench/viz/report.hpp"

namespace totebench::app {

[[nodiscard]] std::string unzip_sentence(const scenes::Scene& scene,
                                         const studies::Unzipping& result,
                                         const std::string& units);
// "thread parted"
[[nodiscard]] std::string how_it_went(const scenes::Scene& scene, const studies::Break& b);
// The first breaks, the one at the largest load, the last, and some between.
[[nodiscard]] TextTable unzip_table(const scenes::Scene& scene, const studies::Unzipping& result,
                                    const std::string& units);
// Where the energy went, in a sentence; empty where nothing is known of it.
[[nodiscard]] std::string energy_text(const studies::Unzipping& result, const std::string& units);
[[nodiscard]] std::vector<std::string> unzip_cautions(const studies::Unzipping& result);

// Load over how far the strap's end has come off and over how far the contents sink; and a strap's
// end with the order of its own breaks.
[[nodiscard]] std::vector<std::string> unzip_charts(const scenes::Scene& scene,
                                                    const studies::Unzipping& result,
                                                    const std::string& units);
[[nodiscard]] std::string unzip_order_svg(const scenes::Scene& scene,
                                          const studies::Unzipping& result,
                                          const std::string& site);

// unzip.json, SI.
[[nodiscard]] std::string unzip_json(const scenes::Scene& scene, const studies::Unzipping& result);
[[nodiscard]] viz::Page unzip_page(const scenes::Scene& scene, const studies::Unzipping& result,
                                   const materials::MaterialLibrary& library,
                                   const std::string& units, const std::string& json);

}  // namespace totebench::app
