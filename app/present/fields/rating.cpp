// rating.json, and the tables of what is used, of first failures and of changes.
#include <algorithm>

#include "app/present/demand_text.hpp"
#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/rate_report.hpp"
#include "app/present/rate_tables.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/cautions.hpp"

namespace totebench::app {
namespace {

constexpr double kLeastShare = 1e-4;  // of the variance that a driver is told of

struct RatedTote {
  const scenes::Scene& scene;
  const studies::RateResult& result;
  [[nodiscard]] const studies::Rating& rating() const { return result.rating; }
};

struct ToldFailure {
  const studies::FirstFailure& first;
  double set_mass_kg;
  [[nodiscard]] double mass_kg() const { return first.load_factor * set_mass_kg; }
  // "12 kg"; where nothing failed that is the largest load tried, after `up_to`.
  [[nodiscard]] std::string text(const char* up_to, const std::string& units) const {
    return (first.found ? "" : up_to) + scenes::mass_text(mass_kg(), units);
  }
  [[nodiscard]] bool found() const { return first.found; }
  [[nodiscard]] bool not_found() const { return !first.found; }
  [[nodiscard]] const scenes::Utilisation* nearest() const {
    return first.found || first.nearest.mode.empty() ? nullptr : &first.nearest;
  }
};

const Fields<ToldFailure>& failure_fields() {
  static const auto fields =
      Fields<ToldFailure>("failure", "First failure of a kind under a rising load.")
          .value("found", &ToldFailure::found,
                 "Whether a failure was reached by solving at rising load.")
          .value("mass_kg", &ToldFailure::mass_kg,
                 "Mass of the contents at which the first mode of this kind reaches its strength.")
          .only_if(&ToldFailure::found, "where one was found")
          .object(
              "governing",
              [](const ToldFailure& f) -> const scenes::Utilisation& { return f.first.governing; },
              utilisation_fields(), "The mode that does.")
          .only_if(&ToldFailure::found, "where one was found")
          .value("held_mass_kg", &ToldFailure::mass_kg, "Largest mass held.")
          .only_if(&ToldFailure::not_found, "where no failure was reached")
          .value(
              "why_not", [](const ToldFailure& f) { return f.first.why_not; }, "Why it was not.")
          .only_if(&ToldFailure::not_found, "where no failure was reached")
          .object("nearest", &ToldFailure::nearest, utilisation_fields(),
                  "Nearest to its strength with the largest mass held, of its kind.");
  return fields;
}

struct SpreadDriver {
  const studies::ScatterInput& input;
  double slope, share;
};

const Fields<SpreadDriver>& spread_driver_fields() {
  const auto input = [](auto member) {
    return [member](const SpreadDriver& d) { return d.input.*member; };
  };
  using I = studies::ScatterInput;
  static const auto fields =
      Fields<SpreadDriver>("driver", "A number of the material library that the spread comes from.")
          .value("kind", input(&I::kind), "Of what: material, thread, rule.")
          .value("id", input(&I::id), "Of which.")
          .value("property", input(&I::property), "Which number of it.")
          .value("low", input(&I::low), "Its low end, SI.")
          .value("value", input(&I::value), "Its typical value, SI.")
          .value("high", input(&I::high), "Its high end, SI.")
          .value("grade", input(&I::grade), "How well it is known.")
          .value("slope_kg_per_unit", &SpreadDriver::slope,
                 "Failure load over this number, in kg per unit.")
          .value("share_of_variance", &SpreadDriver::share, "Its part in the variance, 0 to 1.");
  return fields;
}

struct FailureSpread {
  const studies::Spread& spread;
  const std::vector<studies::ScatterInput>& inputs;
  [[nodiscard]] bool sampled() const { return spread.sampled_kg.count > 0; }
};

// Most first.
std::vector<SpreadDriver> spread_drivers(const FailureSpread& s) {
  const studies::FirstOrder& first_order = s.spread.first_order;
  std::vector<SpreadDriver> list;
  for (std::size_t i = 0; i < first_order.share.size(); ++i) {
    if (first_order.share[i] < kLeastShare) continue;
    list.push_back({s.inputs[i], first_order.slope[i], first_order.share[i]});
  }
  std::vector<const SpreadDriver*> order;
  for (const SpreadDriver& driver : list) order.push_back(&driver);
  std::stable_sort(order.begin(), order.end(), [](const SpreadDriver* a, const SpreadDriver* b) {
    return a->share > b->share;
  });
  std::vector<SpreadDriver> sorted;
  for (const SpreadDriver* driver : order) sorted.push_back(*driver);
  return sorted;
}

const Fields<FailureSpread>& spread_fields() {
  const auto sampled = [](auto member) {
    return [member](const FailureSpread& s) { return s.spread.sampled_kg.*member; };
  };
  using B = studies::SampleBand;
  const char* when = "where bags were sampled";
  static const auto fields =
      Fields<FailureSpread>("spread",
                            "Scatter of the failure load from the ranges of the data, sampled and "
                            "to first order, as mass of contents.")
          .value("bags", sampled(&B::count), "Sampled bags behind the figures.")
          .value("low_5_percent_kg", sampled(&B::low), "5 % of the bags fail below it.")
          .only_if(&FailureSpread::sampled, when)
          .shown_with_unit("1 in 20 below")
          .shown_if(&FailureSpread::sampled, "-")
          .value("median_kg", sampled(&B::middle), "Half of the bags fail below it.")
          .only_if(&FailureSpread::sampled, when)
          .value("high_95_percent_kg", sampled(&B::high), "5 % of the bags fail above it.")
          .only_if(&FailureSpread::sampled, when)
          .shown_with_unit("1 in 20 above")
          .shown_if(&FailureSpread::sampled, "-")
          .value("mean_kg", sampled(&B::mean), "Mean of the sampled bags.")
          .only_if(&FailureSpread::sampled, when)
          .value("deviation_kg", sampled(&B::deviation), "Standard deviation of the sampled bags.")
          .only_if(&FailureSpread::sampled, when)
          .value(
              "first_order_deviation_kg",
              [](const FailureSpread& s) { return s.spread.first_order_kg; },
              "Standard deviation by first-order sensitivities of the governing mode.")
          .value(
              "governed_by", [](const FailureSpread& s) { return s.spread.governed_by; },
              "Mode and number of sampled bags it failed first in.")
          .list("drivers", spread_drivers, spread_driver_fields(),
                "Inputs that matter, most first.");
  return fields;
}

struct RatedFailure {
  const char* what;
  ToldFailure failure;
  FailureSpread spread;
  double rating_kg;
  [[nodiscard]] const FailureSpread* spread_if_found() const {
    return failure.found() ? &spread : nullptr;
  }
};

const Fields<RatedFailure>& rated_failure_fields() {
  using R = RatedFailure;
  static const auto fields =
      Fields<R>("rated_failure", "First failure of a kind, how it scatters, its rating.")
          .shown("first failure, solved at rising load", [](const R& r) { return r.what; })
          .with(failure_fields(), &R::failure)
          .shown("typical bag",
                 [](const R& r, const std::string& units) {
                   return r.failure.text("none up to ", units);
                 })
          .object("spread", &R::spread, spread_fields(), "How it scatters.")
          .shown_of(spread_fields(), &R::spread_if_found)
          .shown("by",
                 [](const R& r) {
                   const studies::FirstFailure& first = r.failure.first;
                   return !first.found
                              ? first.why_not
                              : first.governing.what + (first.at_jump ? " (the shape jumps)" : "");
                 })
          .shown("strength from",
                 [](const R& r) { return short_grade(r.failure.first.governing.grade); })
          .shown_if(&R::spread_if_found)
          .value("rating_kg", &R::rating_kg, "Low end of the band over its factor, not rounded.");
  return fields;
}

RatedFailure rated_drops(const studies::Rating& r) {
  return {"load dropped", {r.drops, r.set_mass_kg}, {r.drops_spread, r.inputs}, r.drops_rating_kg};
}

RatedFailure rated_spoilt(const studies::Rating& r) {
  return {
      "lasting damage", {r.spoilt, r.set_mass_kg}, {r.spoilt_spread, r.inputs}, r.spoilt_rating_kg};
}

struct TriedChange {
  const studies::Change& change;
  double set_mass_kg;
  bool touches_limit;
  bool advised;
  [[nodiscard]] ToldFailure drops() const { return {change.drops, set_mass_kg}; }
  [[nodiscard]] ToldFailure spoilt() const { return {change.spoilt, set_mass_kg}; }
  [[nodiscard]] bool solved() const { return change.solved; }
  [[nodiscard]] bool not_solved() const { return !change.solved; }
};

std::vector<TriedChange> tried_changes(const studies::Rating& r) {
  std::vector<TriedChange> list;
  for (std::size_t i = 0; i < r.changes.size(); ++i) {
    list.push_back({r.changes[i], r.set_mass_kg, r.touches_limit(r.changes[i]),
                    r.advised == static_cast<int>(i)});
  }
  return list;
}

const Fields<TriedChange>& change_fields() {
  using C = TriedChange;
  const auto at = [](auto failure) {
    return [failure](const C& c, const std::string& units) {
      return std::invoke(failure, c).text("above ", units);
    };
  };
  static const auto fields =
      Fields<C>("change", "A change that was tried, solved anew on the coarse mesh.")
          .value(
              "what", [](const C& c) { return c.change.what; }, "What is changed.")
          .shown("changed (each solved anew)")
          .value(
              "cost_rank", [](const C& c) { return c.change.cost_rank; },
              "1 is the cheapest; a judgement.")
          .value(
              "rated_mass_kg",
              [](const C& c) {
                return c.solved() ? std::optional(studies::rounded_down_kg(c.change.rated_kg))
                                  : std::nullopt;
              },
              "Rated mass with it, rounded down.")
          .or_null("where it was not solved")
          .shown("rated",
                 [](const C& c, const std::string& units) {
                   return c.solved()
                              ? rated_text(studies::rounded_down_kg(c.change.rated_kg), units)
                              : "not solved: " + c.change.why_not;
                 })
          .value("advised", &C::advised, "The cheapest that raises the rating.")
          .value("touches_limit", &C::touches_limit, "It is made to the part that limits.")
          .shown("made to what limits", [](const C& c) { return c.touches_limit ? "yes" : "no"; })
          .object("drops_load", &C::drops, failure_fields(),
                  "First failure that would let the load fall.")
          .only_if(&C::solved, "where it was solved")
          .shown("drops at", at(&C::drops))
          .shown_if(&C::solved)
          .object("spoilt", &C::spoilt, failure_fields(),
                  "First failure that would leave lasting damage.")
          .only_if(&C::solved, "where it was solved")
          .shown("damaged at", at(&C::spoilt))
          .shown_if(&C::solved)
          .value(
              "why_not", [](const C& c) { return c.change.why_not; }, "Why it was not solved.")
          .only_if(&C::not_solved, "where it was not solved");
  return fields;
}

const Fields<studies::Comfort>& comfort_fields() {
  using C = studies::Comfort;
  static const auto fields =
      Fields<C>("comfort", "What a hand, a shoulder or a back should carry.")
          .value("on_shoulder", &C::on_shoulder,
                 "The pressures are on a shoulder; the limit is a hand's.")
          .value("hand_pressure_low_Pa", &C::low_Pa,
                 "Handles side by side in the hand; 0 when it does not hang on a hand.")
          .value("hand_pressure_high_Pa", &C::high_Pa, "Handles on each other.")
          .value("hand_pressure_limit_Pa", &C::limit_Pa,
                 "Pressure at which the blood flow of the hand's skin stops.")
          .value("two_hand_lifting_constant_kg", &C::load_constant_kg,
                 "Load constant of the NIOSH lifting equation; not for one hand, not for carrying.")
          .value("one_hand_share", &C::one_hand_share,
                 "Of the lifting constant, for one hand (from memory).")
          .value("one_hand_advice_kg", &C::one_hand_kg,
                 "Above this two hands or two bags are advised (estimate).")
          .value("body_mass_share", &C::body_mass_share,
                 "School bags: gait and posture change above this share of the carrier's mass.");
  return fields;
}

// What there is only of a bag that was rated.
const Fields<RatedTote>& rated_fields() {
  using T = RatedTote;
  static const auto fields =
      Fields<T>("rated", "The rating.")
          .choice(
              "rated_by", {"drops", "spoilt"},
              [](const T& t) { return t.rating().spoiling_governs ? "spoilt" : "drops"; },
              "Which of the two ratings is the lesser.")
          .value(
              "governing_grade", [](const T& t) { return t.rating().weakest_grade; },
              "Grade of the strength that governs.")
          .value(
              "data_grade", [](const T& t) { return t.rating().data.grade; },
              "Worst grade among that strength and the masses and stiffnesses which the loads of "
              "the typical bag follow from; empty where nothing governs.")
          .value(
              "data_grade_of", [](const T& t) { return t.rating().data.of; },
              "The numbers of that grade.")
          .value(
              "factor_grade",
              [](const T& t) {
                const std::string& grade = t.rating().factor_grade;
                return grade.empty() ? std::nullopt : std::optional(grade);
              },
              "Grade of the shock factor, where lasting damage governs.")
          .value(
              "design_factor", [](const T& t) { return t.rating().design_factor; },
              "Between the low end of the load that drops and its rating.")
          .value(
              "shock_factor", [](const T& t) { return t.rating().shock_factor; },
              "Between the low end of the load that leaves lasting damage and its rating.")
          .object(
              "drops_load", [](const T& t) { return rated_drops(t.rating()); },
              rated_failure_fields(), "First failure that would let the load fall.")
          .object(
              "spoilt", [](const T& t) { return rated_spoilt(t.rating()); }, rated_failure_fields(),
              "First failure that would leave lasting damage.")
          .list(
              "utilisation",
              [](const T& t) -> const std::vector<scenes::Utilisation>& {
                return t.result.hang.findings.utilisation;
              },
              utilisation_fields(),
              "Every mode at the set mass, the nearest to its strength first.")
          .list(
              "changes", [](const T& t) { return tried_changes(t.rating()); }, change_fields(),
              "Changes tried, cheapest first, each solved anew on the coarse mesh.")
          .object(
              "comfort_at_set_mass", [](const T& t) { return t.result.at_set_load; },
              comfort_fields(), "With the mass of the scene.")
          .object(
              "comfort_at_rated_mass", [](const T& t) { return t.result.at_rated_load; },
              comfort_fields(), "With the rated mass.")
          .value(
              "sampled_bags", [](const T& t) { return t.rating().bags.size(); },
              "Bags drawn from the scatter of the data.")
          .value(
              "sampled_bags_without_failure", [](const T& t) { return t.rating().bags_failed; },
              "No failure load was found for these.")
          .value(
              "seconds", [](const T& t) { return t.result.seconds; },
              "Wall-clock time of the whole study.");
  return fields;
}

Fields<RatedTote> made_rating_fields() {
  using T = RatedTote;
  auto fields = result_fields<T>(
      "rating",
      "Masses are of the contents. A rating is a calculation with the cautions listed in it, never "
      "a certificate.",
      "", [](const T& x) { return x.scene.name; });
  fields
      .choice(
          "status", {"rated", "not_rated"},
          [](const T& t) { return t.result.rated() ? "rated" : "not_rated"; },
          "not_rated: no equilibrium, or stopped on request; the keys of the rating are absent.")
      .value(
          "interrupted", [](const T& t) { return t.result.interrupted; }, "Stopped on request.")
      .value(
          "cautions",
          [](const T& t) { return studies::rating_cautions(t.scene, t.result, t.scene.units); },
          "To be shown with every figure of this file.")
      .value(
          "set_mass_kg", [](const T& t) { return t.rating().set_mass_kg; },
          "Mass of the contents in the scene.")
      .value(
          "rated_mass_kg",
          [](const T& t) {
            return t.result.rated() ? std::optional(t.rating().rated_kg) : std::nullopt;
          },
          "Rated mass, rounded down. Read the cautions.")
      .or_null("where there is no rating")
      .object(
          "not_rated_because",
          [](const T& t) -> std::optional<ToldFailure> {
            if (t.result.rated() || !t.result.hang.findings.converged()) return std::nullopt;
            return ToldFailure{t.rating().drops, t.rating().set_mass_kg};
          },
          failure_fields(),
          "What is known of the load that the bag would drop. Absent where it was rated or did not "
          "come to rest under its own load.")
      .with(rated_fields(), [](const T& t) { return t.result.rated() ? &t : nullptr; });
  return fields;
}

const Fields<RatedTote>& rating_fields() {
  static const Fields<RatedTote> fields = made_rating_fields();
  return fields;
}

}  // namespace

std::string rating_json(const scenes::Scene& scene, const studies::RateResult& result) {
  return file_of(rating_fields(), RatedTote{scene, result});
}

TextTable modes_table(const studies::RateResult& result, const std::string& units) {
  TextTable table = shown_table(utilisation_fields(), result.hang.findings.utilisation, units);
  table.front().front() += ", nearest to its strength first, with " +
                           scenes::mass_text(result.rating.set_mass_kg, units);
  return table;
}

TextTable failures_table(const studies::Rating& r, const std::string& units) {
  return shown_table(rated_failure_fields(), {rated_drops(r), rated_spoilt(r)}, units);
}

TextTable changes_table(const studies::Rating& r, const std::string& units) {
  return shown_table(change_fields(), tried_changes(r), units);
}

std::string rating_schema() {
  return schema_of("What `totebench rate` found (rating.json)", rating_fields());
}

}  // namespace totebench::app
