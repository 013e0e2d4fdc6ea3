// The sweep as a page and as a chart.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/present/report_page.hpp"
#include "app/present/sweep_axes.hpp"
#include "app/present/sweep_report.hpp"
#include "totebench/viz/front_chart.hpp"

namespace totebench::app {
namespace {

constexpr std::size_t kMostOnPage = 500;  // more would be slow to open; all are in the files

// Of so many bags one is drawn, beside those that no other beats: a picture of more marks shows
// less.
std::size_t every_drawn(const studies::SweepResult& r) {
  constexpr std::size_t kMostDrawn = 2000;
  return 1 + (r.bags.size() - 1) / kMostDrawn;
}

viz::PageSection files_section(const studies::SweepResult& r) {
  viz::PageSection files;
  files.title = "Files beside this page";
  files.tables.push_back(
      {"",
       {"file", "what is in it"},
       {{"sweep.csv", fmt::format("all {} bags, a row each, for a spreadsheet", r.bags.size())},
        {"sweep.json", "the same for programs, with the factors and the cautions"},
        {"sweep.svg", "the picture above"},
        {"sweep.bags",
         "what was hung: the same command tells it again at once, and a wider sweep hangs only "
         "what is new"}},
       {true, true}});
  return files;
}

}  // namespace

std::string sweep_chart_svg(const studies::SweepResult& r, const std::string& units) {
  const SweepAxis across = across_axis(r), up = up_axis(r);
  const scenes::ShownUnit x_unit = axis_unit(across, units), y_unit = axis_unit(up, units);
  const std::vector<int> unbeaten = unbeaten_bags(r);
  viz::FrontChart chart;
  chart.title = fmt::format("{} against {}", capital(up.name), across.name);
  chart.x_title = axis_title(across, x_unit);
  chart.y_title = axis_title(up, y_unit);
  chart.y_inches = y_unit.name == "in";
  chart.y_limit = std::nan("");
  chart.front_text = "no other bag has less of both";
  chart.beaten_text = across.figure ? "another bag has less of both" : "a bag";
  constexpr std::size_t kMostNumbered = 24;
  const std::size_t every = every_drawn(r);
  for (std::size_t i = 0; i < r.bags.size(); ++i) {
    if (std::isnan(across.values[i]) || std::isnan(up.values[i])) continue;
    viz::FrontPoint point;
    point.x = across.values[i] * x_unit.per_SI;
    point.y = up.values[i] * y_unit.per_SI;
    const bool front =
        std::find(unbeaten.begin(), unbeaten.end(), static_cast<int>(i)) != unbeaten.end();
    if (!front && i % every != 0) continue;
    point.mark = front ? viz::FrontMark::kFront : viz::FrontMark::kBeaten;
    if (front || r.bags.size() <= kMostNumbered) point.label = std::to_string(i + 1);
    chart.points.push_back(std::move(point));
  }
  if (chart.points.empty()) return "";
  std::stable_sort(chart.points.begin(), chart.points.end(),
                   [](const viz::FrontPoint& a, const viz::FrontPoint& b) { return a.x < b.x; });
  return viz::front_chart_svg(chart);
}

viz::Page sweep_page(const scenes::Scene& scene, const studies::SweepResult& r,
                     const std::string& units, const std::string& json) {
  viz::Page page;
  page.title = scene.name + ": a sweep";
  page.sentence = sweep_sentence(scene, r, units);
  page.under = scene.note;
  page.cautions = sweep_cautions(r);
  page.data_id = "sweep";
  page.data_json = r.bags.size() <= kMostOnPage ? json : "{}";
  viz::PageSection bags;
  bags.title = "The bags";
  bags.first = true;
  TextTable rows = sweep_rows(r, units, kMostOnPage);
  const bool all = rows.size() > r.bags.size();
  bags.tables.push_back(page_table(std::move(rows)));
  bags.tables.back().words.assign(bags.tables.back().head.size(), false);
  std::fill_n(bags.tables.back().words.begin(), r.factors.size() + 1, true);
  bags.tables.back().words.back() = true;
  if (const std::string svg = sweep_chart_svg(r, units); !svg.empty()) {
    bags.figures.push_back({svg, ""});
  }
  if (!unbeaten_bags(r).empty()) {
    bags.paragraphs.push_back(fmt::format("* No other bag has less of both, {} and {}.",
                                          across_axis(r).name, up_axis(r).name));
  }
  if (const std::size_t every = every_drawn(r); every > 1) {
    bags.paragraphs.push_back(fmt::format("Of every {} other bags one is drawn.", every));
  }
  if (!all) {
    bags.paragraphs.push_back(fmt::format("The table has {} of {} bags; all are in sweep.csv.",
                                          kMostOnPage, r.bags.size()));
  }
  page.sections.push_back(std::move(bags));
  if (TextTable effects = effect_rows(r, units); effects.size() > 1) {
    viz::PageSection factors;
    factors.title = "What each factor does";
    factors.first = true;
    factors.paragraphs = {
        "Means of the bags at rest, over all values of the other factors. Two factors that act "
        "together, as a stiff base and a heavy load may, show in the table of bags only."};
    factors.tables.push_back(page_table(std::move(effects)));
    factors.tables.back().words = {true, true, false, true, false};
    page.sections.push_back(std::move(factors));
  }
  page.sections.push_back(files_section(r));
  return page;
}

}  // namespace totebench::app
