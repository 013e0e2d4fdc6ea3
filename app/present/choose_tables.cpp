// Tables of a choice: the front, the limits.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/present/choose_report.hpp"
#include "app/present/choose_words.hpp"
#include "app/present/rate_tables.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

const char* known_text(studies::Known known) {
  return known == studies::Known::kFull ? "full mesh" : "coarse mesh";
}

// Columns of figures: prices where there are any, uses where a load is asked for.
std::vector<std::size_t> shown_figures(const studies::ChooseResult& r) {
  const bool priced =
      std::any_of(r.builds.begin(), r.builds.end(),
                  [](const studies::ChooseBuild& b) { return !std::isnan(b.price); });
  std::vector<std::size_t> shown;
  for (const std::size_t f :
       {studies::kFigureMass, studies::kFigurePrice, studies::kFigureSag,
        studies::kFigureLengthening, studies::kFigureDrop, studies::kFigureDropsUse,
        studies::kFigureSpoilsUse, studies::kFigureStands}) {
    const studies::ChooseFigure& figure = studies::kChooseFigures[f];
    if (f == studies::kFigurePrice && !priced) continue;
    if (figure.share != nullptr && std::isnan(r.spec.limits.*figure.limit)) continue;
    shown.push_back(f);
  }
  return shown;
}

}  // namespace

std::vector<std::vector<std::string>> choose_rows(const studies::ChooseResult& r,
                                                  const std::string& units) {
  std::vector<std::string> head = {""};
  for (const scenes::Option& option : r.spec.options) head.push_back(option.name);
  const std::vector<std::size_t> shown = shown_figures(r);
  for (const std::size_t f : shown) {
    const studies::ChooseFigure& figure = studies::kChooseFigures[f];
    head.emplace_back(figure.share != nullptr ? figure.share : figure.name);
  }
  head.emplace_back("misses");
  head.emplace_back("solved on");
  std::vector<std::vector<std::string>> rows = {head};
  int number = 0;
  for (const int i : numbered_builds(r)) {
    std::string label = std::to_string(++number);
    if (i == r.search.chosen) label += " chosen";
    if (i == r.search.runner_up) label += " runner-up";
    if (i == r.search.nearest) label += " nearest miss";
    std::vector<std::string> row = {label};
    const std::vector<int>& picks = build_of(r, i).picks;
    for (std::size_t o = 0; o < picks.size(); ++o) {
      row.push_back(r.spec.options[o].alternatives[static_cast<std::size_t>(picks[o])].name);
    }
    for (const std::size_t f : shown) {
      const double value = found_of(r, i).figures[f];
      row.push_back(f == studies::kFigureStands ? stands_text(r, i, units)
                                                : figure_text(f, value, units));
    }
    row.push_back(missed_limits(r, i));
    row.emplace_back(known_text(found_of(r, i).known));
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<std::vector<std::string>> limit_rows(const studies::ChooseResult& r,
                                                 const std::string& units) {
  const studies::Figures limits = studies::figure_limits(r.spec.limits);
  std::vector<std::vector<std::string>> rows = {
      {"limit", "asked for", r.search.chosen >= 0 ? "chosen" : "nearest miss",
       r.search.chosen >= 0 ? std::string(less_word(r)) + " builds that miss it"
                            : "builds that miss it"}};
  const studies::FoundBuild& found = found_of(r, r.shown());
  const studies::BuildSolve& full = r.full[static_cast<std::size_t>(r.shown())];
  const studies::BuildSolve& solve =
      full.figures.empty() ? r.coarse[static_cast<std::size_t>(r.shown())] : full;
  for (std::size_t f = 0; f < studies::kChooseFigures.size(); ++f) {
    if (!std::isfinite(limits[f])) continue;
    std::string name = studies::kChooseFigures[f].name;
    std::string value = figure_text(f, found.figures[f], units);
    if (f == studies::kFigureDropsUse || f == studies::kFigureSpoilsUse) {
      const bool drops = f == studies::kFigureDropsUse;
      name += fmt::format(", with {:g} x {}", drops ? r.load.design_factor : r.load.shock_factor,
                          scenes::mass_text(r.load.carries_kg, units));
      const std::string& by = drops ? solve.drops_by : solve.spoils_by;
      if (!by.empty()) value += " (" + mode_words(by) + ")";
    }
    if (f == studies::kFigureStands) {
      value = "to " + stands_text(r, r.shown(), units);
    }
    const std::string limit =
        f == studies::kFigureStands
            ? scenes::length_text(r.spec.limits.standing_height_m, units) + " tall"
            : figure_text(f, limits[f], units);
    rows.push_back({name, limit, value, fmt::format("{} of {}", r.search.missed[f], n_less(r))});
  }
  return rows;
}

}  // namespace totebench::app
