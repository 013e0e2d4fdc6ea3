#include "totebench/scenes/build.hpp"

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <stdexcept>

#include "scenes/builder/tote/base_pocket.hpp"
#include "scenes/builder/tote/seam_refinement.hpp"
#include "scenes/builder/tote/tote_contact.hpp"
#include "scenes/builder/tote/tote_contents.hpp"
#include "scenes/builder/tote/tote_mesh.hpp"
#include "scenes/builder/tote/tote_sections.hpp"
#include "scenes/builder/tote/tote_table.hpp"
#include "scenes/builder/tote/uneven_cloth.hpp"
#include "scenes/check/refuse.hpp"
#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/stitch_rows.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector3d;

// A stitch as a spring: two legs of thread (needle and bobbin), each of the thickness sewn through,
//   k = 2 EA / thickness,  EA = breaking strength / elongation at break of the thread (secant),
// kept within what measured and estimated seam slip allows (estimate).
constexpr double kStitchSoftest_N_per_m = 2e4;
constexpr double kStitchStiffest_N_per_m = 1e5;
// A rivet and the cloth under its cap (estimate: ten stitches at their stiffest).
constexpr double kRivetStiffness_N_per_m = 1e6;
// Used when the scene names no thread: a common sewing thread of 12 N and 20 % (from memory).
constexpr double kThreadEA_N = 60.0;
// Of a plastic sheet whose data name none (from memory: 0.35 to 0.45 for polyolefins).
constexpr double kSheetPoissonRatio = 0.4;

double stitch_stiffness(const Scene& scene, const materials::MaterialLibrary& library,
                        double sewn_m) {
  double ea = kThreadEA_N;
  const materials::Thread* thread = library.find_thread(scene.straps.front().attachment.thread);
  if (thread != nullptr && thread->elongation.value > 0) {
    ea = thread->breaking_strength.value / thread->elongation.value;
  }
  return std::clamp(2 * ea / sewn_m, kStitchSoftest_N_per_m, kStitchStiffest_N_per_m);
}

// Rough inside volume of the open bag. Flat bags: two sheets w x h, h >= w, sewn around, hold
//   w^3 (h / (pi w) - 0.142 (1 - 10^(-h/w)))       (paper-bag problem; from memory)
double inside_volume(const Bag& bag) {
  if (has_flat_base(bag)) {
    return base_width_m(bag) * bag.depth_m * bag.height_m;
  }
  const double w = std::min(bag.width_m, bag.height_m);
  const double h = std::max(bag.width_m, bag.height_m);
  return w * w * w * (h / (M_PI * w) - 0.142 * (1 - std::pow(10.0, -h / w)));
}

// Everything about a tote that does not depend on the mesh level.
struct Plan {
  Pattern pattern;
  std::vector<Ribbon> ribbons;
  double sheet_gap_m = 0;       // of a loose sheet's mid-surface above the base's
  double sewn_thickness_m = 0;  // strap and panel together, under a stitch
};

Plan plan_tote(const Scene& scene, const materials::MaterialLibrary& library,
               double coarse_size_m) {
  Plan plan;
  const materials::StrapSection strap = strap_section_of(scene, library);
  const auto wall =
      materials::stack_section(library, plies_of(layers_of(scene, kRegionUpper), library));
  plan.sewn_thickness_m = strap.section.thickness_m + wall.thickness_m;
  if (scene.base.kind == BaseKind::kPocket) {
    const auto base =
        materials::stack_section(library, plies_of(layers_of(scene, kRegionBase), library));
    const auto sheet = materials::stack_section(
        library, plies_of({{scene.base.material, LayerJoin::kFused, scene.base.thickness_m, 0, 0}},
                          library));
    // The sheet rests on the inner face of the base's cloth.
    plan.sheet_gap_m = base.thickness_m - base.reference_depth_m + sheet.reference_depth_m;
  }
  plan.pattern = make_pattern(scene, coarse_size_m);
  plan.ribbons = make_ribbons(scene, plan.pattern, strap.section.thickness_m);
  for (Ribbon& ribbon : plan.ribbons) ribbon.grip_m = plan.sewn_thickness_m / 2;
  add_footprint_lines(plan.ribbons, plan.pattern);
  return plan;
}

void add_parts(const ToteMesh& mesh, Tote& tote) {
  std::vector<int> part_of_surface;
  for (const ToteSurface& surface : mesh.surfaces) {
    const auto found =
        std::find(tote.triangle_part.begin(), tote.triangle_part.end(), surface.part);
    part_of_surface.push_back(static_cast<int>(found - tote.triangle_part.begin()));
    if (found == tote.triangle_part.end()) tote.triangle_part.push_back(surface.part);
  }
  for (const int s : mesh.surface) tote.part.push_back(part_of_surface[s]);
}

