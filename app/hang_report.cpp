#include "app/hang_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/scene_job.hpp"
#include "viz/unit_text.hpp"

namespace totebench {
namespace {

std::string no_equilibrium_text(const SolveReport& report, const std::string& of) {
  if (report.status == SolveStatus::kInterrupted) {
    return fmt::format("Stopped on request before {} was in equilibrium.\n", of);
  }
  std::string text = fmt::format(
      "No equilibrium of {} was found: the search ended {} % of the load with a residual of "
      "{:.1e} (wanted 1e-6 of the load).\n",
      of, fmt::format("at {:.0f}", 100 * report.load_factor), report.residual_relative);
  if (!report.advice.empty()) text += "What to try: " + report.advice + ".\n";
  return text;
}

std::string other_shape_text(const Findings& found, const std::string& units) {
  const auto& other = found.other_shape;
  if (other.starts_tried == 0) return "";
  if (!other.found) {
    return fmt::format("{} other start{} led to the same shape or to none (sag {} to {}).\n",
                       other.starts_tried, other.starts_tried == 1 ? "" : "s",
                       length_text(other.sag_low_m, units), length_text(other.sag_high_m, units));
  }
  return fmt::format(
      "This bag can also rest in another shape, with a bottom sag of {} and a strap drop of {} ({} "
      "one by energy): shaken or filled in another way it may go there.\n",
      length_text(other.bottom_sag_m, units), length_text(other.strap_drop_m, units),
      other.energy_J < other.energy_of_first_J ? "the lower" : "the higher");
}

}  // namespace

std::string stitch_band_text(const StitchBand& band, const std::string& units) {
  return fmt::format(
      "The hardest pulled stitch carries {} to {} if stitches give twice or half as much as is "
      "taken "
      "here: their give is an estimate.\n",
      force_text(band.low_N, units), force_text(band.high_N, units));
}

TextTable seam_rows(const Findings& found, const std::string& units) {
  const ShownUnit line = line_force_unit(units), force = force_unit(units);
  TextTable rows = {{"strap seam", "pull, " + force.name, "peak stitch, " + force.name,
                     "mean stitch, " + force.name, "along, " + line.name, "across, " + line.name,
                     "peel, " + line.name}};
  for (const StrapSeamFinding& seam : found.strap_seams) {
    rows.push_back({seam.name, number_text(seam.force_N.norm() * force.per_SI),
                    number_text(seam.peak_stitch_N * force.per_SI),
                    number_text(seam.mean_stitch_N * force.per_SI),
                    number_text(seam.shear_along_N_per_m * line.per_SI),
                    number_text(seam.shear_across_N_per_m * line.per_SI),
                    number_text(seam.peel_N_per_m * line.per_SI)});
  }
  return rows;
}

std::string load_text(const Scene& scene, const std::string& units) {
  const ShownUnit unit = mass_unit(units);
  const double shown = scene.contents.mass_kg * unit.per_SI;
  std::string mass = fmt::format("{:.3g}", shown);
  return fmt::format("with {} {}", mass, unit.name);
}

std::string hang_report(const Scene& scene, const HangResult& result, const std::string& units,
                        const Written& written, const std::string& folder) {
  const Findings& found = result.findings;
  const std::string files =
      results_text(written, folder, "tote.png",
                   found.converged()
                       ? "shows the bag empty and loaded at one scale, with its sag and strap drop."
                       : "shows the last good state, which is not an answer.");
  if (!found.converged()) {
    const bool empty_failed = found.empty.status != SolveStatus::kConverged;
    return no_equilibrium_text(empty_failed ? found.empty : found.loaded,
                               empty_failed ? "the empty bag" : "the loaded bag") +
           "\n" + files + cautions_text(found.cautions);
  }
  const auto length = [&](double value) { return length_text(value, units); };
  std::string text;
  if (result.stopped_early) {
    text =
        "Stopped on request before the finest mesh was done: the numbers are those of a coarser "
        "one.\n";
  }
  text += fmt::format("{} {}: the bottom sags {} and the bag hangs {} lower overall",
                      scene.name.empty() ? "The tote" : scene.name, load_text(scene, units),
                      length(found.bottom_sag_m), length(found.overall_lengthening_m));
  if (const StrapSeamFinding* seam = hardest_pulled(found)) {
    text += fmt::format("; the hardest pulled stitch ({}) carries {}", seam->name,
                        force_text(seam->peak_stitch_N, units));
  }
  text += ".\n\n";
  const Findings* coarse = result.coarse_findings ? &*result.coarse_findings : nullptr;
  const bool two_meshes = coarse != nullptr && coarse->triangles < found.triangles;
  const auto length_row = [&](const std::string& name, double Findings::*key) {
    std::vector<std::string> row = {name, length(found.*key)};
    if (two_meshes) row.push_back("+- " + length(std::abs(found.*key - coarse->*key)));
    return row;
  };
  TextTable rows = {
      length_row("bottom sag", &Findings::bottom_sag_m),
      length_row("overall lengthening", &Findings::overall_lengthening_m),
      length_row("strap drop, empty", &Findings::strap_drop_empty_m),
      length_row("strap drop, loaded", &Findings::strap_drop_loaded_m),
      length_row("strap drop, longer by", &Findings::strap_drop_lengthening_m),
      {"peak force in a panel", line_force_text(found.peak_panel_force_N_per_m, units),
       found.peak_panel_where}};
  if (found.base_sheet_stress_Pa > 0) {
    rows.push_back(
        {"bending stress in the base sheet", stress_text(found.base_sheet_stress_Pa, units)});
  }
  if (found.hook_friction_needed >= 0.005) {  // less is 0.00
    rows.push_back({"friction the strap needs on the hook",
                    fmt::format("{:.2f}", found.hook_friction_needed)});
  }
  if (found.fill_level_m > 0) rows.push_back({"filled to", length(found.fill_level_m)});
  if (!found.utilisation.empty()) {
    const Utilisation& used = found.utilisation.front();
    rows.push_back({"most used up", fmt::format("{:.0f} %", 100 * used.ratio), used.what});
  }
  rows.push_back({"weight in, support out", force_text(found.weight_N, units),
                  force_text(found.loaded.reaction_N.z(), units)});
  text += table_text(rows);
  if (!found.strap_seams.empty()) text += "\n" + table_text(seam_rows(found, units));
  if (result.stitch_band) text += "\n" + stitch_band_text(*result.stitch_band, units) + "\n";
  if (two_meshes) {
    text += fmt::format(
        "\n+- is the change from the mesh before, of {} triangles. The scatter of "
        "the material data comes on top.",
        coarse->triangles);
  }
  text += fmt::format("\n{} triangles, {} unknowns, {} Newton steps, {:.1f} s\n", found.triangles,
                      found.loaded.degrees_of_freedom, result.effort.newton_iterations,
                      result.effort.seconds);
  return text + other_shape_text(found, units) + "\n" + files + cautions_text(found.cautions);
}

std::string hang_report(const Scene& scene, const SheetHangResult& result, const std::string& units,
                        const Written& written, const std::string& folder) {
  const bool done = result.report.status == SolveStatus::kConverged;
  const std::string files =
      results_text(written, folder, "sheet.png",
                   done ? "shows where the sheet started and where it came to rest."
                        : "shows the last good state, which is not an answer.");
  if (!done) return no_equilibrium_text(result.report, "the sheet") + "\n" + files;
  const Eigen::Matrix3Xd& start = result.sheet.model.mesh.position;
  const State& end = result.steps.back().state;
  std::string text = fmt::format("{}: at rest under its load; it moved by up to {}.\n\n",
                                 scene.name.empty() ? "The sheet" : scene.name,
                                 length_text((end.x - start).colwise().norm().maxCoeff(), units));
  const ShownUnit unit = length_unit(units);
  for (std::size_t i = 0; i < result.sheet.probe_nodes.size(); ++i) {
    const int node = result.sheet.probe_nodes[i];
    TextTable rows = {{"probe " + scene.sheet.probes[i].name, "moved x, " + unit.name,
                       "y, " + unit.name, "z, " + unit.name}};
    for (const LoadStep& step : result.steps) {
      const Eigen::Vector3d moved = (step.state.x.col(node) - start.col(node)) * unit.per_SI;
      rows.push_back({fmt::format("load at {:.0f} %", 100 * step.load_factor),
                      number_text(moved.x()), number_text(moved.y()), number_text(moved.z())});
    }
    text += table_text(rows) + "\n";
  }
  text += fmt::format("{} triangles, {} unknowns, {} Newton steps, {:.1f} s\n\n",
                      result.sheet.model.mesh.n_triangles(), result.report.degrees_of_freedom,
                      result.effort.newton_iterations, result.effort.seconds);
  if (!result.report.stable) {
    text += "Mind: this is an equilibrium but not a stable one; the least push changes it.\n";
  }
  return text + files;
}

}  // namespace totebench
