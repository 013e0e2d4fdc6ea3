// choose.json.
#include <cmath>

#include "app/present/choose_report.hpp"
#include "app/present/fields/findings.hpp"
#include "app/present/fields/schemas.hpp"
#include "app/present/text_table.hpp"

namespace totebench::app {
namespace {

struct Chosen {
  const scenes::Scene& scene;
  const studies::ChooseResult& result;
};

// One number a line of kChooseFigures; a list that is empty says of none.
const Fields<studies::Figures>& choose_figure_fields() {
  static const auto fields = [] {
    Fields<studies::Figures> made("figures", "Figures of a build, or their limits or margins.");
    for (std::size_t f = 0; f < studies::kChooseFigures.size(); ++f) {
      const studies::ChooseFigure& figure = studies::kChooseFigures[f];
      made.value(
              figure.key,
              [f](const studies::Figures& figures) {
                return f < figures.size() ? std::optional(figures[f]) : std::nullopt;
              },
              capital(figure.meaning) + ".")
          .or_null("where there is none or it is not known");
    }
    return made;
  }();
  return fields;
}

struct ToldBuild {
  const studies::ChooseResult& result;
  std::size_t number;
  [[nodiscard]] const studies::ChooseBuild& build() const { return result.builds[number]; }
  [[nodiscard]] const studies::FoundBuild& found() const { return result.search.builds[number]; }
  [[nodiscard]] bool possible() const { return build().impossible.empty(); }
  [[nodiscard]] bool has_coarse() const { return possible() && !found().coarse.empty(); }
  [[nodiscard]] const studies::BuildSolve& solve() const {
    const studies::BuildSolve& full = result.full[number];
    return full.figures.empty() ? result.coarse[number] : full;
  }
};

const char* known_word(const ToldBuild& b) {
  switch (b.found().known) {
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

NamedValues<std::string> picks_by_name(const ToldBuild& b) {
  NamedValues<std::string> list;
  for (std::size_t o = 0; o < b.build().picks.size(); ++o) {
    const scenes::Option& option = b.result.spec.options[o];
    const auto pick = static_cast<std::size_t>(b.build().picks[o]);
    list.emplace_back(option.name, option.alternatives[pick].name);
  }
  return list;
}

std::optional<std::string> unless_empty(const std::string& text) {
  return text.empty() ? std::nullopt : std::optional(text);
}

const Fields<ToldBuild>& build_fields() {
  using B = ToldBuild;
  const char* when = "where the build can be made";
  static const auto fields =
      Fields<B>("build", "One way to make the bag.")
          .value("build", &B::number, "Its number, from 0.")
          .value("picks", picks_by_name, "By option, the alternative it has.")
          .choice("known_by", {"predicted", "coarse mesh", "full mesh", "impossible"}, known_word,
                  "How its figures are known.")
          .value(
              "impossible", [](const B& b) { return unless_empty(b.build().impossible); },
              "Why it cannot be made; the rest is absent then.")
          .object(
              "figures", [](const B& b) -> const studies::Figures& { return b.found().figures; },
              choose_figure_fields(), "The best known.")
          .only_if(&B::possible, when)
          .object(
              "coarse_figures",
              [](const B& b) -> const studies::Figures& { return b.found().coarse; },
              choose_figure_fields(), "As solved on the coarse mesh.")
          .only_if(&B::has_coarse, "where it was solved there")
          .value(
              "drops_load_by",
              [](const B& b) {
                return b.possible() ? unless_empty(b.solve().drops_by) : std::nullopt;
              },
              "Mode that is used most of those that drop the load.")
          .value(
              "spoilt_by",
              [](const B& b) {
                return b.possible() ? unless_empty(b.solve().spoils_by) : std::nullopt;
              },
              "Mode that is used most of those that leave lasting damage.")
          .value(
              "meets_limits",
              [](const B& b) {
                return b.found().solved() ? std::optional(b.found().meets()) : std::nullopt;
              },
              "It keeps to every limit.")
          .or_null("where it was not solved")
          .only_if(&B::possible, when);
  return fields;
}

std::vector<ToldBuild> told_builds(const studies::ChooseResult& r) {
  std::vector<ToldBuild> list;
  for (std::size_t i = 0; i < r.builds.size(); ++i) list.push_back({r, i});
  return list;
}

const Fields<studies::ChooseResult>& search_fields() {
  using R = studies::ChooseResult;
  const auto search = [](auto member) { return [member](const R& r) { return r.search.*member; }; };
  using S = studies::SearchResult;
  static const auto fields =
      Fields<R>("search", "How the builds were told apart.")
          .value(
              "builds", [](const R& r) { return r.builds.size(); }, "All that there are.")
          .value("possible", &R::n_possible, "That can be made.")
          .value(
              "solved_coarse", [](const R& r) { return r.n_solved(false); },
              "Solved on the coarse mesh.")
          .value(
              "solved_full", [](const R& r) { return r.n_solved(true); },
              "Solved on the full mesh.")
          .value("ruled_out_by_prediction", search(&S::ruled_out),
                 "Never solved, predicted to miss a limit, of less cost than the chosen.")
          .value("not_solved_for_cost", search(&S::dearer),
                 "Never solved, not of less cost than the runner-up (or the chosen).")
          .value("undecided_on_coarse_mesh", search(&S::undecided),
                 "Of less cost, missing a limit on the coarse mesh by no more than its margin, and "
                 "not solved in full.")
          .object("prediction_margins", search(&S::predict_margin), choose_figure_fields(),
                  "Logarithms by which coarse figures may differ from predicted ones.")
          .object("mesh_margins", search(&S::coarse_margin), choose_figure_fields(),
                  "Logarithms by which full figures may differ from coarse ones.");
  return fields;
}

const Fields<studies::RequiredLoad>& required_load_fields() {
  using L = studies::RequiredLoad;
  static const auto fields =
      Fields<L>("load", "The load that a build is asked to carry, and its margins.")
          .value("carries_kg", &L::carries_kg, "Mass of the contents.")
          .value("design_factor", &L::design_factor, "Times as much drops nothing.")
          .value("shock_factor", &L::shock_factor, "Times as much leaves no lasting damage.");
  return fields;
}

NamedValues<int> missed_limits(const studies::ChooseResult& r) {
  NamedValues<int> list;
  const studies::Figures limits = studies::figure_limits(r.spec.limits);
  for (std::size_t f = 0; f < limits.size(); ++f) {
    if (std::isfinite(limits[f])) {
      list.emplace_back(studies::kChooseFigures[f].key, r.search.missed[f]);
    }
  }
  return list;
}

std::optional<int> number_or_none(int build) {
  return build < 0 ? std::nullopt : std::optional(build);
}

// What there is only of a search that was not stopped.
const Fields<studies::ChooseResult>& ended_fields() {
  using R = studies::ChooseResult;
  static const auto fields =
      Fields<R>("ended", "A search that came to its end.")
          .choice(
              "aim", {"lightest", "cheapest"},
              [](const R& r) {
                return r.spec.aim == scenes::ChooseAim::kLightest ? "lightest" : "cheapest";
              },
              "What was looked for.")
          .object(
              "limits", [](const R& r) { return studies::figure_limits(r.spec.limits); },
              choose_figure_fields(), "The most that a build may show.")
          .object(
              "load", [](const R& r) { return r.load.carries_kg > 0 ? &r.load : nullptr; },
              required_load_fields(), "Absent where nothing is asked.")
          .value(
              "cautions", [](const R& r) { return choose_cautions(r, "si"); },
              "What limits these numbers.")
          .value(
              "chosen", [](const R& r) { return number_or_none(r.search.chosen); },
              "Number of the build.")
          .or_null("where none meets the limits")
          .value(
              "runner_up", [](const R& r) { return number_or_none(r.search.runner_up); },
              "The next by cost that meets them by what is known of it.")
          .or_null("where there is none")
          .value(
              "nearest_miss", [](const R& r) { return number_or_none(r.search.nearest); },
              "Where none meets the limits, the one that misses by least.")
          .or_null("where one meets them")
          .value(
              "front", [](const R& r) { return r.search.front; },
              "Builds within the other limits that no other beats both in cost and in bottom sag.")
          .value("builds_of_less_cost_that_miss", missed_limits,
                 "By limit, how many builds of less cost than the chosen (or all) miss it.")
          .object(
              "search", [](const R& r) -> const R& { return r; }, search_fields(),
              "How the builds were told apart.")
          .list("builds", told_builds, build_fields(), "Every build.");
  return fields;
}

const char* choice_status(const Chosen& c) {
  const studies::ChooseResult& r = c.result;
  if (r.interrupted) return "interrupted";
  if (r.search.chosen >= 0) return "chosen";
  return r.search.nearest >= 0 ? "none_meets_limits" : "not_converged";
}

Fields<Chosen> made_choose_fields() {
  using C = Chosen;
  auto fields = result_fields<C>("choice", "The lightest or cheapest build within limits.",
                                 "choice", [](const C& x) { return x.scene.name; });
  fields
      .choice("status", {"chosen", "none_meets_limits", "not_converged", "interrupted"},
              choice_status, "interrupted: the keys below are absent.")
      .with(ended_fields(), [](const C& c) { return c.result.interrupted ? nullptr : &c.result; });
  return fields;
}

const Fields<Chosen>& choose_fields() {
  static const Fields<Chosen> fields = made_choose_fields();
  return fields;
}

}  // namespace

std::string choose_json(const scenes::Scene& scene, const studies::ChooseResult& r) {
  return file_of(choose_fields(), Chosen{scene, r});
}

std::string choose_schema() {
  return schema_of("What `totebench choose` found (choose.json)", choose_fields());
}

}  // namespace totebench::app
