// swatch.json, and the tables of properties and of tests.
#include <fmt/format.h>

#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/swatch_report.hpp"
#include "totebench/scenes/unit_text.hpp"

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

// From limp cloth to a base sheet rigidities span six powers of ten.
scenes::ShownUnit rigidity_unit(double rigidity_N_m) {
  if (rigidity_N_m < 1e-3) return {1e6, "uN m"};
  return rigidity_N_m < 1 ? scenes::ShownUnit{1e3, "mN m"} : scenes::ShownUnit{1, "N m"};
}

// The unit a person reads a property in.
scenes::ShownUnit property_unit(const std::string& si_unit, double value_SI,
                                const std::string& units) {
  if (si_unit == "N m") return rigidity_unit(value_SI);
  if (si_unit == "Pa") return scenes::stress_unit(units);
  if (si_unit == "m") return scenes::fine_length_unit(units);
  if (si_unit == "N/m") return scenes::line_force_unit(units);
  return si_unit == "kg/m2" ? scenes::areal_mass_unit(units) : scenes::ShownUnit{1, si_unit};
}

std::vector<Measured> measured_properties(const scenes::SwatchFit& fit) {
  std::vector<Measured> list;
  for (const std::string& name : fit.measured) list.push_back({name, fit.material.get(name)});
  return list;
}

const Fields<Measured>& measured_fields() {
  using M = Measured;
  const auto quantity = [](auto member) {
    return [member](const M& m) { return m.quantity.*member; };
  };
  using Q = materials::Quantity;
  const auto unit = [](const M& m, const std::string& units) {
    return property_unit(m.quantity.unit, m.quantity.value, units);
  };
  const auto in_it = [unit](double Q::*member) {
    return [unit, member](const M& m, const std::string& units) {
      return scenes::number_text(m.quantity.*member * unit(m, units).per_SI);
    };
  };
  static const auto fields =
      Fields<M>("measured", "A property that was measured.")
          .value(
              "property", [](const M& m) { return m.property; }, "Name in the material file.")
          .shown("property", [](const M& m) { return property_name(m.property); })
          .value("value", quantity(&Q::value), "From the mean reading, in `unit`.")
          .shown("value", in_it(&Q::value))
          .value("low", quantity(&Q::low), "Low end of the band, in `unit`.")
          .shown("low", in_it(&Q::low))
          .value("high", quantity(&Q::high), "High end of the band, in `unit`.")
          .shown("high", in_it(&Q::high))
          .value("unit", quantity(&Q::unit), "SI.")
          .shown("unit",
                 [unit](const M& m, const std::string& units) { return unit(m, units).name; })
          .value("how", quantity(&Q::note), "By which tests.")
          .shown("measured by", [](const M& m) {
            return m.quantity.note.substr(0, m.quantity.note.find(" fitted"));
          });
  return fields;
}

std::string strip_unit(const scenes::StripFit& s) {
  return s.kind == scenes::StripTestKind::kStretch ? "N/m" : "N m";
}

const Fields<scenes::StripFit>& test_fields() {
  using S = scenes::StripFit;
  const char* when = "where the solver found it";
  const auto unit = [](const S& s, const std::string& units) {
    return property_unit(strip_unit(s), s.formula, units);
  };
  const auto in_it = [unit](auto value) {
    return [unit, value](const S& s, const std::string& units) {
      return scenes::number_text(value(s) * unit(s, units).per_SI);
    };
  };
  const auto solver = [](const S& s) { return s.fit.value; };
  static const auto fields =
      Fields<S>("test", "A test of a strip, by formula and by solver.")
          .value("test", &S::what, "Which test.")
          .shown("test")
          .value("property", &S::property, "What it gives.")
          .value("readings", &S::n_readings, "How many were taken.")
          .shown("readings")
          .value("reading_m", &S::reading_m, "Their mean.")
          .shown("mean",
                 [](const S& s, const std::string& units) {
                   const scenes::ShownUnit ruler = scenes::fine_length_unit(units);
                   return scenes::number_text(s.reading_m * ruler.per_SI) + " " + ruler.name;
                 })
          .value("formula", &S::formula, "Value by the formula of the books, in `unit`.")
          .shown("formula", in_it([](const S& s) { return s.formula; }))
          .value("found", &S::found, "The solver found a strip that reads the same.")
          .value("triangles", &S::triangles, "Of its mesh.")
          .value("solver", solver, "Value by the solver, in `unit`.")
          .only_if(&S::found, when)
          .shown("solver", in_it(solver))
          .shown_if(&S::found, "not found")
          .value(
              "solver_low", [](const S& s) { return s.fit.low; }, "Low end, in `unit`.")
          .only_if(&S::found, when)
          .value(
              "solver_high", [](const S& s) { return s.fit.high; }, "High end, in `unit`.")
          .only_if(&S::found, when)
          .choice("unit", {"N/m", "N m"}, strip_unit, "Of what it gives.")
          .shown("unit",
                 [unit](const S& s, const std::string& units) { return unit(s, units).name; })
          .shown("difference",
                 [](const S& s) {
                   return fmt::format("{:+.1f} %", 100 * (s.fit.value / s.formula - 1));
                 })
          .shown_if(&S::found);
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
      .list(
          "measured", [](const F& f) { return measured_properties(f.fit); }, measured_fields(),
          "Properties that were measured.")
      .list(
          "tests", [](const F& f) -> const std::vector<scenes::StripFit>& { return f.fit.strips; },
          test_fields(), "Test by test.")
      .value(
          "cautions", [](const F& f) { return swatch_cautions(f.fit); },
          "What limits these numbers.");
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

TextTable properties_table(const scenes::SwatchFit& fit, const std::string& units) {
  return shown_table(measured_fields(), measured_properties(fit), units);
}

TextTable tests_table(const scenes::SwatchFit& fit, const std::string& units) {
  return shown_table(test_fields(), fit.strips, units);
}

std::string swatch_schema() {
  return schema_of("What `totebench swatch` found (swatch.json)", swatch_fields());
}

}  // namespace totebench::app
