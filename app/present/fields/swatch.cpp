// swatch.json.
#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/swatch_report.hpp"

namespace totebench::app {
namespace {

struct Fitted {
  const scenes::Swatch& swatch;
  const scenes::SwatchFit& fit;
};

struct Measured {
  const std::string& property;
  const materials::Quantity& quantity;
};

std::vector<Measured> measured_properties(const Fitted& f) {
  std::vector<Measured> list;
  for (const std::string& name : f.fit.measured) list.push_back({name, f.fit.material.get(name)});
  return list;
}

const Fields<Measured>& measured_fields() {
  using M = Measured;
  const auto quantity = [](auto member) {
    return [member](const M& m) { return m.quantity.*member; };
  };
  using Q = materials::Quantity;
  static const auto fields =
      Fields<M>("measured", "A property that was measured.")
          .value(
              "property", [](const M& m) { return m.property; }, "Name in the material file.")
          .value("value", quantity(&Q::value), "From the mean reading, in `unit`.")
          .value("low", quantity(&Q::low), "Low end of the band, in `unit`.")
          .value("high", quantity(&Q::high), "High end of the band, in `unit`.")
          .value("unit", quantity(&Q::unit), "SI.")
          .value("how", quantity(&Q::note), "By which tests.");
  return fields;
}

const Fields<scenes::StripFit>& test_fields() {
  using S = scenes::StripFit;
  const char* when = "where the solver found it";
  static const auto fields =
      Fields<S>("test", "A test of a strip, by formula and by solver.")
          .value("test", &S::what, "Which test.")
          .value("property", &S::property, "What it gives.")
          .value("readings", &S::n_readings, "How many were taken.")
          .value("reading_m", &S::reading_m, "Their mean.")
          .choice(
              "unit", {"N/m", "N m"},
              [](const S& s) { return s.kind == scenes::StripTestKind::kStretch ? "N/m" : "N m"; },
              "Of what it gives.")
          .value("formula", &S::formula, "Value by the formula of the books, in `unit`.")
          .value("found", &S::found, "The solver found a strip that reads the same.")
          .value("triangles", &S::triangles, "Of its mesh.")
          .value(
              "solver", [](const S& s) { return s.fit.value; }, "Value by the solver, in `unit`.")
          .only_if(&S::found, when)
          .value(
              "solver_low", [](const S& s) { return s.fit.low; }, "Low end, in `unit`.")
          .only_if(&S::found, when)
          .value(
              "solver_high", [](const S& s) { return s.fit.high; }, "High end, in `unit`.")
          .only_if(&S::found, when);
  return fields;
}

Fields<Fitted> made_swatch_fields() {
  using F = Fitted;
  auto fields = result_fields<F>("swatch", "What was measured on a cloth.", "swatch",
                                 [](const F& x) { return x.swatch.name; });
  fields
      .value(
          "id", [](const F& f) { return f.fit.material.id; }, "Id of the material made of it.")
      .value(
          "like", [](const F& f) { return f.swatch.like; },
          "Id of the material that gives what was not measured.")
      .choice(
          "status", {"converged", "not_converged"},
          [](const F& f) { return f.fit.complete ? "converged" : "not_converged"; },
          "converged: every strip was fitted.")
      .list("measured", measured_properties, measured_fields(), "Properties that were measured.")
      .list(
          "tests", [](const F& f) -> const std::vector<scenes::StripFit>& { return f.fit.strips; },
          test_fields(), "Test by test.")
      .value(
          "cautions", [](const F& f) { return swatch_cautions(f.fit); },
          "What to bear in mind with these numbers.");
  return fields;
}

const Fields<Fitted>& swatch_fields() {
  static const Fields<Fitted> fields = made_swatch_fields();
  return fields;
}

}  // namespace

std::string swatch_json(const scenes::Swatch& swatch, const scenes::SwatchFit& fit) {
  return file_of(swatch_fields(), Fitted{swatch, fit});
}

std::string swatch_schema() {
  return schema_of("What `totebench swatch` found (swatch.json)", swatch_fields());
}

}  // namespace totebench::app
