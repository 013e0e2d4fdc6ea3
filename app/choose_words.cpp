#include "app/choose_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "viz/unit_text.hpp"

namespace totebench {

std::string figure_name(std::size_t figure) {
  switch (figure) {
    case kFigureSag:
      return "bottom sag";
    case kFigureLengthening:
      return "overall lengthening";
    case kFigureDrop:
      return "strap drop";
    case kFigureDropsUse:
      return "strength against dropping the load";
    case kFigureSpoilsUse:
      return "strength against being spoilt";
    case kFigureMass:
      return "mass";
    case kFigureStands:
      return "standing by itself";
    default:
      return "price";
  }
}

std::string figure_text(std::size_t figure, double value, const std::string& units) {
  if (!std::isfinite(value)) return "-";
  if (figure == kFigureSpoilsUse && value == 0) return "none known";
  switch (figure) {
    case kFigureDropsUse:
    case kFigureSpoilsUse:
    case kFigureStands:
      return fmt::format("{:.0f} %", 100 * value);
    case kFigureMass:
      return mass_text(value, units);
    case kFigurePrice:
      return fmt::format("{:.2f}", value);
    default:
      return length_text(value, units);
  }
}

int n_less(const ChooseResult& r) {
  int n = 0;
  for (const ChooseBuild& build : r.builds) {
    const double cost = lightest(r) ? build.mass_kg : build.price;
    n += build.impossible.empty() && (r.search.chosen < 0 || cost < cost_of(r, r.search.chosen));
  }
  return n;
}

}  // namespace totebench
