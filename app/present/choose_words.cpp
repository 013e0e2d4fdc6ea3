#include "app/present/choose_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/stand.hpp"

namespace totebench::app {

std::string figure_text(std::size_t figure, double value, const std::string& units) {
  const studies::ChooseFigure& of = studies::kChooseFigures[figure];
  if (!std::isfinite(value)) return "-";
  if (figure == studies::kFigureSpoilsUse && value == 0) return "none known";
  if (of.share != nullptr) return fmt::format("{:.0f} %", 100 * value);
  if (of.dimension == scenes::Dimension::kNone) return fmt::format("{:.2f}", value);  // a price
  return scenes::shown_text(value, of.dimension, units);
}

std::string stands_text(const studies::ChooseResult& r, int build, const std::string& units) {
  constexpr double kRoundOff = 1e-9;
  const double share = found_of(r, build).figures[studies::kFigureStands];
  if (!(share > 0)) return "-";
  const double height_m = r.spec.limits.standing_height_m / share;
  const double most_m = build_of(r, build).scene.bag.height_m * std::cbrt(studies::kMostOwnWeights);
  return scenes::length_text(height_m, units) +
         (height_m >= (1 - kRoundOff) * most_m ? " or more" : "");
}

std::vector<int> numbered_builds(const studies::ChooseResult& r) {
  std::vector<int> list = r.search.front, others;
  for (std::size_t i = 0; i < r.search.builds.size(); ++i) {
    const int build = static_cast<int>(i);
    if (!r.search.builds[i].solved() || std::count(list.begin(), list.end(), build) > 0) continue;
    others.push_back(build);
  }
  std::stable_sort(others.begin(), others.end(),
                   [&](int a, int b) { return cost_of(r, a) < cost_of(r, b); });
  list.insert(list.end(), others.begin(), others.end());
  return list;
}

std::string missed_limits(const studies::ChooseResult& r, int build) {
  const studies::Figures limits = studies::figure_limits(r.spec.limits);
  const studies::Figures& figures = found_of(r, build).figures;
  std::string text;
  for (std::size_t f = 0; f < studies::kChooseFigures.size(); ++f) {
    if (!std::isfinite(limits[f]) || figures[f] <= limits[f]) continue;
    if (std::isnan(figures[f])) return "no rest";
    text += (text.empty() ? "" : ", ") + std::string(studies::kChooseFigures[f].name);
  }
  return text;
}

int n_less(const studies::ChooseResult& r) {
  int n = 0;
  for (const studies::ChooseBuild& build : r.builds) {
    const double cost = lightest(r) ? build.mass_kg : build.price;
    n += build.impossible.empty() && (r.search.chosen < 0 || cost < cost_of(r, r.search.chosen));
  }
  return n;
}

}  // namespace totebench::app
