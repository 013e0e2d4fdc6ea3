#include "totebench/scenes/findings.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>

#include "scenes/builder/tote/tote_mesh.hpp"
#include "scenes/findings/hook_grip.hpp"
#include "scenes/findings/surface_crossings.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/packing.hpp"
#include "totebench/scenes/strap_seams.hpp"
#include "totebench/scenes/things.hpp"
#include "totebench/scenes/utilisation.hpp"

namespace totebench::scenes {
double bottom_sag(const Tote& tote, const solver::State& empty, const solver::State& loaded) {
  return base_shape(tote.model.mesh, loaded.x).below_outline_m() -
         base_shape(tote.model.mesh, empty.x).below_outline_m();
}

std::vector<StrapDrop> strap_drops(const Tote& tote, const Eigen::Matrix3Xd& x) {
  std::vector<StrapDrop> drops;
  for (std::size_t i = 0; i < tote.strap_midpoints.size(); ++i) {
    const auto height = [&](const solver::SurfacePoint& point) {
      return solver::position_of(tote.model.mesh, x, point).z();
    };
    const solver::SurfacePoint& held = tote.strap_midpoints[i];
    StrapDrop drop;
    drop.underside = solver::position_of(tote.model.mesh, x, held);
    drop.underside.z() -= 0.5 * tote.thickness_m[held.triangle];
    drop.foot = drop.underside;
    drop.foot.z() = 0.5 * (height(tote.strap_feet[i][0]) + height(tote.strap_feet[i][1]));
    drops.push_back(drop);
  }
  return drops;
}

double strap_drop(const Tote& tote, const solver::State& state) {
  double sum = 0;
  const std::vector<StrapDrop> drops = strap_drops(tote, state.x);
  for (const StrapDrop& drop : drops) sum += drop.length_m();
  return drops.empty() ? 0 : sum / static_cast<double>(drops.size());
}

const StrapSeamFinding* hardest_pulled(const Findings& found) {
  const auto place = std::max_element(
      found.strap_seams.begin(), found.strap_seams.end(),
      [](const auto& a, const auto& b) { return a.peak_stitch_N < b.peak_stitch_N; });
  return place == found.strap_seams.end() ? nullptr : &*place;
}

double peak_stitch_N(const Findings& found) {
  const StrapSeamFinding* seam = hardest_pulled(found);
  return seam == nullptr ? 0 : seam->peak_stitch_N;
}

double peak_along_strap_seam_N_per_m(const Findings& found) {
  double peak = 0;
  for (const StrapSeamFinding& seam : found.strap_seams) peak = std::max(peak, seam.peak_N_per_m);
  return peak;
}

namespace {

std::vector<ThingFinding> things_found(const Scene& scene, const Tote& tote,
                                       const solver::State& loaded) {
  std::vector<ThingFinding> things;
  if (tote.model.bodies.empty()) return things;
  const Eigen::Vector3d lowest = lowest_point(tote.model.mesh, loaded.x, is_panel);
  const std::vector<PackedItem> packed = pack_items(scene);
  for (std::size_t i = 0; i < packed.size(); ++i) {
    const solver::BodyPose& start = tote.model.bodies[i].start;
    const solver::BodyPose& now = loaded.bodies[i];
    // Turning about the vertical is no lean.
    const Eigen::Vector3d up =
        (now.rotation * start.rotation.conjugate()).toRotationMatrix().col(2);
    things.push_back({name_of(scene.contents.items[packed[i].item]),
                      {now.position.x(), now.position.y(), now.position.z() - lowest.z()},
                      std::acos(std::clamp(up.z(), -1.0, 1.0)),
                      (now.position - start.position).head<2>().norm()});
  }
  return things;
}

}  // namespace

Findings make_findings(const Scene& scene, const Tote& tote, const solver::State& empty,
                       const solver::SolveReport& empty_report, const solver::State& loaded,
                       const solver::SolveReport& loaded_report,
                       const Findings::OtherShape& other_shape) {
  const solver::Model& model = tote.model;
  const solver::ShellMesh& mesh = model.mesh;
  Findings found;
  found.empty = empty_report;
  found.loaded = loaded_report;
  found.triangles = mesh.n_triangles();
  found.vertices = mesh.n_nodes();
  found.bag_mass_kg = tote.bag_mass_kg;
  found.hung_for_s = tote.hung_for_s;
  found.weight_N = (tote.bag_mass_kg + scene.contents.mass_kg) * model.gravity_m_per_s2;

  found.bottom_sag_m = bottom_sag(tote, empty, loaded);
  found.overall_lengthening_m =
      lowest_point(mesh, empty.x, is_panel).z() - lowest_point(mesh, loaded.x, is_panel).z();
  found.strap_drop_empty_m = strap_drop(tote, empty);
  found.strap_drop_loaded_m = strap_drop(tote, loaded);
  found.strap_drop_lengthening_m = found.strap_drop_loaded_m - found.strap_drop_empty_m;

  found.loaded_fields = solver::shell_fields(model, loaded);
  const solver::ShellFields& fields = found.loaded_fields;
  const Eigen::Matrix3Xd panel_force = cloth_force(tote, fields);
  found.strap_seams = strap_seam_findings(tote, loaded, panel_force);
  found.hook_friction_needed = hook_friction_needed(scene, found.strap_seams);
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    if (!is_panel(mesh.triangles[i].region)) continue;
    const double force = largest_principal(panel_force.col(i));
    if (force <= found.peak_panel_force_N_per_m) continue;
    found.peak_panel_force_N_per_m = force;
    found.peak_panel_where = tote.triangle_part[tote.part[i]];
    const char* region = region_name(mesh.triangles[i].region);
    if (found.peak_panel_where != region) found.peak_panel_where += std::string(", ") + region;
  }
  found.base_sheet_stress_Pa = base_sheet_stress(scene, tote, fields, SheetStress::kBending);
  const double level = solver::fill_level(model, loaded, loaded_report.load_factor);
  if (model.fill.active() && std::isfinite(level)) {
    found.fill_level_m = level - lowest_point(mesh, loaded.x, is_panel).z();
  }
  found.things = things_found(scene, tote, loaded);
  found.unseen_wrinkles = solver::unseen_wrinkles(model, fields);
  const SurfaceCrossings crossings = surface_crossings(scene, tote, loaded);
  found.surface_crossings = crossings.pairs;
  found.surface_crossings_where = crossings.where;
  if (crossings.pairs > 0 && found.loaded.status == solver::SolveStatus::kConverged) {
    found.loaded.status = solver::SolveStatus::kNotConverged;
    found.loaded.failure = solver::SolveFailure::kCrossing;
  }
  found.utilisation = utilisations(scene, tote, loaded, fields);
  found.other_shape = other_shape;
  found.cautions = cautions(scene, tote, found);
  return found;
}

}  // namespace totebench::scenes
