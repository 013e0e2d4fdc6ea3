// findings.json: what a hanging tote and a hanging sheet have in common.
#include "app/present/fields/findings.hpp"

#include "app/present/advice.hpp"
#include "app/present/demand_text.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/findings_json.hpp"
#include "app/present/hang_report.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {

const Fields<scenes::Utilisation>& utilisation_fields() {
  using U = scenes::Utilisation;
  const auto in_its_unit = [](double U::*member) {
    return [member](const U& u, const std::string& units) {
      return demand_text(u.*member, u.unit, units);
    };
  };
  static const auto fields =
      Fields<U>("use", "One way to fail: what pulls, what holds.")
          .value("mode", &U::mode, "Short name of the mode.")
          .value("what", &U::what, "The same in words, with the place.")
          .shown("part")
          .value("ratio", &U::ratio,
                 "Demand over capacity; 1 = fails. Below 1 is no promise: capacities scatter, and "
                 "wear lowers them.")
          .shown("used", [](const U& u) { return scenes::rough_text(100 * u.ratio) + " %"; })
          .value("demand", &U::demand, "In `unit`.")
          .shown("bears", in_its_unit(&U::demand))
          .value("capacity", &U::capacity, "In `unit`.")
          .shown("holds up to", in_its_unit(&U::capacity))
          .value("unit", &U::unit, "N, N/m or Pa.")
          .value("drops_load", &U::drops_load,
                 "true: the load would fall; false: lasting damage, but the bag goes on carrying.")
          .shown("when it fails",
                 [](const U& u) { return u.drops_load ? "drops the load" : "lasting damage"; })
          .value("source", &U::source,
                 "Where the capacity comes from: ids of the library's sources, grade in brackets.")
          .value("grade", &U::grade, "The weakest grade among the data behind the capacity.")
          .shown("strength from", [](const U& u) { return short_grade(u.grade); });
  return fields;
}

const Fields<Mesh>& mesh_fields() {
  static const auto fields = Fields<Mesh>("mesh", "The mesh the numbers belong to.")
                                 .value("triangles", &Mesh::triangles, "Second-order triangles.")
                                 .value("vertices", &Mesh::vertices, "Corners and mid-edge points.")
                                 .value("degrees_of_freedom", &Mesh::degrees_of_freedom,
                                        "Unknowns of the last equilibrium.");
  return fields;
}

namespace {

const Fields<studies::StageEffort>& stage_fields() {
  using S = studies::StageEffort;
  const auto time = [](auto member) { return [member](const S& s) { return s.times.*member; }; };
  using T = solver::WorkTimes;
  static const auto fields =
      Fields<S>("stage", "Work of one stage. Seconds are of the clock on the wall.")
          .value("stage", &S::stage, "Which equilibrium was looked for, on which mesh.")
          .shown("stage")
          .value("degrees_of_freedom", &S::degrees_of_freedom, "Unknowns.")
          .shown("unknowns")
          .value("newton_iterations", &S::newton_iterations, "Steps of Newton's method.")
          .shown("steps")
          .value("factorisations", &S::factorisations, "Matrix factorisations.")
          .shown("factors")
          .value("assembly_s", time(&T::assembly), "Forces and stiffness.")
          .shown("assembly")
          .value("contact_s", time(&T::contact),
                 "What lies near what, how far a step may go before surfaces meet.")
          .shown("contact")
          .value("ordering_s", time(&T::ordering), "Order of the equations.")
          .shown("ordering")
          .value("factorisation_s", time(&T::factorisation), "Of the stiffness matrix.")
          .shown("factorise")
          .value("substitution_s", time(&T::substitution), "Solving with its factor.")
          .shown("substitute")
          .value("line_search_s", time(&T::line_search), "Energies of shapes that were tried.")
          .shown("line search")
          .value("whole_s", time(&T::whole), "All of it.")
          .shown("all");
  return fields;
}

}  // namespace

TextTable stage_rows(const studies::HangEffort& effort) {
  return shown_table(stage_fields(), effort.stages, "si");
}

