#include "app/present/findings_json.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "app/present/advice.hpp"
#include "totebench/studies/likely_range.hpp"

namespace totebench::app {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kFindingsVersion = 1;

Json vector(const Eigen::Vector3d& v) { return {v.x(), v.y(), v.z()}; }

const char* status_text(bool converged) { return converged ? "converged" : "not_converged"; }

Json solve_part(const solver::SolveReport& report, const studies::HangEffort& effort,
                bool interrupted) {
  return {{"newton_iterations", effort.newton_iterations},
          {"factorisations", effort.factorisations},
          {"residual_relative", report.residual_relative},
          {"stable", report.stable},
          {"load_factor", report.load_factor},
          {"energy_J", report.energy_J},
          {"seconds", effort.seconds},
          {"interrupted", interrupted},
          {"advice", advice_for(report)}};
}

Json seam_part(const scenes::StrapSeamFinding& seam) {
  return {{"name", seam.name},
          {"force_N", vector(seam.force_N)},
          {"peak_N_per_m", seam.peak_N_per_m},
          {"mean_N_per_m", seam.mean_N_per_m},
          {"peak_stitch_N", seam.peak_stitch_N},
          {"mean_stitch_N", seam.mean_stitch_N},
          {"peak_stitch", seam.peak_stitch},
          {"shear_along_N_per_m", seam.shear_along_N_per_m},
          {"shear_across_N_per_m", seam.shear_across_N_per_m},
          {"peel_N_per_m", seam.peel_N_per_m},
          {"panel_force_N_per_m", seam.panel_force_N_per_m}};
}

// How far the headlines move from the mesh before.
Json mesh_changes(const studies::HangResult& result) {
  const scenes::Findings* before = studies::mesh_before(result);
  if (!result.findings.converged() || before == nullptr) return nullptr;
  Json json = {{"triangles_before", before->triangles}};
  for (std::size_t k = 0; k < studies::kHeadlines.size(); ++k) {
    if (const auto change = studies::mesh_change(result, k))
      json[studies::kHeadlines[k].key] = *change;
  }
  return json;
}

Json likely_ranges(const studies::HangResult& result) {
  Json json;
  for (std::size_t k = 0; k < studies::kHeadlines.size(); ++k) {
    const std::optional<studies::Range> range = studies::likely_range(result, k);
    if (!range) continue;
    Json& one = json[studies::kHeadlines[k].key] = {{"low", range->low}, {"high", range->high}};
    if (k >= studies::kHeadlineLengths) continue;
    one["from"] = Json::array();
    for (const studies::Driver& driver : studies::drivers(*result.data_scatter, k)) {
      one["from"].push_back({{"input", driver.input}, {"share", driver.share}});
    }
  }
  return json;
}

// The number an expectation names: a key of the findings; the largest over the strap seams for a
// key of theirs; "probes.<name>.displacement_z_m" for a probe. NaN when there is none.
double value_at(const Json& findings, const std::string& key) {
  if (findings.contains(key) && findings[key].is_number()) return findings[key].get<double>();
  double largest = std::nan("");
  if (findings.contains("strap_seams") && findings["strap_seams"].is_array()) {
    for (const Json& seam : findings["strap_seams"]) {
      if (!seam.contains(key) || !seam[key].is_number()) continue;
      const double value = seam[key].get<double>();
      if (!(value <= largest)) largest = value;
    }
  }
  if (key.rfind("probes.", 0) != 0 || !findings.contains("probes")) return largest;
  const std::string rest = key.substr(7);
  const std::size_t dot = rest.rfind('.');
  if (dot == std::string::npos) return largest;
  for (const Json& probe : findings["probes"]) {
    if (probe["name"] != rest.substr(0, dot)) continue;
    const std::string what = rest.substr(dot + 1);  // displacement_z_m, position_x_m
    const std::size_t axis =
        what.size() >= 3 ? std::string("xyz").find(what[what.size() - 3]) : std::string::npos;
    const std::string array = what.substr(0, what.find('_')) + "_m";
    if (axis != std::string::npos && probe.contains(array)) return probe[array][axis].get<double>();
  }
  return largest;
}

Json expectations(const scenes::Scene& scene, const Json& findings) {
  Json list = Json::array();
  for (const scenes::Expectation& expected : scene.expect) {
    const double value = value_at(findings, expected.key);
    list.push_back({{"key", expected.key},
                    {"low", expected.low},
                    {"high", expected.high},
                    {"value", value},
                    {"met", value >= expected.low && value <= expected.high}});
  }
  return list;
}

}  // namespace

