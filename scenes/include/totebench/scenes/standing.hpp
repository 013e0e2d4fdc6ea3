// How tall a bag's walls stand by themselves, empty and put down.
//
// A wall counts as a free strip on the floor, fixed at its foot by the base: it buckles under its
// own weight q (N/m2) alone at
//   h = (7.837 D / q)^(1/3)     (Greenhill 1881; [TimoshenkoGere1961], section 2.12, from memory:
//                                (q l)_cr = 7.837 EI / l^2; held against the solver by a test)
// and under a load p (N/m) at its top edge alone at h = pi/2 sqrt(D / p). Both at once, on the
// cautious side (Dunkerley):  q h^3 / (7.837 D) + p h^2 / (pi^2/4 D) = 1.
// D is the wall's bending rigidity in its weaker direction with the membrane free to stretch, p the
// straps' weight spread along the opening. Corners, seams and hems brace a wall, so a bag mostly
// stands taller; folds, wear and a push bring it down sooner.
#pragma once

#include "totebench/materials/library.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// Of a strip of bending rigidity D (N m), q and p as above; infinite without weight.
[[nodiscard]] double standing_height_m(double rigidity_N_m, double own_weight_Pa,
                                       double top_load_N_per_m);

// Of the weakest of a tote's walls. `library` is library_of(scene, ...).
[[nodiscard]] double standing_height_m(const Scene& scene,
                                       const materials::MaterialLibrary& library);

}  // namespace totebench::scenes