const Fields<Solve>& solve_fields() {
  const auto report = [](auto member) {
    return [member](const Solve& s) { return s.report.*member; };
  };
  using R = solver::SolveReport;
  static const auto fields =
      Fields<Solve>("solve", "How it was solved.")
          .value(
              "newton_iterations", [](const Solve& s) { return s.effort.newton_iterations; },
              "Over all meshes, load steps and starts.")
          .value(
              "factorisations", [](const Solve& s) { return s.effort.factorisations; },
              "Matrix factorisations, likewise.")
          .value("residual_relative", report(&R::residual_relative),
                 "Out-of-balance force on free nodes over the load, loaded state. Moved supports "
                 "count as load.")
          .or_null("where no step was taken")
          .value("round_off_relative", report(&R::round_off_relative),
                 "What the round-off of the internal forces alone may leave of that, over the "
                 "same load.")
          .value("at_round_off", report(&R::at_round_off),
                 "true: the residual stands at its round-off, above the usual 1e-6, and was "
                 "accepted.")
          .value("stable", &Solve::stable,
                 "The second variation of the energy is positive definite, empty and loaded: a "
                 "small push dies out.")
          .value("load_factor", report(&R::load_factor),
                 "Share of the load carried by the loaded state.")
          .value("energy_J", report(&R::energy_J), "Total potential energy of the loaded state.")
          .value(
              "seconds", [](const Solve& s) { return s.effort.seconds; },
              "Wall-clock time of the whole study.")
          .value(
              "meshing_s", [](const Solve& s) { return s.effort.meshing_s; },
              "Building the bag on all its meshes.")
          .list(
              "stages", [](const Solve& s) -> const auto& { return s.effort.stages; },
              stage_fields(), "Stage by stage, as they ended.")
          .value("interrupted", &Solve::interrupted, "Stopped on request.")
          .value(
              "advice", [](const Solve& s) { return advice_for(s.report); },
              "What to try when there is no equilibrium.");
  return fields;
}

const Fields<solver::Jump>& jump_fields() {
  using J = solver::Jump;
  static const auto fields =
      Fields<J>("jump", "The shape snapping through while the load rose.")
          .value("load_before", &J::load_before,
                 "Share of the load: the last equilibrium in the old shape. The limit load lies "
                 "between this and `load_after`.")
          .value("load_after", &J::load_after,
                 "Share of the load: the first equilibrium in the new shape.")
          .value("moved_m", &J::moved_m, "Furthest that a point went between the two.")
          .value("energy_drop_J", &J::energy_drop_J, "Energy that the jump sets free.");
  return fields;
}

const Fields<Expected>& expected_fields() {
  static const auto fields =
      Fields<Expected>("expectation", "What the scene expects of its own result.")
          .value(
              "key", [](const Expected& e) { return e.expectation.key; },
              "Key of this file or of its strap seams, or probes.<name>.displacement_<axis>_m.")
          .value(
              "low", [](const Expected& e) { return e.expectation.low; }, "Least expected.")
          .value(
              "high", [](const Expected& e) { return e.expectation.high; }, "Largest expected.")
          .value("value", &Expected::value, "Found; of strap seams the largest.")
          .or_null("where there is no such result")
          .value(
              "met",
              [](const Expected& e) {
                return e.value >= e.expectation.low && e.value <= e.expectation.high;
              },
              "low <= value <= high.");
  return fields;
}

std::string findings_json(const scenes::Scene& scene, const studies::HangResult& result) {
  return file_of(tote_fields(), ToteFindings{scene, result});
}

std::string findings_json(const scenes::Scene& scene, const studies::SheetHangResult& result) {
  return file_of(sheet_fields(), SheetFindings{scene, result});
}

std::string findings_schema() {
  Json definitions = Json::object();
  const Json tote = tote_fields().schema(definitions);
  const Json sheet = sheet_fields().schema(definitions);
  const Json is_tote = {{"properties", {{"kind", {{"const", "tote"}}}}}, {"required", {"kind"}}};
  return schema_text("What `totebench hang` found (findings.json)",
                     {{"if", is_tote}, {"then", tote}, {"else", sheet}}, definitions);
}

}  // namespace totebench::app
