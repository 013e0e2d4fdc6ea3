#include "app/present/hang_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/commands/scene_job.hpp"
#include "app/present/advice.hpp"
#include "app/present/circumstances_table.hpp"
#include "app/present/doubts.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/jumps.hpp"
#include "totebench/studies/likely_range.hpp"

namespace totebench::app {
namespace {

constexpr const scenes::Figure& kSag = scenes::figure_of<&scenes::Findings::bottom_sag_m>();

std::string no_equilibrium_text(const solver::SolveReport& report, const std::string& of) {
  if (report.status == solver::SolveStatus::kInterrupted) {
    return fmt::format("Stopped on request before {} was in equilibrium.\n", of);
  }
  std::string text =
      report.failure == solver::SolveFailure::kCrossing
          ? fmt::format("No answer: at rest, surfaces of {} pass through each other.\n", of)
          : fmt::format(
                "No equilibrium of {} was found: the search ended at {:.0f} % of the load "
                "with a residual of {:.1e} (wanted 1e-6 of the load).\n",
                of, 100 * report.load_factor, report.residual_relative);
  if (const std::string advice = advice_for(report); !advice.empty()) {
    text += "What to try: " + advice + ".\n";
  }
  return text;
}

std::string other_shape_text(const scenes::Findings& found, const std::string& units) {
  const auto& other = found.other_shape;
  if (other.starts_tried == 0) return "";
  if (!other.found) {
    return fmt::format("{} other start{} led to the same shape or to none (sag {} to {}).\n",
                       other.starts_tried, other.starts_tried == 1 ? "" : "s",
                       scenes::length_text(other.sag_low_m, units),
                       scenes::length_text(other.sag_high_m, units));
  }
  return fmt::format(
      "This bag can also rest in another shape, with a bottom sag of {} and a strap drop of {} ({} "
      "one by energy): shaken or filled in another way it may go there.\n",
      scenes::length_text(other.bottom_sag_m, units),
      scenes::length_text(other.strap_drop_m, units),
      other.energy_J < other.energy_of_first_J ? "the lower" : "the higher");
}

// "; on the way its shape snapped through at 74 % of the load".
std::string jump_text(const std::vector<solver::Jump>& jumps) {
  std::string text;
  for (const solver::Jump& jump : jumps) {
    text +=
        fmt::format("{} {} %", text.empty() ? "; on the way its shape snapped through at" : " and",
                    scenes::rough_text(100 * jump.load_before));
  }
  return text.empty() ? "" : text + " of the load";
}

std::string round_off_text(const solver::SolveReport& report) {
  if (!report.at_round_off) return "";
  return fmt::format(
      "In balance as far as numbers of this length allow: the residual is {:.1e} of the load, and "
      "the round-off of the internal forces may leave {:.1e}.\n",
      report.residual_relative, report.round_off_relative);
}

// ", hung for 30 min" where that makes a difference.
std::string hung_text(const scenes::Findings& found) {
  return found.hung_for_s > 0 ? ", hung for " + scenes::time_text(found.hung_for_s) : "";
}

// For how long the figures hold.
std::string time_line(const scenes::Findings& found) {
  if (found.hung_for_s > 0) {
    return fmt::format(
        "Time: these are the figures of a bag that has hung loaded for {} (contents.carried_for); "
        "its base sheet creeps, and is as stiff as after so long under load. Cloth, stabilizers "
        "and straps are those of a short test. totebench wear follows all of them for a year.",
        scenes::time_text(found.hung_for_s));
  }
  return "Time: these are the figures of a bag hung for a minute or so: nothing of it has creep "
         "data "
         "in the library. totebench wear follows it for a year.";
}

// "the bottom sags 8 mm, likely 6 to 11 mm,"; a bottom can also rise.
std::string sag_text(double sag_m, const std::string& likely, const std::string& units) {
  if (sag_m >= 0) return "the bottom sags " + scenes::length_text(sag_m, units) + likely;
  return fmt::format("the bottom lies {} higher in the bag than when empty{}",
                     scenes::length_text(-sag_m, units), likely);
}

std::string doubts_text(const studies::HangResult& result, const std::string& units) {
  std::string text;
  for (const Doubt& doubt : doubts(result, units)) {
    text += (text.empty() ? " Doubtful: " : "; ") + doubt.words;
  }
  return text.empty() ? text : text + ".";
}

}  // namespace

TextTable headline_rows(const studies::HangResult& result, const std::string& units) {
  const bool two_meshes = studies::mesh_before(result) != nullptr;
  const bool ranges = result.data_scatter || result.stitch_band;
  TextTable rows = {{"", "found"}};
  if (ranges) rows.front().emplace_back("likely range");
  if (two_meshes) rows.front().emplace_back("coarser mesh");
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (!figure.headline()) continue;
    const auto text = [&](double value) {
      return scenes::shown_text(value, figure.dimension, units);
    };
    const double found = figure.value(result.findings);
    std::vector<std::string> row = {figure.name, text(found)};
    // Fractions of an inch are hard to compare when small.
    const double inches = found * scenes::length_unit("in").per_SI;
    if (units == "in" && figure.dimension == scenes::Dimension::kLength && std::abs(inches) < 1) {
      row.back() += fmt::format(" ({:.2f})", inches);
    }
    if (figure.where != nullptr && !(result.findings.*figure.where).empty()) {
      row.front() += " (" + result.findings.*figure.where + ")";
    }
    if (ranges) {
      const std::optional<studies::Range> range = studies::likely_range(result, figure);
      row.push_back(range ? scenes::range_text(range->low, range->high, figure.dimension, units)
                          : "-");
    }
    if (two_meshes) {
      const std::optional<double> change = studies::mesh_change(result, figure);
      row.push_back(change ? "+- " + text(*change) : "-");
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<std::string> how_well_known(const studies::HangResult& result) {
  std::vector<std::string> text = {time_line(result.findings)};
  if (result.findings.bottom_sag_m < 0) {
    text.emplace_back(
        "A bottom sag below zero: the load draws flat what dipped more when the bag hung empty, or "
        "it spreads the walls and so lifts the bottom.");
  }
  const std::string mesh =
      studies::mesh_before(result) != nullptr ? "; what the mesh changes is added" : "";
  if (result.data_scatter) {
    const studies::DataScatter& scatter = *result.data_scatter;
    text.push_back(fmt::format(
        "Likely range of a length: about nine in ten such bags lie there if they settle in this "
        "shape, since materials differ as the library says (worked out on the coarse mesh){}.",
        mesh));
    const std::string from = studies::drivers_text(studies::drivers(scatter, kSag));
    if (!from.empty()) {
      text.back() += " For the sag it is mostly: " + from + ". Measure yours, and it narrows.";
    }
    if (scatter.own_materials) {
      text.back() += " Numbers of your own without a low and a high count as exact.";
    }
    if (scatter.unsolved > 0) {
      text.back() += fmt::format(
          " With {} of the numbers at an end of its range the bag did not come to rest; not "
          "counted.",
          scatter.unsolved);
    }
  }
  if (result.stitch_band) {
    text.push_back(
        fmt::format("Likely range of the hardest stitch: if stitches give twice or half as much as "
                    "estimated{}; "
                    "scatter of materials is not in it.",
                    mesh));
  }
  return text;
}

std::string sheet_stress_text(const scenes::Findings& found, const std::string& units) {
  std::string text = scenes::stress_text(found.base_sheet_stress_Pa, units);
  const auto use =
      std::find_if(found.utilisation.begin(), found.utilisation.end(),
                   [](const scenes::Utilisation& u) { return u.mode == "base_sheet"; });
  if (use == found.utilisation.end()) return text;
  return text + fmt::format(" ({} % of what it holds)", scenes::rough_text(100 * use->ratio));
}

TextTable support_rows(const scenes::Scene& scene, const studies::SheetHangResult& result,
                       const std::string& units) {
  const scenes::ShownUnit unit = scenes::force_unit(units);
  TextTable rows = {{"support", "its force x, " + unit.name, "y, " + unit.name, "z, " + unit.name}};
  const std::vector<Eigen::Vector3d> forces = studies::support_forces(result, result.steps.back());
  for (std::size_t i = 0; i < forces.size(); ++i) {
    const scenes::SheetSupport& support = scene.sheet.supports[i];
    const Eigen::Vector3d force = forces[i] * unit.per_SI;
    rows.push_back({support.where.empty() ? fmt::format("point {}", i + 1) : support.where,
                    scenes::number_text(force.x()), scenes::number_text(force.y()),
                    scenes::number_text(force.z())});
  }
  return rows;
}

std::string size_text(int triangles, const studies::HangEffort& effort) {
  return fmt::format("Computed in {} on a mesh of {} triangles.", scenes::time_text(effort.seconds),
                     triangles);
}

std::string load_text(const scenes::Scene& scene, const std::string& units) {
  return "with " + scenes::mass_text(scene.contents.mass_kg, units);
}

std::string hang_report(const scenes::Scene& scene, const studies::HangResult& result,
                        const std::string& units, const viz::Written& written,
                        const std::string& folder) {
  const scenes::Findings& found = result.findings;
  const std::string files =
      results_text(written, folder, "tote.png",
                   found.converged()
                       ? "shows the bag empty and loaded at one scale, with its sag and strap drop."
                       : "shows the last good state, which is not an answer.");
  if (!found.converged()) {
    const bool empty_failed = found.empty.status != solver::SolveStatus::kConverged;
    return no_equilibrium_text(empty_failed ? found.empty : found.loaded,
                               empty_failed ? "the empty bag" : "the loaded bag") +
           "\n" + files + cautions_text(found.cautions);
  }
  std::string text;
  if (result.stopped_early) {
    text =
        "Stopped on request before the finest mesh was done: the numbers are those of a coarser "
        "one.\n";
  }
  const std::optional<studies::Range> sag = studies::likely_range(result, kSag);
  const std::string likely_sag =
      sag ? fmt::format(" (likely {})",
                        scenes::range_text(sag->low, sag->high, kSag.dimension, units))
          : "";
  text += fmt::format("{} {}{}: {} and the bag hangs {} {} overall",
                      scene.name.empty() ? "The tote" : scene.name, load_text(scene, units),
                      hung_text(found), sag_text(found.bottom_sag_m, likely_sag, units),
                      scenes::length_text(std::abs(found.overall_lengthening_m), units),
                      found.overall_lengthening_m < 0 ? "higher" : "lower");
  if (const scenes::StrapSeamFinding* seam = scenes::hardest_pulled(found)) {
    text += fmt::format("; the hardest pulled stitch ({}) carries about {}", seam->name,
                        scenes::force_text(seam->peak_stitch_N, units));
  }
  text += jump_text(result.jumps) + "." + doubts_text(result, units) + "\n\n";
  text += table_text(headline_rows(result, units));
  if (result.ranges_stopped) {
    text += "Stopped on request before all likely ranges were known.\n";
  }
  for (const std::string& line : how_well_known(result)) text += line + "\n";
  if (const scenes::Findings* before = studies::mesh_before(result)) {
    text += fmt::format(
        "Coarser mesh: the change from a mesh of longer edges, of {} triangles; a finer one than "
        "this "
        "can change as much again.\n",
        before->triangles);
  }
  const TextTable circumstances = circumstance_rows(result, units);
  if (!circumstances.empty()) {
    const std::string most = circumstance_sentence(result, units);
    text += most + (most.empty() ? "\n" : "\n\n") + table_text(circumstances);
  }
  TextTable rows;
  if (found.base_sheet_stress_Pa > 0) {
    rows.push_back({scenes::figure_of<&scenes::Findings::base_sheet_stress_Pa>().name,
                    sheet_stress_text(found, units)});
  }
  if (found.hook_friction_needed >= 0.005) {  // less is 0.00
    rows.push_back({scenes::figure_of<&scenes::Findings::hook_friction_needed>().name,
                    fmt::format("{:.2f}", found.hook_friction_needed)});
  }
  if (found.fill_level_m > 0)
    rows.push_back({scenes::figure_of<&scenes::Findings::fill_level_m>().name,
                    scenes::length_text(found.fill_level_m, units)});
  if (!found.utilisation.empty()) {
    const scenes::Utilisation& used = found.utilisation.front();
    rows.push_back({"nearest to its strength",
                    scenes::rough_text(100 * used.ratio) + " % of it used", used.what});
  }
  rows.push_back({"weight hung, weight held", scenes::force_text(found.weight_N, units),
                  scenes::force_text(found.loaded.reaction_N.z(), units)});
  text += "\n" + table_text(rows);
  if (!found.strap_seams.empty()) text += "\n" + table_text(seam_rows(found, units));
  if (!found.things.empty()) text += "\n" + table_text(thing_rows(found, units));
  text += "\n" + size_text(found.triangles, result.effort) + "\n";
  return text + round_off_text(found.loaded) + other_shape_text(found, units) + "\n" + files +
         cautions_text(found.cautions);
}

std::string hang_report(const scenes::Scene& scene, const studies::SheetHangResult& result,
                        const std::string& units, const viz::Written& written,
                        const std::string& folder) {
  const bool done = result.report.status == solver::SolveStatus::kConverged;
  const std::string files =
      results_text(written, folder, "sheet.png",
                   done ? "shows where the sheet started and where it came to rest."
                        : "shows the last good state, which is not an answer.");
  if (!done) return no_equilibrium_text(result.report, "the sheet") + "\n" + files;
  const Eigen::Matrix3Xd& start = result.sheet.model.mesh.position;
  const solver::State& end = result.steps.back().state;
  std::string text =
      fmt::format("{}: at rest under its load; it moved by up to {}{}.\n\n",
                  scene.name.empty() ? "The sheet" : scene.name,
                  scenes::length_text((end.x - start).colwise().norm().maxCoeff(), units),
                  jump_text(result.jumps));
  for (const TextTable& probe : probe_tables(scene, result, units)) {
    text += table_text(probe) + "\n";
  }
  text += table_text(support_rows(scene, result, units)) + "\n";
  text += size_text(result.sheet.model.mesh.n_triangles(), result.effort) + "\n\n";
  text += round_off_text(result.report);
  for (const std::string& caution : result.cautions) text += "Caution: " + caution + "\n";
  return text + files;
}

}  // namespace totebench::app
