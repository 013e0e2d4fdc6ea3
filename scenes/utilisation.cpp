#include "scenes/utilisation.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "scenes/strap_seams.hpp"

namespace totebench {
namespace {

// Membrane force over strip strength in the worse direction of a triangle; the demand and capacity
// of that direction with it.
struct ClothUse {
  double ratio = 0;
  double demand = 0;
  double capacity = 0;
};

ClothUse cloth_use(const Tote& tote, int triangle, const Eigen::Vector3d& force) {
  ClothUse use;
  const auto consider = [&use](double demand, double capacity) {
    if (capacity > 0 && demand / capacity > use.ratio) use = {demand / capacity, demand, capacity};
  };
  consider(force[0], tote.strength_warp_N_per_m[triangle]);
  consider(force[1], tote.strength_weft_N_per_m[triangle]);
  return use;
}

bool is_panel(int region) {
  return region != kRegionStrap && region != kRegionStrapHeld && region != kRegionBaseSheet;
}

}  // namespace

std::vector<Utilisation> utilisations(const Tote& tote, const Findings& findings,
                                      const Eigen::Matrix3Xd& panel_force) {
  std::vector<Utilisation> list;
  const auto add = [&list](const std::string& what, double demand, double capacity,
                           const char* unit, const std::string& source) {
    if (capacity > 0) list.push_back({what, demand, capacity, unit, demand / capacity, source});
  };

  const StrapSeamFinding* hardest = nullptr;
  for (const StrapSeamFinding& seam : findings.strap_seams) {
    if (hardest == nullptr || seam.peak_stitch_N > hardest->peak_stitch_N) hardest = &seam;
  }
  if (hardest != nullptr) {
    add("thread at the strap stitches, " + hardest->name, hardest->peak_stitch_N,
        tote.stitch_capacity_N, "N", tote.stitch_capacity_source);
  }
  double strap_force = 0;
  ClothUse beside;
  std::string beside_name;
  for (std::size_t a = 0; a < findings.strap_seams.size(); ++a) {
    strap_force = std::max(strap_force, findings.strap_seams[a].force_N.norm());
    for (const int i : panel_beside(tote, tote.attachments[a])) {
      const ClothUse use = cloth_use(tote, i, panel_force.col(i));
      if (use.ratio > beside.ratio) {
        beside = use;
        beside_name = findings.strap_seams[a].name;
      }
    }
  }
  add("cloth beside the strap stitches, " + beside_name, beside.demand, beside.capacity, "N/m",
      tote.panel_strength_source);
  add("strap", strap_force, tote.strap_strength_N, "N", tote.strap_strength_source);

  ClothUse elsewhere;
  int where = -1;
  for (int i = 0; i < tote.model.mesh.n_triangles(); ++i) {
    if (!is_panel(tote.model.mesh.triangles[i].region)) continue;
    const ClothUse use = cloth_use(tote, i, panel_force.col(i));
    if (use.ratio <= elsewhere.ratio) continue;
    elsewhere = use;
    where = i;
  }
  if (where >= 0) {
    add("cloth of the " + tote.triangle_part[tote.part[where]], elsewhere.demand,
        elsewhere.capacity, "N/m", tote.panel_strength_source);
  }
  add("base sheet in bending", findings.base_sheet_stress_Pa, tote.base_sheet_yield_Pa, "Pa",
      tote.base_sheet_yield_source);

  std::stable_sort(list.begin(), list.end(),
                   [](const Utilisation& a, const Utilisation& b) { return a.ratio > b.ratio; });
  return list;
}

std::vector<std::string> cautions(const Scene& scene, const Tote& tote, const Findings& findings) {
  std::vector<std::string> list{
      "This is a calculation for a bag carried by hand. It is no lifting device: do not lift "
      "people, "
      "do not lift loads over people, do not carry infants or animals in it on the strength of "
      "these "
      "numbers.",
      "Many material numbers are of low grade (from memory or estimates; each is marked in the "
      "library). Test a sample of your own cloth, thread and seams to failure before you rely on a "
      "load.",
      "Strength falls with age, wear, washing, wet and sunlight, and with any damage; a used bag "
      "holds "
      "less than the numbers here.",
      "The load is steady. Swinging, jerking and dropping multiply it.",
      "Local codes and a licensed engineer decide wherever somebody could be hurt by a failure."};
  const auto add = [&list](std::string text) { list.push_back(std::move(text)); };

  if (!findings.converged()) {
    add("No equilibrium was reached: the numbers belong to the last good state and answer "
        "nothing.");
  } else if (!findings.loaded.stable || !findings.empty.stable) {
    add("The shape found is not stable: a small push would take the bag to another one.");
  }
  if (findings.surface_crossings > 0) {
    add(fmt::format(
        "Surfaces pass through each other in this result, in {} pairs of triangles: {}. "
        "Contact of the bag with itself is not modelled; shapes and numbers near these "
        "places are not to be trusted.",
        findings.surface_crossings, findings.surface_crossings_where));
  }
  if (findings.other_shape.found) {
    add(
        fmt::format("A second stable shape was found, with a bottom sag of {:.0f} mm instead of "
                    "{:.0f} mm; a real bag may take either.",
                    1e3 * findings.other_shape.bottom_sag_m, 1e3 * findings.bottom_sag_m));
  }
  std::string unknown;
  const auto missing = [&unknown](const char* what) {
    unknown += (unknown.empty() ? "" : ", ") + std::string(what);
  };
  if (!(tote.stitch_capacity_N > 0)) missing("the thread at the straps");
  if (!(tote.strap_strength_N > 0)) missing("the strap");
  if (std::none_of(tote.strength_weft_N_per_m.begin(), tote.strength_weft_N_per_m.end(),
                   [](double s) { return s > 0; })) {
    missing("the panels' cloth");
  }
  if (scene.base.kind != BaseKind::kNone && !(tote.base_sheet_yield_Pa > 0)) {
    missing("the base sheet");
  }
  if (!unknown.empty()) {
    add(fmt::format("No strength is known for {}: how much of it is used up cannot be said.",
                    unknown));
  }
  for (const Utilisation& use : findings.utilisation) {
    if (use.ratio < 1) break;
    add(fmt::format("{} is loaded beyond its typical strength ({:.0f} %): expect it to fail.",
                    use.what, 100 * use.ratio));
  }
  if (scene.contents.kind == ContentsKind::kLoose && scene.contents.bulk_density_kg_per_m3 > 0 &&
      scene.contents.mass_kg / scene.contents.bulk_density_kg_per_m3 > tote.volume_m3) {
    add(fmt::format("The contents take {:.1f} l; the open bag holds about {:.1f} l.",
                    1e3 * scene.contents.mass_kg / scene.contents.bulk_density_kg_per_m3,
                    1e3 * tote.volume_m3));
  }
  return list;
}

}  // namespace totebench
