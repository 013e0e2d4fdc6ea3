// Section of a coupon: from its layers, or from the plain numbers of one isotropic sheet.
#pragma once

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"
#include "totebench/solver/model.hpp"

namespace totebench::scenes {

// The first layer lies on the side the shape's normal points to (the upper one of a flat sheet);
// `face_down` says that the mesh faces the other way, which turns the sign of B.
// Throws std::invalid_argument with a sentence a person can act on.
[[nodiscard]] solver::Section sheet_section(const SheetScene& sheet,
                                            const materials::MaterialLibrary& library,
                                            bool face_down);

}  // namespace totebench::scenes
