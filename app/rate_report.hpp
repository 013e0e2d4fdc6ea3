// What `rate` says: one sentence with its caution, tables, cautions, where to look.
#pragma once

#include <string>
#include <vector>

#include "app/rate_study.hpp"
#include "viz/results.hpp"

namespace totebench {

[[nodiscard]] std::string rate_report(const Scene& scene, const RateResult& result,
                                      const std::string& units, const Written& written,
                                      const std::string& folder);
// rating.json (scenes/rating.schema.json), SI.
[[nodiscard]] std::string rating_json(const Scene& scene, const RateResult& result);

// "strap_fastening" (Utilisation::mode) in words.
[[nodiscard]] std::string mode_words(const std::string& mode);

// What is to be minded with any load a bag is said to carry; and those of one hanging's cautions
// that are not said there in other words.
[[nodiscard]] std::vector<std::string> load_cautions();
[[nodiscard]] std::vector<std::string> special_cautions(const Findings& findings);

// Every rating's cautions, the general ones first, then those this case calls for.
[[nodiscard]] std::vector<std::string> rating_cautions(const Scene& scene,
                                                       const RateResult& result);

}  // namespace totebench
