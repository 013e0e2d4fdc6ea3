// What must be told beside a load that a bag is said to hold.
#pragma once

#include <string>
#include <vector>

#include "totebench/studies/rate.hpp"

namespace totebench::studies {

// The general ones, of every computed load.
[[nodiscard]] std::vector<std::string> load_cautions();
// Those of a hanging bag that are not said in load_cautions() in other words.
[[nodiscard]] std::vector<std::string> special_cautions(const scenes::Findings& findings);
// All of a rating; masses in `units` ("in", "cm", "si"). No rating is told without them.
[[nodiscard]] std::vector<std::string> rating_cautions(const scenes::Scene& scene,
                                                       const RateResult& result,
                                                       const std::string& units);

}  // namespace totebench::studies
