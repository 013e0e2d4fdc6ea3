// findings.json: what `hang` found, in SI, for programs. The keys are described in
// scenes/findings.schema.json. Numbers that would mean something only in equilibrium are null when
// there is none.
#pragma once

#include <string>

#include "totebench/studies/hang.hpp"

namespace totebench::app {

[[nodiscard]] std::string findings_json(const scenes::Scene& scene,
                                        const studies::HangResult& result);
[[nodiscard]] std::string findings_json(const scenes::Scene& scene,
                                        const studies::SheetHangResult& result);

}  // namespace totebench::app
