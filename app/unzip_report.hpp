// What `unzip` says: a sentence, the breaks as a table, drawings, cautions, and the same for
// programs.
#pragma once

#include <string>
#include <vector>

#include "app/text_table.hpp"
#include "app/unzip_study.hpp"
#include "viz/report.hpp"

namespace totebench {

[[nodiscard]] std::string unzip_sentence(const Scene& scene, const Unzipping& result,
                                         const std::string& units);
// The first breaks, the one at the largest load, the last, and some between.
[[nodiscard]] TextTable unzip_table(const Scene& scene, const Unzipping& result,
                                    const std::string& units);
// Where the energy went, in a sentence; empty where nothing is known of it.
[[nodiscard]] std::string energy_text(const Unzipping& result);
[[nodiscard]] std::vector<std::string> unzip_cautions(const Unzipping& result);

// Load over how far the strap's end has come off and over how far the contents sink; and that end
// with the order of its breaks.
[[nodiscard]] std::vector<std::string> unzip_charts(const Scene& scene, const Unzipping& result,
                                                    const std::string& units);
[[nodiscard]] std::string unzip_order_svg(const Scene& scene, const Unzipping& result);

// unzip.json, SI.
[[nodiscard]] std::string unzip_json(const Scene& scene, const Unzipping& result);
[[nodiscard]] Page unzip_page(const Scene& scene, const Unzipping& result,
                              const MaterialLibrary& library, const std::string& units,
                              const std::string& json);

}  // namespace totebench
