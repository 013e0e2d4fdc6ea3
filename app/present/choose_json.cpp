// choose.json: what `choose` found, in SI, for programs.
#include <cmath>
#include <nlohmann/json.hpp>

#include "app/present/choose_report.hpp"

namespace totebench::app {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kKeys[studies::kFigures] = {
    "bottom_sag_m",      "overall_lengthening_m", "strap_drop_loaded_m", "drops_load_share_used",
    "spoilt_share_used", "bag_mass_kg",           "standing_share_used", "price"};

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json figures_part(const studies::Figures& figures) {
  Json out = Json::object();
  for (std::size_t f = 0; f < studies::kFigures; ++f) {
    out[kKeys[f]] = f < figures.size() ? number(figures[f]) : Json(nullptr);
  }
  return out;
}

const char* known_word(studies::Known known) {
  switch (known) {
    case studies::Known::kPredicted:
      return "predicted";
    case studies::Known::kCoarse:
      return "coarse mesh";
    case studies::Known::kFull:
      return "full mesh";
    default:
      return "impossible";
  }
}

Json picks_part(const scenes::ChooseSpec& spec, const std::vector<int>& picks) {
  Json out = Json::object();
  for (std::size_t o = 0; o < picks.size(); ++o) {
    const scenes::Option& option = spec.options[o];
    out[option.name] = option.alternatives[static_cast<std::size_t>(picks[o])].name;
  }
  return out;
}

Json index_part(int build) { return build < 0 ? Json(nullptr) : Json(build); }

Json build_part(const studies::ChooseResult& r, std::size_t i) {
  const studies::ChooseBuild& build = r.builds[i];
  const studies::FoundBuild& found = r.search.builds[i];
  Json out = {{"build", i},
              {"picks", picks_part(r.spec, build.picks)},
              {"known_by", known_word(found.known)}};
  if (!build.impossible.empty()) {
    out["impossible"] = build.impossible;
    return out;
  }
  out["figures"] = figures_part(found.figures);
  if (!found.coarse.empty()) out["coarse_figures"] = figures_part(found.coarse);
  const studies::BuildSolve& solve = r.full[i].figures.empty() ? r.coarse[i] : r.full[i];
  if (!solve.drops_by.empty()) out["drops_load_by"] = solve.drops_by;
  if (!solve.spoils_by.empty()) out["spoilt_by"] = solve.spoils_by;
  out["meets_limits"] = found.solved() ? Json(found.meets()) : Json(nullptr);
  return out;
}

const char* status_of(const studies::ChooseResult& r) {
  if (r.interrupted) return "interrupted";
  if (r.search.chosen >= 0) return "chosen";
  return r.search.nearest >= 0 ? "none_meets_limits" : "not_converged";
}

}  // namespace

std::string choose_json(const scenes::Scene& scene, const studies::ChooseResult& r) {
  Json json = {
      {"schema_version", 1}, {"kind", "choice"}, {"name", scene.name}, {"status", status_of(r)}};
  if (r.interrupted) return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
  const studies::SearchResult& s = r.search;
  json["aim"] = r.spec.aim == scenes::ChooseAim::kLightest ? "lightest" : "cheapest";
  json["limits"] = figures_part(studies::figure_limits(r.spec.limits));
  if (r.load.carries_kg > 0) {
    json["load"] = {{"carries_kg", r.load.carries_kg},
                    {"design_factor", r.load.design_factor},
                    {"shock_factor", r.load.shock_factor}};
  }
  json["cautions"] = choose_cautions(r, "si");
  json["chosen"] = index_part(s.chosen);
  json["runner_up"] = index_part(s.runner_up);
  json["nearest_miss"] = index_part(s.nearest);
  json["front"] = s.front;
  Json missed = Json::object();
  for (std::size_t f = 0; f < studies::kFigures; ++f) {
    if (std::isfinite(studies::figure_limits(r.spec.limits)[f])) missed[kKeys[f]] = s.missed[f];
  }
  json["builds_of_less_cost_that_miss"] = missed;
  json["search"] = {{"builds", r.builds.size()},
                    {"possible", r.n_possible()},
                    {"solved_coarse", r.n_solved(false)},
                    {"solved_full", r.n_solved(true)},
                    {"ruled_out_by_prediction", s.ruled_out},
                    {"not_solved_for_cost", s.dearer},
                    {"undecided_on_coarse_mesh", s.undecided},
                    {"prediction_margins", figures_part(s.predict_margin)},
                    {"mesh_margins", figures_part(s.coarse_margin)}};
  json["builds"] = Json::array();
  for (std::size_t i = 0; i < r.builds.size(); ++i) json["builds"].push_back(build_part(r, i));
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace totebench::app
