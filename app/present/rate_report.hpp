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

}  // namespace totebench::app