std::string findings_json(const scenes::Scene& scene, const studies::HangResult& result) {
  const scenes::Findings& found = result.findings;
  const bool done = found.converged();
  const auto number = [&](double value) { return done ? Json(value) : Json(nullptr); };
  Json json;
  json["schema_version"] = kFindingsVersion;
  json["kind"] = "tote";
  json["name"] = scene.name;
  json["status"] = status_text(done);
  json["mesh"] = {{"triangles", found.triangles},
                  {"vertices", found.vertices},
                  {"degrees_of_freedom", found.loaded.degrees_of_freedom}};
  json["solve"] = solve_part(found.loaded, result.effort,
                             result.stopped_early || result.ranges_stopped || found.interrupted());
  if (done) json["solve"]["stable"] = found.empty.stable && found.loaded.stable;
  const Eigen::Vector3d weight(0, 0, found.weight_N);
  json["balance"] = {
      {"weight_N", found.weight_N},
      {"bag_mass_kg", found.bag_mass_kg},
      {"support_reaction_N", vector(found.loaded.reaction_N)},
      {"relative_error", found.weight_N > 0
                             ? number((found.loaded.reaction_N - weight).norm() / found.weight_N)
                             : Json(nullptr)}};
  if (result.stitch_band) {
    json["peak_stitch_band_N"] = {result.stitch_band->low_N, result.stitch_band->high_N};
  }
  json["mesh_change"] = mesh_changes(result);
  if (Json ranges = likely_ranges(result); done && !ranges.is_null()) json["likely_range"] = ranges;
  for (const studies::Headline& headline : studies::kHeadlines)
    json[headline.key] = number(headline.value(found));
  json["peak_panel_where"] = done ? Json(found.peak_panel_where) : Json(nullptr);
  json["base_sheet_stress_Pa"] = number(found.base_sheet_stress_Pa);
  json["hook_friction_needed"] = number(found.hook_friction_needed);
  json["fill_level_m"] = number(found.fill_level_m);
  json["strap_seams"] = Json::array();
  json["utilisation"] = Json::array();
  if (done) {
    for (const scenes::StrapSeamFinding& seam : found.strap_seams) {
      json["strap_seams"].push_back(seam_part(seam));
    }
    for (const scenes::Utilisation& used : found.utilisation) {
      json["utilisation"].push_back({{"what", used.what},
                                     {"demand", used.demand},
                                     {"capacity", used.capacity},
                                     {"unit", used.unit},
                                     {"ratio", used.ratio},
                                     {"source", used.source}});
    }
  }
  json["surface_crossings"] = found.surface_crossings;
  json["surface_crossings_where"] = found.surface_crossings_where;
  const auto& other = found.other_shape;
  json["other_shape"] = {{"starts_tried", other.starts_tried}, {"found", other.found}};
  if (other.starts_tried > 0) {
    json["other_shape"]["sag_low_m"] = other.sag_low_m;
    json["other_shape"]["sag_high_m"] = other.sag_high_m;
  }
  if (other.found) {
    json["other_shape"]["bottom_sag_m"] = other.bottom_sag_m;
    json["other_shape"]["strap_drop_m"] = other.strap_drop_m;
    json["other_shape"]["energy_J"] = other.energy_J;
    json["other_shape"]["energy_of_first_J"] = other.energy_of_first_J;
  }
  json["expectations"] = expectations(scene, json);
  json["cautions"] = found.cautions;
  return json.dump(2) + "\n";
}

std::string findings_json(const scenes::Scene& scene, const studies::SheetHangResult& result) {
  const solver::Model& model = result.sheet.model;
  const bool done = result.report.status == solver::SolveStatus::kConverged;
  Json json;
  json["schema_version"] = kFindingsVersion;
  json["kind"] = "sheet";
  json["name"] = scene.name;
  json["status"] = status_text(done);
  json["mesh"] = {{"triangles", model.mesh.n_triangles()},
                  {"vertices", model.mesh.n_nodes()},
                  {"degrees_of_freedom", result.report.degrees_of_freedom}};
  json["solve"] = solve_part(result.report, result.effort,
                             result.report.status == solver::SolveStatus::kInterrupted);
  json["balance"] = {{"applied_N", vector(result.report.applied_N)},
                     {"support_reaction_N", vector(result.report.reaction_N)},
                     {"relative_error", result.report.balance_relative}};
  const auto place = [&](int node, const solver::State& state) {
    return Json{{"position_m", vector(state.x.col(node))},
                {"displacement_m", vector(state.x.col(node) - model.mesh.position.col(node))}};
  };
  json["probes"] = Json::array();
  for (std::size_t i = 0; i < result.sheet.probe_nodes.size(); ++i) {
    const int node = result.sheet.probe_nodes[i];
    Json probe = {{"name", scene.sheet.probes[i].name}};
    probe.update(place(node, result.steps.back().state));
    probe["steps"] = Json::array();
    for (const solver::LoadStep& step : result.steps) {
      Json at = {{"load_factor", step.load_factor}};
      at.update(place(node, step.state));
      probe["steps"].push_back(at);
    }
    json["probes"].push_back(probe);
  }
  json["expectations"] = expectations(scene, json);
  json["cautions"] = Json::array();
  if (done && !result.report.stable) {
    json["cautions"].push_back(
        "The shape found is an equilibrium but not a stable one: the least push changes it.");
  }
  return json.dump(2) + "\n";
}

}  // namespace totebench::app
