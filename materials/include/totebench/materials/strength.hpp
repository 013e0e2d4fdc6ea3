// What stitches, seams and straps hold, each with its band, source and grade.
//
// Seam law (trade chart on seam strength; the same factor 1.5 in published tests of sewn loops):
//   force per stitch      F = k T,  T = strength of the weaker thread, k by stitch type
//   force per seam length F' = F / stitch length, at most the cloth's strength less needle damage
// k is about twice the loop ratio of a thread, because two legs of its loop cross the seam.
#pragma once

#include <string>

#include "totebench/materials/library.hpp"
#include "totebench/materials/stack.hpp"

namespace totebench::materials {

// Product of two quantities: bands multiply, the weaker grade holds, sources are joined.
[[nodiscard]] Quantity product(const Quantity& a, const Quantity& b, std::string unit);

// The thread that governs: the one with the lower strength (needle or bobbin/looper).
[[nodiscard]] const Thread& weaker_thread(const Thread& needle, const Thread& bobbin);

// N per stitch, pulled across the seam.
[[nodiscard]] Quantity stitch_capacity(const StitchType& stitch, const Thread& needle,
                                       const Thread& bobbin);
[[nodiscard]] Quantity stitch_capacity(const StitchType& stitch, const Thread& thread);

struct SeamStrength {
  Quantity strength;        // N/m
  std::string governed_by;  // "thread" or "cloth"
  double efficiency = 0;    // seam over cloth strength; 0 when the cloth's is not known
};
// `cloth_N_per_m` is the strength of the cloth across the seam (stack_strength); value 0 = not
// known, then the thread governs. Throws std::invalid_argument unless stitch_length_m > 0.
[[nodiscard]] SeamStrength seam_strength(const MaterialLibrary& library, const Quantity& per_stitch,
                                         double stitch_length_m, const Quantity& cloth_N_per_m);

// N carried by a stitched patch of `stitches` penetrations that share unequally (rule
// "attachment_sharing"), or by one row that is peeled, where each stitch carries its full share.
[[nodiscard]] Quantity patch_capacity(const MaterialLibrary& library, const Quantity& per_stitch,
                                      int stitches);
[[nodiscard]] Quantity peeled_row_capacity(const Quantity& per_stitch, double row_length_m,
                                           double stitch_length_m);

// N at which a strap breaks. Webbing scales with width; leather is stress times section; folded
// cloth is the strip strength of its plies times the rule "folded_strap_efficiency".
// Value 0 when the material's strength is not known.
[[nodiscard]] Quantity strap_strength(const MaterialLibrary& library, const Material& material,
                                      double width_m, int plies = 1, double thickness_m = 0);

// Stress at which a base sheet yields, or breaks when it is a board (Pa). nullptr when not known.
[[nodiscard]] const Quantity* sheet_stress_limit(const Material& material);

// kg/m2 of numbered cotton duck: a piece of 36 x 22 inches weighs 19 - number ounces.
// Throws std::invalid_argument outside 1 to 12.
[[nodiscard]] double numbered_duck_areal_mass(int number);

// Young's modulus of a base sheet after `seconds` under steady load at room temperature.
//   power law from half an hour on, where the library has one (HDPE):
//     E(t) = E(0.5 h) (t / 0.5 h)^-n
//   else, from the ratio at 1000 h against a short test of one minute (estimate of the duration):
//     E(t) = E (t / 60 s)^-n with n from that ratio.
// Never above the short-time modulus (youngs_modulus_short where there is one, else
// youngs_modulus); the short-time modulus when the library knows nothing of creep. Its band is that
// of the modulus it starts from and of the slope; away from the time it starts from, the slope's
// grade counts as well. Throws std::invalid_argument for a material without a Young's modulus.
[[nodiscard]] Quantity modulus_under_load(const Material& material, double seconds);
[[nodiscard]] double creep_modulus(const Material& material, double seconds);  // its value, Pa

}  // namespace totebench::materials
