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
  if (!result.hang.findings.converged()) {
    const scenes::Findings& found = result.hang.findings;
    const solver::SolveReport& failed =
        found.empty.status != solver::SolveStatus::kConverged ? found.empty : found.loaded;
    std::string text = "No equilibrium of the bag was found, so there is no rating.\n";
    if (const std::string advice = advice_for(failed); !advice.empty()) {
      text += "What to try: " + advice + ".\n";
    }
    return text + end;
  }
  if (!result.rated()) {
    std::string why = "too many sampled bags found no failure load";
    if (!r.can_be_given()) why = r.drops.why_not;
    std::string held;
    if (!r.can_be_given() && r.drops.load_factor > 0) {
      held = fmt::format(
          "The largest load it was seen to hold is {}; on the way there nothing reached its "
          "strength that would drop the load. Limp walls fold without end under more: a finer "
          "mesh.size or a stiffer layer may help.",
          scenes::mass_text(r.drops.load_factor * r.set_mass_kg, units));
    }
    return fmt::format(
               "The load at which the bag would drop its contents is not known ({}), so "
               "there is no rating. {}\n\n",
               why, held) +
           table_text(modes_table(result, units)) + "\n" + end;
  }
  std::string text =
      rate_sentence(scene, result, units) + "\n\n" + table_text(modes_table(result, units));
  text += "\n" + table_text(failures_table(r, units));
  for (const auto& lines :
       {spread_lines(r), factor_lines(r, units), comfort_lines(scene, result, units)}) {
    for (const std::string& line : lines) text += "  " + line + "\n";
  }
  if (!r.changes.empty()) {
    text += "\n" + advice_text(r, units) + "\n" + table_text(changes_table(r, units));
  }
  text += fmt::format("\n{} triangles, {} sampled bags, {:.1f} s\n", result.hang.findings.triangles,
                      r.bags.size(), result.seconds);
  return text + end;
}

viz::Page rate_page(const scenes::Scene& scene, const studies::RateResult& result,
                    const materials::MaterialLibrary& library, const std::string& units,
                    const std::string& json) {
  const studies::Rating& r = result.rating;
  viz::Page page = bag_page(scene, result.hang, units, rate_sentence(scene, result, units));
  page.cautions = studies::rating_cautions(scene, result, units);
  page.data_id = "rating";
  page.data_json = json;
  viz::PageSection fails;
  fails.title = "What fails first";
  const scenes::ShownUnit mass = scenes::mass_unit(units);
  viz::BarChart chart{
      "Load at first failure", mass.name, {"5 % below", "typical bag", "5 % above"}, {}};
  for (const auto& [what, f, spread] : {std::tuple("load dropped", &r.drops, &r.drops_spread),
                                        std::tuple("bag spoilt", &r.spoilt, &r.spoilt_spread)}) {
    if (!f->found || spread->sampled_kg.count == 0) continue;
    chart.groups.push_back(
        {what,
         {spread->sampled_kg.low * mass.per_SI, f->load_factor * r.set_mass_kg * mass.per_SI,
          spread->sampled_kg.high * mass.per_SI}});
  }
  if (!chart.groups.empty()) fails.figures = {{viz::bar_chart_svg(chart), ""}};
  fails.tables = {page_table(failures_table(r, units))};
  fails.tables.back().words = {true, false, false, false, false, false, true, true};
  for (const auto& lines : {spread_lines(r), factor_lines(r, units)}) {
    fails.paragraphs.insert(fails.paragraphs.end(), lines.begin(), lines.end());
  }
  viz::PageSection used = use_section(result.hang.findings, units);
  used.title = "Used up with " + scenes::mass_text(r.set_mass_kg, units);
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