void add_stitches(const Scene& scene, const materials::MaterialLibrary& library,
                  const ToteMesh& mesh, double sewn_thickness_m, Tote& tote) {
  const Strap& strap = scene.straps.front();
  const double stiffness = is_stitched(strap.attachment.pattern)
                               ? shear_planes(strap.attachment.pattern) *
                                     stitch_stiffness(scene, library, sewn_thickness_m)
                               : kRivetStiffness_N_per_m;
  for (const ToteAttachment& attachment : mesh.attachments) {
    AttachmentSite site;
    site.name = attachment.name;
    site.width_m = strap.width_m;
    site.stitch_length_m = fastening_spacing_m(strap);
    site.line_length_m = attachment.line_length_m;
    tote.attachments.push_back(site);
  }
  for (const ToteStitch& stitch : mesh.stitches) {
    AttachmentSite& site = tote.attachments[stitch.attachment];
    site.stitches.push_back(static_cast<int>(tote.model.stitches.size()));
    site.stitch_row_m.push_back(stitch.row_m);
    tote.model.stitches.push_back(
        {stitch.ribbon, stitch.panel, stiffness, stitch.attachment, stitch.spread});
  }
}

void hold_straps(Tote& tote) {
  std::vector<char> held(tote.model.mesh.n_nodes(), 0);
  for (const solver::Triangle& triangle : tote.model.mesh.triangles) {
    if (triangle.region != kRegionStrapHeld) continue;
    for (const int node : triangle.node) held[node] = 1;
  }
  for (int node = 0; node < tote.model.mesh.n_nodes(); ++node) {
    for (int axis = 0; held[node] != 0 && axis < 3; ++axis) {
      tote.model.fixed.push_back({node, axis});
    }
  }
}

void hang_on(const solver::SurfacePoint& at, double mass_kg, solver::Model& model) {
  const Eigen::Matrix<double, 6, 1> share = solver::shape(at.xi, at.eta);
  const solver::Triangle& triangle = model.mesh.triangles[at.triangle];
  for (int n = 0; n < 6; ++n) {
    model.permanent_force_N(2, triangle.node[n]) -= share[n] * mass_kg * model.gravity_m_per_s2;
  }
}

void add_own_weight(const Scene& scene, const materials::MaterialLibrary& library,
                    const ToteMesh& mesh, Tote& tote) {
  solver::Model& model = tote.model;
  model.permanent_force_N = solver::own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  make_uneven(model.mesh.position, model.permanent_force_N);
  for (const Eigen::Vector2d& foot : foot_places(scene)) {
    const auto at = mesh.locate(ToteSurface::Kind::kBase, -1, foot);
    if (!at) throw std::logic_error("a foot lies beside the base");
    hang_on(*at, scene.feet.mass_each_kg, model);
  }
  if (scene.support.kind == SupportKind::kTable) {
    // What is laid aside of a strap weighs on the bag's rim, at either end by half.
    const Strap& strap = scene.straps.front();
    const double areal = strap_section_of(scene, library).section.areal_mass_kg_per_m2;
    for (const auto& feet : mesh.strap_feet) {
      for (const solver::SurfacePoint& foot : feet) {
        hang_on(foot, 0.5 * areal * strap.width_m * strap.length_m, model);
      }
    }
  }
  tote.bag_mass_kg = -model.permanent_force_N.row(2).sum() / model.gravity_m_per_s2;
}

// See library_of: what went through materials::under_load has its short test beside it.
double hung_for_s(const Scene& scene, const materials::MaterialLibrary& library) {
  const auto creeps = [&](const std::string& id) {
    const materials::Material* material = library.find(id);
    return material != nullptr && material->has("youngs_modulus_short");
  };
  bool any = scene.base.kind != BaseKind::kNone && creeps(scene.base.material);
  for (const auto& [region, layers] : scene.layers) {
    for (const Layer& layer : layers) any = any || creeps(layer.material);
  }
  return any ? scene.contents.carried_for_s : 0;
}

void add_strengths(const Scene& scene, const materials::MaterialLibrary& library, Tote& tote) {
  tote.strength = tote_strength(scene, library);
  tote.hung_for_s = hung_for_s(scene, library);
  if (scene.base.kind == BaseKind::kNone) return;
  const materials::Material* sheet = library.find(scene.base.material);
  const materials::Quantity* modulus = sheet->find("youngs_modulus");
  if (modulus == nullptr) modulus = sheet->find("youngs_modulus_md");
  if (modulus != nullptr) tote.base_sheet_modulus_Pa = modulus->value;
  tote.base_sheet_thickness_m = scene.base.thickness_m;
  const materials::Quantity* thickness = sheet->find("thickness");
  if (scene.base.thickness_m == 0 && thickness != nullptr) {
    tote.base_sheet_thickness_m = thickness->value;
  }
  const materials::Quantity* ratio = sheet->find("poisson_ratio");
  tote.base_sheet_poisson_ratio = ratio != nullptr ? ratio->value : kSheetPoissonRatio;
}

double coarse_size_of(const Scene& scene) {
  return scene.mesh.size_m * std::pow(2.0, finest_level(scene));
}

