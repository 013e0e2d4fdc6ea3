#include "totebench/scenes/tote_strength.hpp"

#include <fmt/format.h>

#include <Eigen/Dense>
#include <cmath>

#include "scenes/builder/tote/tote_sections.hpp"
#include "totebench/materials/strength.hpp"
#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

// Face stress, elastic, at which a plate's whole depth yields: moment s t^2 / 4 against s t^2 / 6.
constexpr double kPlasticOverElastic = 1.5;

materials::Quantity times(materials::Quantity q, double factor, const char* unit) {
  q.value *= factor;
  q.low *= factor;
  q.high *= factor;
  q.unit = unit;
  return q;
}

materials::Quantity weaker(const materials::Quantity& a, const materials::Quantity& b) {
  return a.value <= b.value ? a : b;
}

materials::Quantity kept_beside_needle(const materials::MaterialLibrary& library) {
  materials::Quantity kept = library.rule("needle_damage");
  kept.value = 1 - kept.value;
  std::swap(kept.low, kept.high);
  kept.low = 1 - kept.low;
  kept.high = 1 - kept.high;
  return kept;
}

// Cloth a strap's fastening holds: the wall, the hem where it lies within it, and a backing patch;
// the weaker direction.
materials::Quantity held_cloth(const Scene& scene, const materials::MaterialLibrary& library,
                               bool in_hem) {
  const std::vector<materials::Ply> wall = plies_of(layers_of(scene, kRegionUpper), library);
  const materials::StackStrength stack = materials::stack_strength(wall);
  materials::Quantity cloth = weaker(stack.warp, stack.weft);
  const materials::StackStrength outer = materials::stack_strength(outer_group(wall));
  const materials::Quantity extra = weaker(outer.warp, outer.weft);
  for (const bool there : {in_hem, scene.straps.front().attachment.patch}) {
    if (!there) continue;
    cloth.value += extra.value;
    cloth.low += extra.low;
    cloth.high += extra.high;
  }
  return cloth;
}

// What one fastening holds by the cloth around it.
HeldCloth held_by_cloth(const Scene& scene, const materials::MaterialLibrary& library,
                        bool in_hem) {
  const Strap& strap = scene.straps.front();
  const materials::Quantity cloth = held_cloth(scene, library, in_hem);
  if (!is_stitched(strap.attachment.pattern)) {
    const double cap_m = strap.attachment.rivet_cap_m;
    const materials::Quantity rim =
        materials::product(cloth, library.rule("pull_through_share"), "N/m");
    return {capacity_of(times(cloth, cap_m, "N")), capacity_of(times(rim, M_PI * cap_m, "N"))};
  }
  const Capacity beside =
      capacity_of(times(materials::product(cloth, kept_beside_needle(library), "N/m"),
                        fastening_spacing_m(strap), "N"));
  return {beside, beside};
}

void add_fastenings(const Scene& scene, const materials::MaterialLibrary& library,
                    ToteStrength& out) {
  const Strap& strap = scene.straps.front();
  const Attachment& a = strap.attachment;
  out.riveted = !is_stitched(a.pattern);
  out.needle_kept = kept_beside_needle(library).value;
  out.cloth = capacity_of(held_cloth(scene, library, false));
  out.held = held_by_cloth(scene, library, false);
  out.held_in_hem = scene.bag.hem_m > 0 ? held_by_cloth(scene, library, true) : out.held;
  if (out.riveted) {
    out.fastening_shear_N = capacity_of(library.rule("rivet_shear"));
    out.fastening_peel_N = capacity_of(library.rule("rivet_pull_apart"));
    return;
  }
  const materials::Thread* thread = library.find_thread(a.thread);
  const materials::StitchType* stitch = library.find_stitch(a.stitch_type);
  if (thread != nullptr && stitch != nullptr) {
    const materials::Quantity one = materials::stitch_capacity(*stitch, *thread);
    out.fastening_shear_N = capacity_of(times(one, shear_planes(a.pattern), "N"));
    out.fastening_peel_N =
        capacity_of(materials::product(one, library.rule("stitch_peel_share"), "N"));
  }
}

void add_seams(const Scene& scene, const materials::MaterialLibrary& library, ToteStrength& out) {
  const materials::StackStrength wall =
      materials::stack_strength(plies_of(layers_of(scene, kRegionUpper), library));
  const materials::Thread* thread = library.find_thread(scene.seams.thread);
  const materials::StitchType* stitch = library.find_stitch(scene.seams.stitch_type);
  if (thread != nullptr && stitch != nullptr && scene.seams.stitch_length_m > 0) {
    const materials::SeamStrength seam =
        materials::seam_strength(library, materials::stitch_capacity(*stitch, *thread),
                                 scene.seams.stitch_length_m, weaker(wall.warp, wall.weft));
    out.seam_N_per_m = capacity_of(seam.strength);
    out.seam_governed_by = seam.governed_by;
  }
  if (wall.warp.value > 0) {
    out.slippage_N_per_m = capacity_of(library.rule("slippage_6mm_line_force"));
  }
}

