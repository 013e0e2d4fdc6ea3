// Tables of a sweep: the bags, what each factor does.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/present/sweep_axes.hpp"
#include "app/present/sweep_report.hpp"

namespace totebench::app {
namespace {

// Those that are told, in the order of the design.
std::vector<std::size_t> told_bags(const studies::SweepResult& r, std::size_t most) {
  std::vector<std::size_t> told;
  for (const int i : unbeaten_bags(r)) {
    if (told.size() < most) told.push_back(static_cast<std::size_t>(i));
  }
  std::sort(told.begin(), told.end());
  const std::vector<std::size_t> unbeaten = told;
  for (std::size_t i = 0; i < r.bags.size() && told.size() < most; ++i) {
    if (!std::binary_search(unbeaten.begin(), unbeaten.end(), i)) told.push_back(i);
  }
  std::sort(told.begin(), told.end());
  return told;
}

// Columns: what the picture shows, and what a bag is mostly asked for.
std::vector<SweepAxis> told_axes(const studies::SweepResult& r) {
  std::vector<const scenes::Figure*> figures;
  std::vector<SweepAxis> axes;
  for (const std::string& key : {r.spec.up, r.spec.across, std::string("bottom_sag_m"),
                                 std::string("peak_stitch_N"), std::string("bag_mass_kg")}) {
    const scenes::Figure* figure = &figure_named(key);
    if (std::find(figures.begin(), figures.end(), figure) != figures.end()) continue;
    figures.push_back(figure);
    axes.push_back(axis_of(r, *figure));
  }
  return axes;
}

// Without the unit, which is that of the heading.
std::string cell_of(const SweepAxis& axis, std::size_t bag, const std::string& units) {
  const double value = axis.values[bag];
  if (std::isnan(value)) return "-";
  const scenes::ShownUnit unit = axis_unit(axis, units);
  return unit.name == scenes::shown_unit(axis.dimension, units).name
             ? scenes::shown_number(value, axis.dimension, units)
             : scenes::number_text(value * unit.per_SI);
}

std::string used_text(const studies::SweptBag& bag) {
  if (!(bag.strength_used > 0)) return "none known";
  return scenes::rough_text(100 * bag.strength_used) + " %";
}

// Bags of one level, or of one third of a range.
struct Group {
  std::string name;
  double sum = 0;
  int count = 0;
  [[nodiscard]] double mean() const { return sum / count; }
};

std::vector<Group> groups_of(const studies::SweepResult& r, std::size_t factor,
                             const SweepAxis& up) {
  constexpr std::size_t kMostLevels = 12;
  std::vector<std::string> names;  // in the order in which they come up
  double low = INFINITY, high = -INFINITY;
  for (const studies::SweptBag& bag : r.bags) {
    const scenes::SweptValue& value = bag.values[factor];
    if (names.size() <= kMostLevels &&
        std::find(names.begin(), names.end(), value.text) == names.end()) {
      names.push_back(value.text);
    }
    low = std::fmin(low, value.number);
    high = std::fmax(high, value.number);
  }
  const bool thirds = r.factors[factor].number && names.size() > kMostLevels;
  if (thirds) names = {"lower third", "middle third", "upper third"};
  std::vector<Group> groups(names.size());
  for (std::size_t g = 0; g < names.size(); ++g) groups[g].name = names[g];
  for (std::size_t i = 0; i < r.bags.size(); ++i) {
    if (std::isnan(up.values[i])) continue;
    const scenes::SweptValue& value = r.bags[i].values[factor];
    const auto place =
        thirds ? std::min<std::size_t>(
                     2, static_cast<std::size_t>(3 * (value.number - low) / (high - low)))
               : static_cast<std::size_t>(std::find(names.begin(), names.end(), value.text) -
                                          names.begin());
    groups[place].sum += up.values[i];
    ++groups[place].count;
  }
  std::erase_if(groups, [](const Group& group) { return group.count == 0; });
  return groups;
}

struct Effect {
  std::string key;
  Group least, most;
  [[nodiscard]] double moves() const { return most.mean() - least.mean(); }
};

std::vector<Effect> effects_of(const studies::SweepResult& r) {
  const SweepAxis up = up_axis(r);
  std::vector<Effect> effects;
  for (std::size_t f = 0; f < r.factors.size(); ++f) {
    const std::vector<Group> groups = groups_of(r, f, up);
    if (groups.size() < 2) continue;
    const auto [least, most] =
        std::minmax_element(groups.begin(), groups.end(),
                            [](const Group& a, const Group& b) { return a.mean() < b.mean(); });
    effects.push_back({r.factors[f].key, *least, *most});
  }
  std::stable_sort(effects.begin(), effects.end(),
                   [](const Effect& a, const Effect& b) { return a.moves() > b.moves(); });
  return effects;
}

}  // namespace

TextTable sweep_rows(const studies::SweepResult& r, const std::string& units, std::size_t most) {
  std::vector<std::string> head = {"bag"};
  for (const scenes::SweptFactor& factor : r.factors) head.push_back(factor.key);
  const std::vector<SweepAxis> axes = told_axes(r);
  for (const SweepAxis& axis : axes) head.push_back(axis_title(axis, axis_unit(axis, units)));
  head.emplace_back("strength used");
  head.emplace_back("where, or why not");
  TextTable rows = {head};
  const std::vector<int> unbeaten = unbeaten_bags(r);
  for (const std::size_t i : told_bags(r, most)) {
    const studies::SweptBag& bag = r.bags[i];
    const bool front =
        std::find(unbeaten.begin(), unbeaten.end(), static_cast<int>(i)) != unbeaten.end();
    std::vector<std::string> row = {fmt::format("{}{}", i + 1, front ? "*" : "")};
    for (const scenes::SweptValue& value : bag.values) row.push_back(value.text);
    for (const SweepAxis& axis : axes) row.push_back(cell_of(axis, i, units));
    row.push_back(bag.at_rest() ? used_text(bag) : "-");
    row.push_back(bag.at_rest()                              ? bag.strength_used_where
                  : bag.state == studies::Swept::kImpossible ? "cannot be made: " + bag.why
                                                             : bag.why);
    rows.push_back(std::move(row));
  }
  return rows;
}

TextTable effect_rows(const studies::SweepResult& r, const std::string& units) {
  const SweepAxis up = up_axis(r);
  TextTable rows = {{"factor", "least " + up.name, "mean", "largest " + up.name, "mean"}};
  for (const Effect& e : effects_of(r)) {
    rows.push_back({e.key, "with " + e.least.name, axis_text(e.least.mean(), up, units),
                    "with " + e.most.name, axis_text(e.most.mean(), up, units)});
  }
  return rows;
}

}  // namespace totebench::app
