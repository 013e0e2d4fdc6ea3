#include "app/present/choose_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {

std::string figure_name(std::size_t figure) {
  switch (figure) {
    case studies::kFigureSag:
      return "bottom sag";
    case studies::kFigureLengthening:
      return "overall lengthening";
    case studies::kFigureDrop:
      return "strap drop";
    case studies::kFigureDropsUse:
      return "strength against dropping the load";
    case studies::kFigureSpoilsUse:
      return "strength against being spoilt";
    case studies::kFigureMass:
      return "mass";
    case studies::kFigureStands:
      return "standing by itself";
    default:
      return "price";
  }
}

std::string figure_text(std::size_t figure, double value, const std::string& units) {
  if (!std::isfinite(value)) return "-";
  if (figure == studies::kFigureSpoilsUse && value == 0) return "none known";
  switch (figure) {
    case studies::kFigureDropsUse:
    case studies::kFigureSpoilsUse:
    case studies::kFigureStands:
      return fmt::format("{:.0f} %", 100 * value);
    case studies::kFigureMass:
      return scenes::mass_text(value, units);
    case studies::kFigurePrice:
      return fmt::format("{:.2f}", value);
    default:
      return scenes::length_text(value, units);
  }
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