void add_base(const Scene& scene, const materials::MaterialLibrary& library, ToteStrength& out) {
  if (scene.base.kind != BaseKind::kNone) {
    const materials::Material* sheet = library.find(scene.base.material);
    if (const materials::Quantity* limit = materials::sheet_stress_limit(*sheet)) {
      out.sheet_breaks = sheet->find("yield_stress") == nullptr;
      out.sheet_yield_Pa = capacity_of(*limit);
      if (!out.sheet_breaks) {
        out.sheet_fold_Pa = capacity_of(times(*limit, kPlasticOverElastic, "Pa"));
      }
    }
  }
  if (scene.feet.count > 0) {
    const materials::StackStrength base =
        materials::stack_strength(plies_of(layers_of(scene, kRegionBase), library));
    const materials::Quantity rim =
        materials::product(weaker(base.warp, base.weft), library.rule("foot_washer_diameter"), "N");
    out.foot_N = capacity_of(
        times(materials::product(rim, library.rule("pull_through_share"), "N"), M_PI, "N"));
    out.foot_force_N = scene.feet.mass_each_kg * kStandardGravity;
  }
}

double uniaxial(const Eigen::Matrix3d& A, int axis) { return 1.0 / A.inverse()(axis, axis); }

}  // namespace

Capacity capacity_of(const materials::Quantity& q) {
  Capacity c;
  c.value = q.value;
  c.grade = q.grade;
  c.source = q.source.empty() ? q.grade : fmt::format("{} ({})", q.source, q.grade);
  return c;
}

DirectedCapacity bond_strength(const materials::MaterialLibrary& library,
                               const std::vector<materials::Ply>& plies) {
  DirectedCapacity out;
  const Eigen::Matrix3d whole = materials::stack_section(library, plies).A;
  std::size_t begin = 0;
  while (begin < plies.size()) {
    std::size_t end = begin + 1;
    while (end < plies.size() && (plies[end].join == materials::Join::kFused ||
                                  plies[end].join == materials::Join::kStitchedGrid)) {
      ++end;
    }
    const std::vector<materials::Ply> group(plies.begin() + static_cast<std::ptrdiff_t>(begin),
                                            plies.begin() + static_cast<std::ptrdiff_t>(end));
    std::vector<materials::Ply> cloth;  // what is left when the fusibles let go
    const materials::Quantity* peel = nullptr;
    for (const materials::Ply& ply : group) {
      const materials::Quantity* bond = ply.material->find("peel_strength");
      if (bond == nullptr) {
        cloth.push_back(ply);
      } else if (peel == nullptr || bond->value < peel->value) {
        peel = bond;
      }
    }
    if (peel != nullptr && !cloth.empty() && group.front().join != materials::Join::kLoose) {
      for (materials::Ply& ply : cloth) {
        if (&ply == &cloth.front()) continue;
        if (ply.join == materials::Join::kFused) ply.join = materials::Join::kSewnAtEdges;
      }
      const Eigen::Matrix3d bonded = materials::stack_section(library, group).A;
      const Eigen::Matrix3d alone = materials::stack_section(library, cloth).A;
      for (const int axis : {0, 1}) {
        const double a_bonded = uniaxial(bonded, axis);
        const double released = 1 / uniaxial(alone, axis) - 1 / a_bonded;
        if (!(released > 0)) continue;
        materials::Quantity q = *peel;
        q.value = uniaxial(whole, axis) / a_bonded * std::sqrt(2 * peel->value / released);
        Capacity& slot = axis == 0 ? out.warp : out.weft;
        if (!slot.known() || q.value < slot.value) slot = capacity_of(q);
      }
    }
    begin = end;
  }
  return out;
}

ToteStrength tote_strength(const Scene& scene, const materials::MaterialLibrary& library) {
  ToteStrength out;
  add_fastenings(scene, library, out);
  add_seams(scene, library, out);
  const Strap& strap = scene.straps.front();
  const materials::Quantity whole = materials::strap_strength(
      library, *library.find(strap.material), strap.width_m, strap.plies, strap.thickness_m);
  if (whole.value > 0) {
    out.strap_N =
        capacity_of(materials::product(whole, library.rule("webbing_joint_efficiency"), "N"));
  }
  add_base(scene, library, out);
  for (const int region : {kRegionUpper, kRegionLower, kRegionBase}) {
    out.bond[region] = bond_strength(library, plies_of(layers_of(scene, region), library));
  }
  out.bond[kRegionHem] = out.bond[kRegionUpper];
  return out;
}

}  // namespace totebench::scenes
