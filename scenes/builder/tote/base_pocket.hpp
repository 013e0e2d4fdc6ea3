// What holds a stiff sheet that lies loose in a pocket on the bag's base: the cloth on both sides
// across it, nothing along it.
//
// The ties' stiffness per area is the mean pressure that bag and contents put on the sheet, divided
// by kPocketMeanGap_m: under load the sheet leaves its place by a micrometre on average, and by
// less than a hundredth of a millimetre where the pressure is ten times the mean; at kilograms on a
// tote's base this is of the order of a membrane stiffness over a squared edge length, so the
// equations stay as well conditioned as without it.
// In its plane the sheet slides freely until, after its clearance, the border of the pocket stops
// it: tethers at its corners and the middles of its sides, which give a millimetre under all the
// weight. So far a tie's error is small too: over a slide c on a base of curvature radius R its
// partner is c^2 / 2R off the true surface. Within the clearance the sheet is kept from drifting by
// springs at four points, together kPocketSlideShare of the weight per millimetre.
#pragma once

#include "scenes/builder/tote/tote_mesh.hpp"

namespace totebench::scenes {

inline constexpr double kPocketMeanGap_m = 1e-6;
inline constexpr double kPocketSlideShare_per_m = 1e-3 / 1e-3;
inline constexpr double kPocketBorderGive_m = 1e-3;

// Adds ties (three a sheet triangle, weighted by its area), tethers and springs to `model`, whose
// mesh is tote.mesh. `clearance_m` is the sheet's on each side, `gap_m` the distance of its
// mid-surface above the base's, `weight_N` of bag and contents together.
void add_pocket_ties(const ToteMesh& tote, const BaseOutline& sheet, double clearance_m,
                     double gap_m, double weight_N, solver::Model& model);

}  // namespace totebench::scenes
