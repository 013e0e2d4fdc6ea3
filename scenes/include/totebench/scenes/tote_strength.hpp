// What the parts of a tote hold before they fail, worked out from its scene and the library: the
// capacities that totebench/scenes/utilisation.hpp holds the computed forces against.
//
// Rules (materials/library/rules.json has each constant with its source and grade):
//   fastening of a strap   stitch: F = k T per stitch and joint crossed
//   (totebench/materials/strength.hpp), in
//                          peel times "stitch_peel_share"; rivet: "rivet_shear",
//                          "rivet_pull_apart".
//   torn out of the panel  strip strength of the cloth the fastening holds, less needle damage,
//   over
//                          the distance between fastenings (a rivet: over its cap); out of the
//                          plane over the rim of a rivet's cap times "pull_through_share".
//   body seam              F' = k T / stitch length, at most the cloth less needle damage.
//   seam slippage          line force at which yarns beside a seam have slid open by 6 mm.
//   strap at its stitching breaking strength times "webbing_joint_efficiency".
//   base sheet             yield stress at the face; it folds when the whole depth yields, at a
//                          face stress (elastic) of 1.5 times that (plastic hinge of a plate).
//   fused bond             a bond ends where the fusible ends. Energy released per area when it
//                          opens there under a membrane force N of the bonded group,
//                            G = N^2 / 2 (1 / A_cloth - 1 / A_bonded)
//                          (delamination of layers in tension [HutchinsonSuo1992]), against the
//                          peel strength P (force per width = energy per area of a bond peeled at
//                          right angles; twice that at 180 degrees). N follows from the panel's
//                          force by the share A_bonded / A_panel.
//   foot                   cloth of the base over the rim of its washer times
//                          "pull_through_share".
#pragma once

#include <map>
#include <string>

#include "totebench/materials/library.hpp"
#include "totebench/materials/stack.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// A capacity with where it comes from; value 0 = not known.
struct Capacity {
  double value = 0;
  std::string source;  // ids of the library's sources with the grade in brackets
  std::string grade;
  [[nodiscard]] bool known() const { return value > 0; }
};
[[nodiscard]] Capacity capacity_of(const materials::Quantity& q);

struct DirectedCapacity {  // along the panel's warp and weft
  Capacity warp;
  Capacity weft;
};

// What holds a fastening in the panel: its cloth, in the panel's plane and out of it.
struct HeldCloth {
  Capacity tear_out_N;
  Capacity pull_through_N;
};

struct ToteStrength {
  bool riveted = false;
  Capacity fastening_shear_N;
  Capacity fastening_peel_N;
  HeldCloth held;          // a fastening below the hem
  HeldCloth held_in_hem;   // one that lies within it
  double needle_kept = 1;  // share of the cloth left beside a stitch line
  Capacity cloth;          // source of the strip strengths (their values are per triangle)
  Capacity seam_N_per_m;
  std::string seam_governed_by;  // "thread" or "cloth"
  Capacity slippage_N_per_m;
  Capacity strap_N;
  Capacity sheet_yield_Pa;
  Capacity sheet_fold_Pa;                // 0 for a board, which breaks instead of folding
  bool sheet_breaks = false;             // the limit is a breaking stress
  std::map<int, DirectedCapacity> bond;  // by Region: membrane force of the panel, N/m
  Capacity foot_N;                       // 0 without feet
  double foot_force_N = 0;               // what pulls on one foot while the bag hangs
};

[[nodiscard]] ToteStrength tote_strength(const Scene& scene,
                                         const materials::MaterialLibrary& library);

// Membrane force (N/m) of a stack at which the weakest of its fused bonds opens from an edge.
[[nodiscard]] DirectedCapacity bond_strength(const materials::MaterialLibrary& library,
                                             const std::vector<materials::Ply>& plies);

}  // namespace totebench::scenes
