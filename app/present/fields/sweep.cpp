// sweep.json and sweep.csv.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/sweep_axes.hpp"
#include "app/present/sweep_report.hpp"

namespace totebench::app {

// What a factor is in a bag: a number in the unit that ends its key, or a word.
struct FactorValue {
  scenes::SweptValue value;
};
template <>
struct JsonValue<FactorValue> {
  static constexpr bool kNumber = false;
  static Json of(const FactorValue& v) {
    return std::isfinite(v.value.number) ? Json(v.value.number) : Json(v.value.text);
  }
  static Json schema() { return {{"type", {"number", "string"}}}; }
};

namespace {

// "base.thickness_m": the key, and the SI unit of its values where they have one.
std::string key_with_unit(const scenes::SweptFactor& factor) {
  if (!factor.number || factor.dimension == scenes::Dimension::kNone) return factor.key;
  std::string unit(scenes::si_unit(factor.dimension));
  std::replace(unit.begin(), unit.end(), ' ', '_');
  if (const auto over = unit.find('/'); over != std::string::npos) unit.replace(over, 1, "_per_");
  return factor.key + "_" + unit;
}

struct ToldSweptBag {
  const studies::SweepResult& result;
  std::size_t place;
  bool unbeaten;
  [[nodiscard]] const studies::SweptBag& bag() const { return result.bags[place]; }
  [[nodiscard]] bool at_rest() const { return bag().at_rest(); }
};

const char* state_word(const ToldSweptBag& b) {
  switch (b.bag().state) {
    case studies::Swept::kAtRest:
      return "at rest";
    case studies::Swept::kNoRest:
      return "no rest";
    case studies::Swept::kImpossible:
      return "impossible";
    default:
      return "not hung";
  }
}

NamedValues<FactorValue> factor_values(const ToldSweptBag& b) {
  NamedValues<FactorValue> list;
  for (std::size_t f = 0; f < b.bag().values.size(); ++f) {
    list.emplace_back(key_with_unit(b.result.factors[f]), FactorValue{b.bag().values[f]});
  }
  return list;
}

Fields<ToldSweptBag> made_bag_fields() {
  using B = ToldSweptBag;
  const char* unless = "unless the bag is at rest";
  Fields<B> fields("bag", "One bag of the sweep.");
  fields
      .value(
          "bag", [](const B& b) { return b.place + 1; }, "Its number, from 1.")
      .value("values", factor_values,
             "By factor, what it is: a number in the SI unit that ends its key, or a word.")
      .choice("state", {"at rest", "no rest", "impossible", "not hung"}, state_word,
              "no rest: no equilibrium was found; impossible: it cannot be made; not hung: the run "
              "was stopped before.")
      .value(
          "why",
          [](const B& b) {
            return b.bag().why.empty() ? std::nullopt : std::optional(b.bag().why);
          },
          "Why there is no rest, or why it cannot be made.")
      .or_null("where there is nothing to explain");
  for (const scenes::Figure& figure : scenes::kFigures) {
    const std::size_t place = scenes::place_of(figure);
    fields
        .value(
            figure.key,
            [place](const B& b) {
              return b.at_rest() ? std::optional(b.bag().figures[place]) : std::nullopt;
            },
            capital(figure.meaning) + ".")
        .or_null(unless);
  }
  return fields
      .value(
          "strength_used",
          [](const B& b) {
            return b.at_rest() ? std::optional(b.bag().strength_used) : std::nullopt;
          },
          "Demand over capacity of the strength that is used most, with the load of the scene; 0 "
          "where no strength is known. Below 1 is no promise.")
      .or_null(unless)
      .value(
          "strength_used_where",
          [](const B& b) {
            return b.bag().strength_used > 0 ? std::optional(b.bag().strength_used_where)
                                             : std::nullopt;
          },
          "Which strength that is, and where.")
      .or_null("where none is known")
      .value(
          "drops_load",
          [](const B& b) {
            return b.bag().strength_used > 0 ? std::optional(b.bag().drops_load) : std::nullopt;
          },
          "true: the load would fall if that failed; false: lasting damage.")
      .or_null("where none is known")
      .value("unbeaten", &B::unbeaten,
             "No other bag has less of both figures of the picture, `across` and `up`.");
}

const Fields<ToldSweptBag>& swept_bag_fields() {
  static const Fields<ToldSweptBag> fields = made_bag_fields();
  return fields;
}

std::vector<ToldSweptBag> told_bags(const studies::SweepResult& r) {
  std::vector<ToldSweptBag> list;
  for (std::size_t i = 0; i < r.bags.size(); ++i) list.push_back({r, i, false});
  for (const int i : unbeaten_bags(r)) list[static_cast<std::size_t>(i)].unbeaten = true;
  return list;
}

struct ToldSweep {
  const scenes::Scene& scene;
  const studies::SweepResult& result;
};

Fields<ToldSweep> made_sweep_fields() {
  using S = ToldSweep;
  auto fields = result_fields<S>("sweep", "Many bags that differ in keys of one scene.", "sweep",
                                 [](const S& s) { return s.scene.name; });
  fields
      .choice(
          "status", {"done", "interrupted"},
          [](const S& s) { return s.result.interrupted ? "interrupted" : "done"; },
          "interrupted: some bags may not have been hung.")
      .choice(
          "design", {"full factorial", "latin hypercube"},
          [](const S& s) {
            return s.result.spec.design == scenes::SweepDesign::kFullFactorial ? "full factorial"
                                                                               : "latin hypercube";
          },
          "Which of all possible bags these are.")
      .value(
          "seed", [](const S& s) { return s.result.spec.seed; }, "Start of the draw.")
      .choice(
          "mesh", {"finest", "coarse"},
          [](const S& s) { return s.result.coarse ? "coarse" : "finest"; },
          "On which the bags were hung.")
      .value(
          "factors",
          [](const S& s) {
            std::vector<std::string> keys;
            for (const scenes::SweptFactor& factor : s.result.factors) {
              keys.push_back(key_with_unit(factor));
            }
            return keys;
          },
          "The keys that differ, each with the SI unit of its values.")
      .value(
          "across", [](const S& s) { return s.result.spec.across; },
          "Figure that the picture has from left to right, where it differs.")
      .value(
          "up", [](const S& s) { return s.result.spec.up; },
          "Figure that it has from bottom to top.")
      .list(
          "bags", [](const S& s) { return told_bags(s.result); }, swept_bag_fields(),
          "Every bag, in the order of the design.")
      .value(
          "cautions", [](const S& s) { return sweep_cautions(s.result); },
          "What limits these numbers.");
  return fields;
}

const Fields<ToldSweep>& sweep_fields() {
  static const Fields<ToldSweep> fields = made_sweep_fields();
  return fields;
}

// RFC 4180: in quotes where a comma, a quote or a line's end is in it.
std::string csv_cell(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string cell = "\"";
  for (const char c : text) cell += c == '"' ? std::string("\"\"") : std::string(1, c);
  return cell + "\"";
}
std::string csv_cell(const Json& value) {
  if (value.is_null()) return "";
  return csv_cell(value.is_string() ? value.get<std::string>() : value.dump());
}

void add_cell(std::string& line, const std::string& cell) {
  line += (line.empty() || line.back() == '\n' ? "" : ",") + cell;
}

}  // namespace

std::string sweep_json(const scenes::Scene& scene, const studies::SweepResult& r) {
  return file_of(sweep_fields(), ToldSweep{scene, r});
}

std::string sweep_csv(const studies::SweepResult& r) {
  const std::vector<FieldMeaning>& fields = swept_bag_fields().meanings();
  std::string text;
  for (const FieldMeaning& field : fields) {
    if (field.key != "values") {
      add_cell(text, field.key);
      continue;
    }
    for (const scenes::SweptFactor& factor : r.factors) {
      add_cell(text, csv_cell(key_with_unit(factor)));
    }
  }
  text += "\n";
  for (const ToldSweptBag& bag : told_bags(r)) {
    for (std::size_t k = 0; k < fields.size(); ++k) {
      const Json value = swept_bag_fields().one(k, bag).value_or(Json(nullptr));
      if (fields[k].key != "values") {
        add_cell(text, csv_cell(value));
        continue;
      }
      for (const auto& item : value.items()) add_cell(text, csv_cell(item.value()));
    }
    text += "\n";
  }
  return text;
}

std::string sweep_schema() {
  return schema_of("What `totebench sweep` found (sweep.json)", sweep_fields());
}

}  // namespace totebench::app
