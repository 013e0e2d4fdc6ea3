// How far the lengths that `hang` reports depend on the scatter of the material data.
//
// Every number of the library that the scene draws on and that has a range
// (totebench/studies/rate_scatter.hpp) is set to the value below which one in twenty lie, then to
// that above which one in twenty lie, the others at their typical values, and the bag is solved on
// the coarse mesh, going on from the typical bag's shapes. A number that at its further end moves
// no length by 0.5 % is taken to move them as far at its other end. What the numbers move a length
// up is added in squares, and so is what they move it down: the law of propagation of uncertainty
// for independent numbers ([JCGM100], 5.1.2), with these moves in place of standard deviations.
// Nine in ten bags that settle in this shape lie between, as far as the effect of one number does
// not hinge on another's.
#pragma once

#include <optional>

#include "totebench/studies/hang.hpp"

namespace totebench::studies {

// The scatter around the bag of `hung`, whose scene and library they are. Numbers that move nothing
// are left out. Empty where the bag did not come to rest, or on request.
[[nodiscard]] std::optional<DataScatter> data_scatter(const scenes::Scene& scene,
                                                      const materials::MaterialLibrary& library,
                                                      const HangResult& hung,
                                                      const OnHangProgress& on_progress);

}  // namespace totebench::studies
