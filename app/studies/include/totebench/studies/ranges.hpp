// All that is to be known of how sure a hanging bag's figures are, one study after the other.
#pragma once

#include "totebench/studies/hang.hpp"

namespace totebench::studies {

// Fills HangResult::coarser, stitch_band, data_scatter and circumstances of the bag of `hung`,
// whose scene and library they are, and adds the time to its effort. On request it ends early, and
// ranges_stopped says so. Does nothing with a bag whose hanging itself was stopped.
void add_ranges(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                HangResult& hung, const OnHangProgress& on_progress);

}  // namespace totebench::studies
