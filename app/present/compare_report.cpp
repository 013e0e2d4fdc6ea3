#include "app/present/compare_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>

#include "app/commands/scene_job.hpp"
#include "app/present/advice.hpp"
#include "app/present/demand_text.hpp"
#include "app/present/text_table.hpp"
#include "totebench/scenes/figure.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

constexpr const char* kNoRest = "no equilibrium was found";
constexpr const scenes::Figure& kComparedFigure =
    scenes::figure_of<&scenes::Findings::bottom_sag_m>();
constexpr std::size_t kToldOneByOne = 4;  // more bags than this make no readable sentence

bool good(const studies::ComparedBag& bag) { return bag.result.findings.converged(); }

struct ShownQuantity {
  std::string what;
  scenes::Dimension dimension;
  std::function<double(const scenes::Findings&)> of;
  const scenes::Figure* figure = nullptr;  // none: of no figure
};

std::vector<ShownQuantity> quantities() {
  std::vector<ShownQuantity> list;
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (!figure.headline() && !figure.is_told(scenes::kToldCompared)) continue;
    const auto value = [&figure](const scenes::Findings& found) {
      const double its = figure.value(found);
      return its == 0 && figure.is_told(scenes::kToldWhereThere) ? std::nan("") : its;
    };
    list.push_back({figure.name, figure.dimension, value, &figure});
  }
  list.push_back(
      {"most of a strength used, %", scenes::Dimension::kNone, [](const scenes::Findings& f) {
         return f.utilisation.empty() ? std::nan("") : 100 * f.utilisation.front().ratio;
       }});
  return list;
}

std::string cell(double value, double first, scenes::Dimension dimension, const std::string& units,
                 bool is_first, bool differs) {
  if (!std::isfinite(value)) return "-";
  const auto shown = [&](double its) {
    return dimension == scenes::Dimension::kNone ? scenes::rough_text(its)
                                                 : scenes::shown_number(its, dimension, units);
  };
  const std::string text = shown(value);
  if (is_first || !std::isfinite(first)) return text;
  if (!differs) return text + " (~)";
  const double apart = value - first;
  const std::string size = shown(std::abs(apart));
  if (size.starts_with("under")) {
    return fmt::format("{} ({} {})", text, size, apart < 0 ? "less" : "more");
  }
  return fmt::format("{} ({}{})", text, apart < 0 ? "-" : "+", size);
}

// What bag i adds, told from the bag before it where that one only adds less.
std::string change_text(const std::vector<studies::ComparedBag>& bags, std::size_t i) {
  const studies::BagDifference& whole = bags[i].from_first;
  const studies::BagDifference& before = bags[i - 1].from_first;
  const auto& less = before.added;
  const bool more = !less.empty() && less.size() < whole.added.size() &&
                    std::equal(less.begin(), less.end(), whole.added.begin()) &&
                    before.removed == whole.removed && before.changed == whole.changed;
  if (!more) return studies::difference_text(whole);
  studies::BagDifference further;
  further.added.assign(whole.added.begin() + static_cast<std::ptrdiff_t>(less.size()),
                       whole.added.end());
  return studies::difference_text(further) + " as well";
}

}  // namespace

ComparisonTable comparison_table(const studies::Comparison& comparison, const std::string& units) {
  ComparisonTable table;
  for (const studies::ComparedBag& bag : comparison.bags) table.names.push_back(bag.scene.name);
  for (const ShownQuantity& quantity : quantities()) {
    const std::string unit = scenes::shown_unit(quantity.dimension, units).name;
    ComparisonTable::Row row{quantity.what + (unit.empty() ? "" : ", " + unit), {}};
    const auto value_of = [&](const studies::ComparedBag& bag) {
      return good(bag) ? quantity.of(bag.result.findings) : std::nan("");
    };
    bool any = false;
    for (const studies::ComparedBag& bag : comparison.bags) {
      const double value = value_of(bag);
      any |= std::isfinite(value);
      const studies::ComparedBag& first = comparison.bags.front();
      const bool differs = !quantity.figure || !good(bag) || !good(first) ||
                           studies::can_be_told_apart(bag.result, first.result, *quantity.figure);
      row.cells.push_back(
          cell(value, value_of(first), quantity.dimension, units, &bag == &first, differs));
    }
    if (any) table.rows.push_back(row);
  }
  return table;
}

TextTable difference_rows(const studies::Comparison& comparison, const std::string& units) {
  TextTable rows = {{"likely difference from A"}};
  const auto& bags = comparison.bags;
  for (std::size_t i = 1; i < bags.size(); ++i) {
    rows.front().emplace_back(1, static_cast<char>('A' + i));
  }
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (!figure.headline() || figure.likely_from != scenes::LikelyFrom::kMaterials) continue;
    std::vector<std::string> row = {figure.name};
    bool any = false;
    for (std::size_t i = 1; i < bags.size(); ++i) {
      const bool known = bags[0].result.data_scatter && bags[i].result.data_scatter;
      any |= known;
      if (!known) {
        row.emplace_back("-");
      } else if (!studies::can_be_told_apart(bags[0].result, bags[i].result, figure)) {
        row.emplace_back("none that can be told");
      } else {
        const studies::Range range =
            studies::difference_range(bags[0].result, bags[i].result, figure);
        row.push_back(move_text(range.low, figure.dimension, units) + " to " +
                      move_text(range.high, figure.dimension, units));
      }
    }
    if (any) rows.push_back(std::move(row));
  }
  return rows.size() > 1 ? rows : TextTable{};
}

