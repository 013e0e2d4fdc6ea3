#include <nlohmann/json.hpp>

#include "app/present/compare_report.hpp"
#include "app/present/findings_json.hpp"

namespace totebench::app {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kChief[] = {"bottom_sag_m", "overall_lengthening_m", "strap_drop_empty_m",
                                  "strap_drop_loaded_m", "peak_panel_force_N_per_m"};

}  // namespace

std::string comparison_json(const studies::Comparison& comparison) {
  Json json = {{"schema_version", 1},
               {"kind", "comparison"},
               {"status", comparison.all_converged() ? "converged" : "not_converged"},
               {"bags", Json::array()}};
  for (const studies::ComparedBag& bag : comparison.bags) {
    Json one = {{"name", bag.scene.name},
                {"note", bag.scene.note},
                {"different_from_first",
                 {{"added", bag.from_first.added},
                  {"removed", bag.from_first.removed},
                  {"changed", bag.from_first.changed}}}};
    if (!bag.impossible.empty()) {
      one["impossible"] = bag.impossible;
      one["findings"] = nullptr;
    } else {
      one["findings"] = Json::parse(findings_json(bag.scene, bag.result));
    }
    Json against = Json::object();
    const Json& first = json["bags"].empty() ? one["findings"] : json["bags"][0]["findings"];
    for (const char* key : kChief) {
      const bool both = one["findings"].is_object() && first.is_object() &&
                        one["findings"][key].is_number() && first[key].is_number();
      against[key] = both ? Json(one["findings"][key].get<double>() - first[key].get<double>())
                          : Json(nullptr);
    }
    one["against_first"] = against;
    json["bags"].push_back(std::move(one));
  }
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace totebench::app