// The panels' mesh of a plan's pattern, unless it has been made already, and the whole tote's.
ToteMesh coarse_mesh(const Scene& scene, const Plan& plan, std::optional<PatternMesh>& panels) {
  const double size_m = coarse_size_of(scene);
  if (!panels) panels = mesh_pattern(plan.pattern, size_m);
  return coarse_tote_mesh(scene, plan.pattern, *panels, plan.ribbons, size_m, plan.sheet_gap_m);
}

ToteMesh with_refined_seams(const Scene& scene, const ToteMesh& mesh, double size_m) {
  return refine_seams(mesh, size_m, scene.base.kind == BaseKind::kStitched);
}

// The bag on a mesh of its own.
Tote tote_on(ToteMesh mesh, const Plan& plan, const Scene& scene,
             const materials::MaterialLibrary& library) {
  Tote tote;
  solver::Model& model = tote.model;
  ToteSections sections = tote_sections(scene, library, plan.pattern, plan.ribbons, mesh);
  for (int i = 0; i < mesh.mesh.n_triangles(); ++i) {
    mesh.mesh.triangles[i].section = sections.of_triangle[i];
  }
  model.mesh = mesh.mesh;
  model.sections = std::move(sections.sections);
  model.edge_rules = edge_rules(scene, library);
  tote.thickness_m = std::move(sections.thickness_m);
  tote.strength_warp_N_per_m = std::move(sections.strength_warp_N_per_m);
  tote.strength_weft_N_per_m = std::move(sections.strength_weft_N_per_m);
  tote.sheet_share = std::move(sections.sheet_share);
  tote.sheet_A = sections.sheet_A;
  tote.sheet_D = sections.sheet_D;

  add_parts(mesh, tote);
  add_stitches(scene, library, mesh, plan.sewn_thickness_m, tote);
  hold_straps(tote);
  add_own_weight(scene, library, mesh, tote);
  add_contents(scene, tote.thickness_m, model);
  if (scene.base.kind == BaseKind::kPocket) {
    const double weight = (tote.bag_mass_kg + scene.contents.mass_kg) * model.gravity_m_per_s2;
    add_pocket_ties(mesh, base_sheet_outline(scene).value(), scene.base.clearance_m,
                    plan.sheet_gap_m, weight, model);
  }
  tote.strap_feet = mesh.strap_feet;
  tote.strap_midpoints = mesh.strap_midpoints;
  add_strengths(scene, library, tote);
  tote.volume_m3 = inside_volume(scene.bag);
  if (scene.support.kind == SupportKind::kTable) put_on_table(scene, mesh, tote);
  if (scene.solve.contact) model.contact = tote_contact(scene, tote);
  if (!model.bodies.empty() && !model.contact.active()) {
    throw std::invalid_argument(
        "the things in the bag, or parts of the bag, start in each other: give fewer or smaller "
        "things");
  }
  return tote;
}

}  // namespace

const char* region_name(int region) {
  switch (region) {
    case kRegionUpper:
      return "upper";
    case kRegionLower:
      return "lower";
    case kRegionBase:
      return "base";
    case kRegionHem:
      return "hem";
    case kRegionStrap:
      return "strap";
    case kRegionStrapHeld:
      return "strap where held";
    case kRegionBaseSheet:
      return "base sheet";
    default:
      return "unknown";
  }
}

int finest_level(const Scene& scene) {
  // The coarsest mesh should still show the bag's shape: edges near 40 to 80 mm.
  const double size = scene.mesh.size_m;
  if (size >= 0.018) return 1;
  return size >= 0.009 ? 2 : 3;
}

struct ToteBuilder::Panels {
  std::optional<PatternMesh> mesh;  // none until the first tote is built
};

ToteBuilder::ToteBuilder(const Scene& scene) : scene_(scene), panels_(std::make_unique<Panels>()) {}
ToteBuilder::~ToteBuilder() = default;

Tote ToteBuilder::build(const materials::MaterialLibrary& library, int level) const {
  if (level < 0) throw std::invalid_argument("mesh levels count from 0");
  refuse_faulty(scene_, library);
  const Plan plan = plan_tote(scene_, library, coarse_size_of(scene_));
  ToteMesh mesh = coarse_mesh(scene_, plan, panels_->mesh);
  for (int i = 0; i < level; ++i) mesh = carried_over(mesh, solver::split(mesh.mesh));
  if (level > 0 && level == finest_level(scene_)) {
    mesh = with_refined_seams(scene_, mesh, scene_.mesh.size_m);
  }
  return tote_on(std::move(mesh), plan, scene_, library);
}

Tote build_tote(const Scene& scene, const materials::MaterialLibrary& library, int level) {
  return ToteBuilder(scene).build(library, level);
}

Tote build_coarse_with_refined_seams(const Scene& scene,
                                     const materials::MaterialLibrary& library) {
  refuse_faulty(scene, library);
  const Plan plan = plan_tote(scene, library, coarse_size_of(scene));
  std::optional<PatternMesh> panels;
  return tote_on(with_refined_seams(scene, coarse_mesh(scene, plan, panels), coarse_size_of(scene)),
                 plan, scene, library);
}

}  // namespace totebench::scenes
