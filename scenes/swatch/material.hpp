// From fitted strips to the material and to what a person should mind about it.
#pragma once

#include "totebench/scenes/swatch_fit.hpp"

namespace totebench::scenes {

// Low (-1), value (0) or high (+1) of a band.
[[nodiscard]] double at(const Band& band, int side);

// Mean of the values, lowest low, highest high.
[[nodiscard]] Band joined(const std::vector<Band>& bands);

// Fills material, measured and remarks from the strips: bending of a solid sheet gives its modulus,
// E = 12 B / t^3; what was not measured is that of `like`.
void make_material(const Swatch& swatch, const materials::Material& like, const Band& thickness_m,
                   const Band& areal_mass_kg_per_m2, SwatchFit& fit);

}  // namespace totebench::scenes
