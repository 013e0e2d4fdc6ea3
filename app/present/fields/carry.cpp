// carry.json.
#include "app/present/carry_report.hpp"
#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"

namespace totebench::app {
namespace {

struct Carried {
  const scenes::Scene& scene;
  const studies::CarryResult& result;
  const studies::CarryOptions& options;
};

const Fields<solver::Mode>& vibration_fields() {
  using M = solver::Mode;
  static const auto fields = Fields<M>("mode", "A free vibration of the loaded bag.")
                                 .value("frequency_Hz", &M::frequency_Hz, "How often a second.")
                                 .value("mass_share", &M::mass_share,
                                        "Share of the whole mass that moves in it along x, y, z.");
  return fields;
}

const Fields<studies::CarryEventResult>& carry_event_fields() {
  using E = studies::CarryEventResult;
  static const auto fields =
      Fields<E>("event", "Something done with the bag.")
          .value("name", &E::name, "What.")
          .value("source", &E::source, "Of its numbers, with their grade.")
          .value("complete", &E::complete, "It ran to its end.")
          .value("dynamic_factor", &E::dynamic_factor, "Peak support force over the weight.")
          .value("floor_factor", &E::floor_factor, "Peak force of the floor over the weight.")
          .value("peak_stitch_N", &E::peak_stitch_N,
                 "Largest force on a stitch, over time and strap seams.")
          .value("stitch_factor", &E::stitch_factor, "That over the same when hanging still.")
          .value("bottom_sag_m", &E::bottom_sag_m, "Largest bottom sag.");
  return fields;
}

Fields<Carried> made_carry_fields() {
  using C = Carried;
  const auto result = [](auto member) { return [member](const C& c) { return c.result.*member; }; };
  using R = studies::CarryResult;
  auto fields = result_fields<C>("carry", "What carrying does to a bag.", "carry",
                                 [](const C& x) { return x.scene.name; });
  fields
      .value(
          "cadence_Hz", [](const C& c) { return c.options.cadence_Hz; }, "Steps of walking.")
      .value(
          "damping_ratio", [](const C& c) { return c.options.damping_ratio; },
          "Of critical, at the bounce frequency.")
      .value(
          "weight_N", [](const C& c) { return c.result.still.findings.weight_N; },
          "Bag and contents.")
      .value("bounce_Hz", result(&R::bounce_Hz), "Of the mode that moves most mass up and down.")
      .value("bounce_mass_share", result(&R::bounce_mass_share), "How much of the mass that moves.")
      .value("time_step_s", result(&R::time_step_s), "Of the computation.")
      .value("still_peak_stitch_N", result(&R::still_stitch_N),
             "Largest force on a stitch, hanging still.")
      .value(
          "still_bottom_sag_m", [](const C& c) { return c.result.still.findings.bottom_sag_m; },
          "Bottom sag, hanging still.")
      .list("modes", result(&R::modes), vibration_fields(), "The lowest first.")
      .list("events", result(&R::events), carry_event_fields(), "What was done with the bag.")
      .value(
          "cautions", [](const C& c) { return carry_cautions(c.result, c.scene.units); },
          "What to bear in mind with these numbers.");
  return fields;
}

const Fields<Carried>& carry_fields() {
  static const Fields<Carried> fields = made_carry_fields();
  return fields;
}

}  // namespace

std::string carry_json(const scenes::Scene& scene, const studies::CarryResult& result,
                       const studies::CarryOptions& options) {
  return file_of(carry_fields(), Carried{scene, result, options});
}

std::string carry_schema() {
  return schema_of("What `totebench carry` found (carry.json)", carry_fields());
}

}  // namespace totebench::app
