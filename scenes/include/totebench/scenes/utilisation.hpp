// How much of each known strength is used up, and what a reader must be told beside the numbers.
//
// Modes (Utilisation::mode) and what their demand is:
//   strap_fastening  the hardest used stitch or rivet of a strap's end. Shear s in the panel's
//   plane
//                    and peel p out of it combine as (s/S)^2 + (p/P)^2 = 1 (quadratic interaction,
//                    as for fasteners in combined shear and tension; common practice); pressing
//                    the strap on is no peel. Demand: the pure shear that uses it up as much.
//   tear_out         the same stitch against the cloth it holds, likewise.
//   cloth_at_strap   membrane force beside the stitching against strip strength less needle damage.
//   strap            pull of a strap's end against the strap at its stitching.
//   body_seam        pull across and along a seam, combined like a stitch's with equal capacities.
//   seam_slippage    pull across a seam against the force that slides its yarns open by 6 mm.
//   cloth            membrane force anywhere in the panels against strip strength.
//   base_sheet       stress of bending and stretching at the sheet's faces against yield (or
//                    breaking) stress;  base_sheet_fold: against the stress at which the whole
//                    depth yields.
//   fused_bond       membrane force against the force that opens a fused bond from its edge.
//   foot             what pulls a foot out of the base while the bag hangs.
#pragma once

#include <string>
#include <vector>

#include "totebench/scenes/findings.hpp"

namespace totebench::scenes {

// Most used up first. Modes whose strength is not known are left out; cautions() names them.
[[nodiscard]] std::vector<Utilisation> utilisations(const Scene& scene, const Tote& tote,
                                                    const solver::State& loaded);
// The same, with the shell_fields() of `loaded` at hand.
[[nodiscard]] std::vector<Utilisation> utilisations(const Scene& scene, const Tote& tote,
                                                    const solver::State& loaded,
                                                    const solver::ShellFields& fields);

// Membrane force (N11, N22, N12; N/m) of each triangle's cloth: the whole less what a stitched-in
// base sheet carries, N - s A_sheet E with s the share of the triangle the sheet covers. The sheet
// slides on the cloth, so both have the membrane strain E of the triangle.
[[nodiscard]] Eigen::Matrix3Xd cloth_force(const Tote& tote, const solver::ShellFields& fields);

// Of one fastening: share used up by a force `f_N` from strap on panel; 0 when nothing is known.
[[nodiscard]] double combined_use(const Eigen::Vector3d& f_N, const Eigen::Vector3d& panel_normal,
                                  double shear_capacity_N, double peel_capacity_N,
                                  bool held_on_both_sides = false);

// Shares used up of one fastening of a strap: of its thread (or rivet), and of the cloth it holds,
// which within the hem is turned and counts twice. 0 where no strength is known.
struct FasteningUse {
  double thread = 0;
  double cloth = 0;
  const HeldCloth* held_by = nullptr;  // of the tote's strength
};
// One a stitch of the model; `pull_N` from stitch_forces().
[[nodiscard]] std::vector<FasteningUse> fastening_uses(const Scene& scene, const Tote& tote,
                                                       const solver::State& state,
                                                       const Eigen::Matrix3Xd& pull_N);

// The caution that does not fit where the bag is moved.
inline constexpr const char* kSteadyLoad =
    "The load is steady. Swinging, jerking and dropping multiply it.";

// Plain sentences; the general ones first, then those this case calls for.
[[nodiscard]] std::vector<std::string> cautions(const Scene& scene, const Tote& tote,
                                                const Findings& findings);

}  // namespace totebench::scenes
