// The loaded bag once more on a mesh of longer edges, to see what the mesh still moves.
#pragma once

#include <optional>

#include "totebench/studies/hang.hpp"

namespace totebench::studies {

// Findings on build_coarse_with_refined_seams(), from the shapes on the coarse mesh. Empty where
// `hung` or this did not come to rest, or on request.
[[nodiscard]] std::optional<scenes::Findings> coarser_findings(
    const scenes::Scene& scene, const materials::MaterialLibrary& library, const HangResult& hung,
    const OnHangProgress& on_progress);

}  // namespace totebench::studies
