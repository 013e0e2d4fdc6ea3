#include "app/present/rate_report.hpp"

#include <fmt/format.h>

#include <tuple>

#include "app/commands/scene_job.hpp"
#include "app/present/advice.hpp"
#include "app/present/rate_tables.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/cautions.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::app {
namespace {

// What may lead to a rating where there is none.
std::string unrated_advice(const studies::RateResult& result) {
  const scenes::Findings& found = result.hang.findings;
  if (!found.converged()) {
    return advice_for(found.empty.status != solver::SolveStatus::kConverged ? found.empty
                                                                            : found.loaded);
  }
  return result.rating.drops.load_factor > 0
             ? "limp walls fold without end under more load; a finer mesh.size or a stiffer layer "
               "may help"
             : "";
}

}  // namespace

std::string rate_report(const scenes::Scene& scene, const studies::RateResult& result,
                        const std::string& units, const viz::Written& written,
                        const std::string& folder) {
  const studies::Rating& r = result.rating;
  const std::string end = cautions_text(studies::rating_cautions(scene, result, units)) + "\n" +
                          written_text(written, folder);
  if (result.interrupted) {
    return "Stopped on request: no rating. Run the same command again to go on with the sampled "
           "bags that were finished.\n" +
           end;
  }
  if (!result.rated()) {
    std::string text = unrated_sentence(scene, result, units) + "\n";
    if (const std::string advice = unrated_advice(result); !advice.empty()) {
      text += "What to try: " + advice + ".\n";
    }
    if (result.hang.findings.converged()) text += "\n" + table_text(modes_table(result, units));
    return text + end;
  }
  std::string text =
      rate_sentence(scene, result, units) + "\n\n" + table_text(modes_table(result, units));
  text += "\n" + table_text(failures_table(r, units));
  for (const auto& lines :
       {spread_lines(r, units), factor_lines(r, units), comfort_lines(scene, result, units)}) {
    for (const std::string& line : lines) text += "  " + line + "\n";
  }
  if (!r.changes.empty()) {
    text += "\n" + advice_text(r, units) + "\n" + table_text(changes_table(r, units));
  }
  text +=
      fmt::format("\nComputed in {}, with {} sampled bags and a mesh of {} triangles.\n",
                  scenes::time_text(result.seconds), r.bags.size(), result.hang.findings.triangles);
  return text + end;
}

viz::Page rate_page(const scenes::Scene& scene, const studies::RateResult& result,
                    const materials::MaterialLibrary& library, const std::string& units,
                    const std::string& json) {
  const studies::Rating& r = result.rating;
  viz::Page page = bag_page(scene, result.hang, units,
                            result.rated() ? rate_sentence(scene, result, units)
                                           : unrated_sentence(scene, result, units));
  page.cautions = studies::rating_cautions(scene, result, units);
  page.data_id = "rating";
  page.data_json = json;
  if (!result.rated()) {
    page.alarm = "There is no rating of this bag. What follows is what is known.";
    viz::PageSection known = use_section(result.hang.findings, units);
    known.title = "Share of each strength used, with " + scenes::mass_text(r.set_mass_kg, units);
    if (const std::string advice = unrated_advice(result); !advice.empty()) {
      known.paragraphs.push_back("What to try: " + advice + ".");
    }
    known.first = true;
    page.sections = {known};
    add_background(page, scene, library, units);
    return page;
  }
  viz::PageSection fails;
  fails.title = "What fails first";
  fails.first = true;
  const scenes::ShownUnit mass = scenes::mass_unit(units);
  viz::BarChart chart{"Contents at first failure",
                      mass.name,
                      {"1 in 20 below", "typical bag", "1 in 20 above"},
                      {}};
  for (const auto& [what, f, spread] :
       {std::tuple("load dropped", &r.drops, &r.drops_spread),
        std::tuple("lasting damage", &r.spoilt, &r.spoilt_spread)}) {
    if (!f->found || spread->sampled_kg.count == 0) continue;
    chart.groups.push_back(
        {what,
         {spread->sampled_kg.low * mass.per_SI, f->load_factor * r.set_mass_kg * mass.per_SI,
          spread->sampled_kg.high * mass.per_SI}});
  }
  if (!chart.groups.empty()) fails.figures = {{viz::bar_chart_svg(chart), ""}};
  fails.tables = {page_table(failures_table(r, units))};
  fails.tables.back().words = {true, false, false, false, true, true};
  for (const auto& lines : {spread_lines(r, units), factor_lines(r, units)}) {
    fails.paragraphs.insert(fails.paragraphs.end(), lines.begin(), lines.end());
  }
  viz::PageSection used = use_section(result.hang.findings, units);
  used.title = "Share of each strength used, with " + scenes::mass_text(r.set_mass_kg, units);
  viz::PageSection carried;
  carried.title = "Who carries it";
  carried.paragraphs = comfort_lines(scene, result, units);
  page.sections = {fails, used, carried};
  if (!r.changes.empty()) {
    viz::PageSection changes;
    changes.title = "What would raise it";
    changes.paragraphs = {advice_text(r, units)};
    changes.tables = {page_table(changes_table(r, units))};
    page.sections.insert(page.sections.begin() + 1, changes);
  }
  add_background(page, scene, library, units);
  return page;
}

}  // namespace totebench::app