std::string comparison_sentence(const studies::Comparison& comparison, const std::string& units) {
  const std::vector<studies::ComparedBag>& bags = comparison.bags;
  if (bags.empty()) return "Nothing was compared.";
  const auto sag = [&](const studies::ComparedBag& bag) {
    return scenes::length_text(bag.result.findings.bottom_sag_m, units);
  };
  if (!good(bags.front())) {
    return fmt::format("{}, with which the others are compared: {}.", capital(bags[0].scene.name),
                       kNoRest);
  }
  if (bags.size() > kToldOneByOne) {
    const studies::ComparedBag *least = nullptr, *most = nullptr;
    for (const studies::ComparedBag& bag : bags) {
      if (!good(bag)) continue;
      const double its = bag.result.findings.bottom_sag_m;
      if (least == nullptr || its < least->result.findings.bottom_sag_m) least = &bag;
      if (most == nullptr || its > most->result.findings.bottom_sag_m) most = &bag;
    }
    return fmt::format("Of {} bags \"{}\" sags least at the bottom ({}) and \"{}\" most ({}).",
                       bags.size(), least->scene.name, sag(*least), most->scene.name, sag(*most));
  }
  std::string text;
  for (std::size_t i = 1; i < bags.size(); ++i) {
    const std::string change = change_text(bags, i);
    const std::string subject =
        change.empty() ? fmt::format("\"{}\", which is the same bag,", bags[i].scene.name) : change;
    if (!good(bags[i])) {
      text += fmt::format("{}{}: {}", i == 1 ? "" : "; ", subject, kNoRest);
    } else if (sag(bags[i]) == sag(bags[0]) ||
               !studies::can_be_told_apart(bags[i].result, bags[0].result, kComparedFigure)) {
      text += fmt::format("{}{} makes no difference to the bottom sag that can be told ({} and {})",
                          i == 1 ? "" : "; ", subject, sag(bags[0]), sag(bags[i]));
    } else if (i == 1) {
      text +=
          fmt::format("{} takes the bottom sag from {} to {}", subject, sag(bags[0]), sag(bags[i]));
    } else {
      text += fmt::format("; {} takes it to {}", subject, sag(bags[i]));
    }
  }
  return capital(text) + ".";
}

std::vector<std::string> comparison_cautions(const studies::Comparison& comparison) {
  std::vector<std::string> order;
  std::map<std::string, std::vector<std::string>> whose;
  std::vector<std::string> out;
  for (const studies::ComparedBag& bag : comparison.bags) {
    for (const std::string& caution : bag.result.findings.cautions) {
      if (whose[caution].empty()) order.push_back(caution);
      whose[caution].push_back(bag.scene.name);
    }
  }
  for (const std::string& caution : order) {
    const auto& names = whose[caution];
    std::string list;
    for (const std::string& name : names) list += (list.empty() ? "" : ", ") + name;
    out.push_back(names.size() == comparison.bags.size() ? caution : list + ": " + caution);
  }
  return out;
}

std::string comparison_report(const studies::Comparison& comparison, const std::string& units,
                              const viz::Written& written, const std::string& folder) {
  std::string text = comparison_sentence(comparison, units) + "\n\n";
  const ComparisonTable table = comparison_table(comparison, units);
  // Letters head the columns, since names of bags are long.
  TextTable rows(1, {""});
  for (std::size_t i = 0; i < table.names.size(); ++i) {
    const std::string letter(1, static_cast<char>('A' + i));
    rows[0].push_back(letter);
    const std::string change = studies::difference_text(comparison.bags[i].from_first);
    text += fmt::format("  {}  {}{}\n", letter, table.names[i],
                        i == 0           ? ""
                        : change.empty() ? ": the same bag as A"
                                         : ": " + change);
  }
  for (const auto& row : table.rows) {
    rows.push_back({row.what});
    rows.back().insert(rows.back().end(), row.cells.begin(), row.cells.end());
  }
  text += "\n" + table_text(rows) +
          "  (in brackets: against A; ~ no difference that can be told from what mesh, a second "
          "shape or the scatter of the material data change)\n\n";
  if (const TextTable likely = difference_rows(comparison, units); !likely.empty()) {
    text +=
        table_text(likely) +
        "  (nine in ten such pairs of bags, with the same cloth, sheet and webbing in both where "
        "both have it)\n\n";
  }
  for (const studies::ComparedBag& bag : comparison.bags) {
    if (good(bag)) continue;
    const std::string advice = advice_for(bag.result.findings.loaded);
    text += fmt::format("{}: {}{}\n", bag.scene.name, kNoRest,
                        advice.empty() ? "" : "; what to try: " + advice);
  }
  text += results_text(written, folder);
  return text + cautions_text(comparison_cautions(comparison));
}

std::vector<viz::BarChart> comparison_charts(const studies::Comparison& comparison,
                                             const std::string& units) {
  std::vector<viz::BarChart> charts;
  for (const scenes::Figure* figure :
       {&scenes::figure_of<&scenes::Findings::bottom_sag_m>(),
        &scenes::figure_of<&scenes::Findings::strap_drop_loaded_m>()}) {
    const scenes::ShownUnit unit = scenes::shown_unit(figure->dimension, units);
    viz::BarChart chart{capital(figure->name), unit.name, {figure->name}, {}};
    for (const studies::ComparedBag& bag : comparison.bags) {
      const double value =
          good(bag) ? figure->value(bag.result.findings) * unit.per_SI : std::nan("");
      chart.groups.push_back({bag.scene.name, {value}});
    }
    charts.push_back(std::move(chart));
  }
  return charts;
}

}  // namespace totebench::app
