// How far the hardest pulled stitch depends on how stiff stitches are taken to be.
//
// A stitch's give in its cloth is the least known number of a strap seam: no table has it, and
// Model::stitches carries an estimate from the thread's. Stiffer stitches hand the strap's pull
// over on a shorter length, so that the first of them carry more of it.
#pragma once

#include <optional>

#include "totebench/studies/hang.hpp"

namespace totebench::studies {

// Stitches may be this many times as stiff as estimated, or as soft (estimate: from a seam that
// slips to thread that hardly gives, see stitch_stiffness() in scenes/builder/tote/build.cpp).
inline constexpr double kStitchDoubt = 2.0;

// The force on the hardest pulled stitch of the loaded bag of `hung` with all stitches 1 / and 1 x
// kStitchDoubt as stiff, solved anew on its mesh. Empty where the bag has no stitches or a solve
// does not come to rest or is stopped.
[[nodiscard]] std::optional<StitchBand> stitch_band(const HangResult& hung,
                                                    const OnHangProgress& on_progress);

}  // namespace totebench::studies
