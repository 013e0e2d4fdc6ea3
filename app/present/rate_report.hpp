// What `rate` says: one sentence with its caution, tables, cautions, where to look.
#pragma once

#include <string>
#include <vector>

#include "totebench/studies/rate.hpp"
#include "totebench/viz/report.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::app {

[[nodiscard]] std::string rate_report(const scenes::Scene& scene, const studies::RateResult& result,
                                      const std::string& units, const viz::Written& written,
                                      const std::string& folder);
[[nodiscard]] viz::Page rate_page(const scenes::Scene& scene, const studies::RateResult& result,
                                  const materials::MaterialLibrary& library,
                                  const std::string& units, const std::string& json);
// rating.json (scenes/rating.schema.json), SI.
[[nodiscard]] std::string rating_json(const scenes::Scene& scene,
                                      const studies::RateResult& result);

// What is to be minded with any load a bag is said to carry; and those of one hanging's cautions
// that are not said there in other words.
[[nodiscard]] std::vector<std::string> load_cautions();
[[nodiscard]] std::vector<std::string> special_cautions(const scenes::Findings& findings);

// Every rating's cautions, the general ones first, then those this case calls for; masses in
// `units`.
[[nodiscard]] std::vector<std::string> rating_cautions(const scenes::Scene& scene,
                                                       const studies::RateResult& result,
                                                       const std::string& units);

}  // namespace totebench::app
