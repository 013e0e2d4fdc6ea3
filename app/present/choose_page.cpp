// The choice as a page and as a chart.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "app/present/choose_report.hpp"
#include "app/present/choose_words.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/viz/front_chart.hpp"

namespace totebench::app {
namespace {

constexpr std::size_t kLongestName = 80;  // of a scene

// Within all limits but that of the sag.
bool within_others(const studies::FoundBuild& found, const studies::Figures& limits) {
  for (std::size_t f = 0; f < studies::kChooseFigures.size(); ++f) {
    if (f != studies::kFigureSag && std::isfinite(limits[f]) && !(found.figures[f] <= limits[f])) {
      return false;
    }
  }
  return true;
}

viz::PageTable captioned_table(const std::string& caption,
                               std::vector<std::vector<std::string>> rows,
                               std::vector<bool> words) {
  viz::PageTable table{caption, std::move(rows.front()), {}, std::move(words)};
  table.rows.assign(std::make_move_iterator(std::next(rows.begin())),
                    std::make_move_iterator(rows.end()));
  return table;
}

}  // namespace

std::string choose_chart_svg(const studies::ChooseResult& r, const std::string& units) {
  const bool by_mass = r.spec.aim == scenes::ChooseAim::kLightest;
  double heaviest_kg = 0;
  for (const studies::ChooseBuild& build : r.builds) {
    heaviest_kg = std::max(heaviest_kg, build.mass_kg);
  }
  const scenes::ShownUnit mass = scenes::fitting_unit(heaviest_kg, scenes::Dimension::kMass, units);
  const scenes::ShownUnit length = scenes::length_unit(units);
  const studies::Figures limits = studies::figure_limits(r.spec.limits);
  viz::FrontChart chart;
  const std::string drawn = studies::kChooseFigures[studies::kFigureSag].name;
  chart.title = (by_mass ? "Mass against " : "Price against ") + drawn;
  chart.x_title = by_mass ? "mass of the empty bag, " + mass.name : "price of what is chosen";
  chart.y_title = drawn + ", " + length.name;
  chart.y_inches = length.name == "in";
  chart.misses_text = "beyond another limit";
  chart.y_limit = std::nan("");
  if (std::isfinite(limits[studies::kFigureSag])) {
    chart.y_limit = limits[studies::kFigureSag] * length.per_SI;
    chart.limit_label = "limit " + scenes::length_text(limits[studies::kFigureSag], units);
  }
  const std::vector<int>& front = r.search.front;
  const std::vector<int> numbered = numbered_builds(r);
  for (std::size_t i = 0; i < r.search.builds.size(); ++i) {
    const studies::FoundBuild& found = r.search.builds[i];
    if (!found.solved() || !std::isfinite(found.figures[studies::kFigureSag])) continue;
    viz::FrontPoint point;
    point.x = by_mass ? r.builds[i].mass_kg * mass.per_SI : r.builds[i].price;
    point.y = found.figures[studies::kFigureSag] * length.per_SI;
    point.mark = within_others(found, limits) ? viz::FrontMark::kBeaten : viz::FrontMark::kMisses;
    const int build = static_cast<int>(i);
    const auto place = std::find(numbered.begin(), numbered.end(), build);
    point.label = std::to_string(place - numbered.begin() + 1);
    if (std::count(front.begin(), front.end(), build) > 0) point.mark = viz::FrontMark::kFront;
    if (static_cast<int>(i) == r.search.chosen) point.mark = viz::FrontMark::kChosen;
    chart.points.push_back(std::move(point));
  }
  std::stable_sort(chart.points.begin(), chart.points.end(),
                   [](const viz::FrontPoint& a, const viz::FrontPoint& b) { return a.x < b.x; });
  return viz::front_chart_svg(chart);
}

scenes::Scene chosen_scene(const scenes::Scene& scene, const studies::ChooseResult& r) {
  const studies::ChooseBuild& build = r.builds[static_cast<std::size_t>(r.shown())];
  scenes::Scene out = build.scene;
  const std::string suffix = r.search.chosen >= 0 ? " chosen" : " nearest miss";
  out.name = scene.name.substr(0, kLongestName - suffix.size()) + suffix;
  out.note = studies::build_name(r.spec, build.picks) + ". " + scene.note;
  return out;
}

viz::Page choose_page(const scenes::Scene& scene, const studies::ChooseResult& r,
                      const materials::MaterialLibrary& library, const std::string& units,
                      const std::string& json) {
  const scenes::Scene shown = chosen_scene(scene, r);
  const std::string sentence = choose_sentence(r, units);
  viz::Page page = hang_page(shown, r.hang, library, units, sentence, json, {});
  for (viz::PageSection& section : page.sections) section.first = false;
  page.title = scene.name;
  page.under = scene.note;
  if (r.search.chosen < 0) {
    page.alarm = "No build meets the limits. The bag shown is the one that misses them by least.";
  }
  page.cautions = choose_cautions(r, units);
  page.data_id = "choice";
  auto rows = choose_rows(r, units);
  std::vector<bool> words(rows.front().size(), false);
  std::fill_n(words.begin(), r.spec.options.size() + 1, true);
  std::fill_n(words.rbegin(), 2, true);  // what it misses, and the mesh
  viz::PageSection front;
  front.title = "The trade-off";
  front.first = true;
  front.paragraphs = {
      fmt::format("Each mark is a build that was solved, with its number in the table.{}",
                  r.search.front.empty()
                      ? ""
                      : fmt::format(" No build within the other limits beats 1 to {} both in cost "
                                    "and in bottom sag.",
                                    r.search.front.size()))};
  front.figures.push_back({choose_chart_svg(r, units), ""});
  front.tables.push_back(captioned_table("", std::move(rows), std::move(words)));
  viz::PageSection limits;
  limits.title = "The limits";
  limits.tables.push_back(captioned_table("", limit_rows(r, units), {true, false, true, true}));
  if (r.load.carries_kg > 0) {
    limits.paragraphs = {
        "Strength: the most used one, with the load times its factor hung in the bag. This is the "
        "typical bag; the scatter of materials is not in it, and it is no rating."};
  }
  viz::PageSection search;
  search.title = "How it was found";
  search.paragraphs = search_lines(r);
  page.sections.insert(page.sections.begin(), {front, limits, search});
  return page;
}

}  // namespace totebench::app
