// What the headlines hang on beside the scatter of the material data: how the load lies, what the
// bag hangs on, for how long, and how its layers hold together. Each is changed alone, and the bag
// brought to rest again on the coarse mesh, near the shape in which it hung where it finds rest
// there, and where the mesh of longer edges with refined seams was asked for (HangResult::coarser)
// carried on to that.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "totebench/studies/hang.hpp"

namespace totebench::studies {

// A goods' share of the bag's volume where an even load is taken to fill the bag instead.
inline constexpr double kFilledShare = 0.8;
// Times under load looked at where something creeps.
inline constexpr double kBriefly_s = 60;
inline constexpr double kForADay_s = 24 * 3600;

// The bag of `scene` with something changed that is left open by who carries it, or that is hard to
// know of how it is made. In the order of how easily a person can choose it: where the load lies,
// what it is, what the bag hangs on, for how long, how the layers are joined. What would change
// nothing of this bag is left out.
struct Changed {
  std::string what;  // "all of the load at one end"
  scenes::Scene scene;
};
[[nodiscard]] std::vector<Changed> changed_circumstances(const scenes::Scene& scene,
                                                         const scenes::Tote& tote);

// What they are compared with: HangResult::coarser, else the coarse mesh's. Null where neither is.
[[nodiscard]] const scenes::Findings* unchanged(const HangResult& hung);

// How far each moves the figures of `hung`, whose scene and library they are. One that cannot be
// built or does not come to rest has no moves. Empty where the bag did not come to rest, or on
// request.
[[nodiscard]] std::optional<std::vector<Circumstance>> circumstances(
    const scenes::Scene& scene, const materials::MaterialLibrary& library, const HangResult& hung,
    const OnHangProgress& on_progress);

// Of those that move the figure, in SI, by more than `least`, the furthest; null where none does.
[[nodiscard]] const Circumstance* moves_most(const std::vector<Circumstance>& circumstances,
                                             const scenes::Figure& figure, double least);

}  // namespace totebench::studies
