// How much of each known strength is used up, and what a reader must be told beside the numbers.
#pragma once

#include <string>
#include <vector>

#include "scenes/findings.hpp"

namespace totebench {

// Most used up first. Modes whose strength is not known are left out; cautions() names them.
[[nodiscard]] std::vector<Utilisation> utilisations(const Tote& tote, const Findings& findings,
                                                    const Eigen::Matrix3Xd& panel_force);

// Plain sentences; the general ones first, then those this case calls for.
[[nodiscard]] std::vector<std::string> cautions(const Scene& scene, const Tote& tote,
                                                const Findings& findings);

}  // namespace totebench
