#include "app/present/choose_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {

std::string figure_text(std::size_t figure, double value, const std::string& units) {
  const studies::ChooseFigure& of = studies::kChooseFigures[figure];
  if (!std::isfinite(value)) return "-";
  if (figure == studies::kFigureSpoilsUse && value == 0) return "none known";
  if (of.share != nullptr) return fmt::format("{:.0f} %", 100 * value);
  if (of.dimension == scenes::Dimension::kNone) return fmt::format("{:.2f}", value);  // a price
  return scenes::shown_text(value, of.dimension, units);
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
