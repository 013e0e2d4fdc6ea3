// carry.json, and the table of what was done with the bag.
#include "app/present/carry_report.hpp"
#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "totebench/scenes/unit_text.hpp"

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
  // 1 is the bag hanging still, by definition.
  const auto factor = [](double E::*member) {
    return [member](const E& e) { return e.*member == 1 ? "1" : scenes::number_text(e.*member); };
  };
  static const auto fields =
      Fields<E>("event", "Something done with the bag.")
          .value("name", &E::name, "What.")
          .shown("carried")
          .value("complete", &E::complete, "It ran to its end.")
          .value("dynamic_factor", &E::dynamic_factor, "Peak support force over the weight.")
          .shown("on the hand", factor(&E::dynamic_factor))
          .shown_if(&E::complete, "not finished")
          .value("floor_factor", &E::floor_factor, "Peak force of the floor over the weight.")
          .shown("on the floor")
          .shown_if([](const E& e) { return e.complete && e.floor_factor > 0; })
          .value("peak_stitch_N", &E::peak_stitch_N,
                 "Largest force on a stitch, over time and strap seams.")
          .shown("peak stitch")
          .shown_if(&E::complete)
          .value("stitch_factor", &E::stitch_factor, "That over the same when hanging still.")
          .shown("times still", factor(&E::stitch_factor))
          .shown_if(&E::complete)
          .value("bottom_sag_m", &E::bottom_sag_m, "Largest bottom sag.")
          .shown_with_unit("largest sag")
          .shown_if(&E::complete)
          .value("source", &E::source, "Of its numbers, with their grade.")
          .shown("load data");
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
          "What limits these numbers.");
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

TextTable carry_table(const studies::CarryResult& result, const std::string& units) {
  studies::CarryEventResult still;
  still.name = "hanging still";
  still.complete = true;
  still.dynamic_factor = still.stitch_factor = 1;
  still.peak_stitch_N = result.still_stitch_N;
  still.bottom_sag_m = result.still.findings.bottom_sag_m;
  TextTable table = shown_table(carry_event_fields(), result.events, units);
  table.insert(table.begin() + 1, shown_row(carry_event_fields(), still, units));
  return table;
}

std::string carry_schema() {
  return schema_of("What `totebench carry` found (carry.json)", carry_fields());
}

}  // namespace totebench::app
