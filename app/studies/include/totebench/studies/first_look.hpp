// A first answer on how a scene hangs, while it is being changed. In app/studies/hang/hang.cpp,
// with whose steps it is made.
#pragma once

#include "totebench/studies/hang.hpp"

namespace totebench::studies {

// On the coarse mesh, empty and then under the whole load at once. Where that finds no stable rest,
// as hang_tote on that mesh: on a way to the load, which takes several times as long.
[[nodiscard]] HangResult first_look(const scenes::Scene& scene,
                                    const materials::MaterialLibrary& library,
                                    const OnHangProgress& on_progress);

}  // namespace totebench::studies
