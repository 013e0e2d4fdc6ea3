// rating.json: what `rate` found, in SI, for programs; described in scenes/rating.schema.json.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "app/present/rate_report.hpp"

namespace totebench::app {
namespace {

using Json = nlohmann::ordered_json;

constexpr int kRatingVersion = 1;

Json use_part(const scenes::Utilisation& use) {
  return {{"mode", use.mode},         {"what", use.what},   {"demand", use.demand},
          {"capacity", use.capacity}, {"unit", use.unit},   {"ratio", use.ratio},
          {"source", use.source},     {"grade", use.grade}, {"drops_load", use.drops_load}};
}

Json failure_part(const studies::FirstFailure& f, double set_mass_kg) {
  Json json = {{"found", f.found}};
  if (f.found) {
    json["mass_kg"] = f.load_factor * set_mass_kg;
    json["governing"] = use_part(f.governing);
  } else {
    json["held_mass_kg"] = f.load_factor * set_mass_kg;
    json["why_not"] = f.why_not;
  }
  return json;
}

Json spread_part(const studies::Spread& spread, const std::vector<studies::ScatterInput>& inputs) {
  Json json = {{"bags", spread.sampled_kg.count}};
  if (spread.sampled_kg.count > 0) {
    json["low_5_percent_kg"] = spread.sampled_kg.low;
    json["median_kg"] = spread.sampled_kg.middle;
    json["high_95_percent_kg"] = spread.sampled_kg.high;
    json["mean_kg"] = spread.sampled_kg.mean;
    json["deviation_kg"] = spread.sampled_kg.deviation;
  }
  json["first_order_deviation_kg"] = spread.first_order_kg;
  json["governed_by"] = Json::object();
  for (const auto& [mode, count] : spread.governed_by) json["governed_by"][mode] = count;
  json["drivers"] = Json::array();
  std::vector<std::size_t> order;
  for (std::size_t i = 0; i < spread.first_order.share.size(); ++i) order.push_back(i);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return spread.first_order.share[a] > spread.first_order.share[b];
  });
  for (const std::size_t i : order) {
    if (spread.first_order.share[i] < 1e-4) break;
    const studies::ScatterInput& in = inputs[i];
    json["drivers"].push_back({{"kind", in.kind},
                               {"id", in.id},
                               {"property", in.property},
                               {"low", in.low},
                               {"value", in.value},
                               {"high", in.high},
                               {"grade", in.grade},
                               {"slope_kg_per_unit", spread.first_order.slope[i]},
                               {"share_of_variance", spread.first_order.share[i]}});
  }
  return json;
}

Json comfort_part(const studies::Comfort& c) {
  return {{"on_shoulder", c.on_shoulder},
          {"hand_pressure_low_Pa", c.low_Pa},
          {"hand_pressure_high_Pa", c.high_Pa},
          {"hand_pressure_limit_Pa", c.limit_Pa},
          {"two_hand_lifting_constant_kg", c.load_constant_kg},
          {"one_hand_share", c.one_hand_share},
          {"one_hand_advice_kg", c.one_hand_kg},
          {"body_mass_share", c.body_mass_share}};
}

}  // namespace

std::string rating_json(const scenes::Scene& scene, const studies::RateResult& result) {
  const studies::Rating& r = result.rating;
  const bool done = result.rated();
  Json json;
  json["schema_version"] = kRatingVersion;
  json["name"] = scene.name;
  json["status"] = done ? "rated" : "not_rated";
  json["interrupted"] = result.interrupted;
  json["cautions"] = rating_cautions(scene, result, scene.units);
  json["set_mass_kg"] = r.set_mass_kg;
  json["rated_mass_kg"] = done ? Json(r.rated_kg) : Json(nullptr);
  if (!done) return json.dump(2) + "\n";
  json["rated_by"] = r.spoiling_governs ? "spoilt" : "drops";
  json["governing_grade"] = r.weakest_grade;
  if (!r.factor_grade.empty()) json["factor_grade"] = r.factor_grade;
  json["design_factor"] = r.design_factor;
  json["shock_factor"] = r.shock_factor;
  json["drops_load"] = failure_part(r.drops, r.set_mass_kg);
  json["drops_load"]["spread"] = spread_part(r.drops_spread, r.inputs);
  json["drops_load"]["rating_kg"] = r.drops_rating_kg;
  json["spoilt"] = failure_part(r.spoilt, r.set_mass_kg);
  json["spoilt"]["spread"] = spread_part(r.spoilt_spread, r.inputs);
  json["spoilt"]["rating_kg"] = r.spoilt_rating_kg;
  json["utilisation"] = Json::array();
  for (const scenes::Utilisation& use : result.hang.findings.utilisation) {
    json["utilisation"].push_back(use_part(use));
  }
  json["changes"] = Json::array();
  for (std::size_t i = 0; i < r.changes.size(); ++i) {
    const studies::Change& change = r.changes[i];
    Json entry = {{"what", change.what}, {"cost_rank", change.cost_rank}};
    entry["rated_mass_kg"] =
        change.solved ? Json(studies::rounded_down_kg(change.rated_kg)) : Json(nullptr);
    entry["advised"] = r.advised == static_cast<int>(i);
    if (change.solved) {
      entry["drops_load"] = failure_part(change.drops, r.set_mass_kg);
      entry["spoilt"] = failure_part(change.spoilt, r.set_mass_kg);
    } else {
      entry["why_not"] = change.why_not;
    }
    json["changes"].push_back(entry);
  }
  json["comfort_at_set_mass"] = comfort_part(result.at_set_load);
  json["comfort_at_rated_mass"] = comfort_part(result.at_rated_load);
  json["sampled_bags"] = r.bags.size();
  json["sampled_bags_without_failure"] = r.bags_failed;
  json["seconds"] = result.seconds;
  return json.dump(2) + "\n";
}

}  // namespace totebench::app
