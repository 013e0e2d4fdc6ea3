// findings.json: what `hang` found, in SI, for programs. The keys are described in
// scenes/findings.schema.json. Numbers that would mean something only in equilibrium are null when
// there is none.
#pragma once

#include <string>

#include "app/hang_study.hpp"

namespace totebench {

[[nodiscard]] std::string findings_json(const Scene& scene, const HangResult& result);
[[nodiscard]] std::string findings_json(const Scene& scene, const SheetHangResult& result);

}  // namespace totebench
