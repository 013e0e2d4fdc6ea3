#include "app/present/strap_ends_report.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "app/present/hang_report.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/cautions.hpp"

namespace totebench::app {
namespace {

std::string load_at(const studies::StrapEnds& r, const studies::StrapEnd& end,
                    const std::string& units) {
  return (end.fails.found ? "" : "more than ") +
         scenes::mass_text(end.fails.load_factor * r.set_mass_kg, units);
}

const std::string& goes_first(const studies::StrapEnd& end) {
  return end.fails.found ? end.fails.governing.what : end.nearest.what;
}

}  // namespace

std::string strap_ends_sentence(const scenes::Scene& scene, const studies::StrapEnds& r,
                                const std::string& units) {
  const std::string name = scene.name.empty() ? "The tote" : scene.name;
  const auto known =
      std::count_if(r.ends.begin(), r.ends.end(), [](const auto& end) { return end.known(); });
  const std::string stopped =
      r.interrupted ? " Stopped on request: the others were not looked at." : "";
  if (known == 0) {
    return name + ": none of the ways to sew the strap on " +
           (r.interrupted ? "was worked out before the run was stopped." : "could be worked out.");
  }
  const std::vector<const studies::StrapEnd*> strongest = r.strongest();
  std::string best;
  for (const studies::StrapEnd* end : strongest) {
    best += (best.empty() ? "" : end == strongest.back() ? " and " : ", ") + end->name;
  }
  std::string text = fmt::format(
      "{}: of {} ways to sew the strap on, {} hold{} most at the strap's end, until about {} ({})",
      name, known, best, strongest.size() == 1 ? "s" : "", load_at(r, *strongest.front(), units),
      goes_first(*strongest.front()));
  if (strongest.size() > 1) text += "; no difference between them that can be told";
  const auto last = std::find_if(r.ends.rbegin(), r.ends.rend(),
                                 [](const studies::StrapEnd& end) { return end.known(); });
  if (&*last != strongest.back()) {
    text += fmt::format(". The least holds {}: {} ({})", last->name, load_at(r, *last, units),
                        goes_first(*last));
  }
  if (const studies::StrapEnd* own = r.of_scene()) {
    text += fmt::format(". As the scene has it, {}: {}", own->name, load_at(r, *own, units));
  }
  return text +
         ". These are typical strengths and no rating; another part of the bag can fail before." +
         stopped;
}

std::vector<std::string> strap_ends_basis(const materials::MaterialLibrary& library) {
  const auto seconds = [&](const char* id) { return library.rule(id).value; };
  return {
      fmt::format(
          "Each is the same bag, hung anew; loads less than {:.0f} % apart are the same "
          "within what the meshes of two attachments resolve. Shares are of each part's own "
          "strength, so that a rivet can be set beside a stitch.",
          100 * (studies::kStrapEndsToldApart - 1)),
      fmt::format(
          "Thread and time are for one strap's end and are estimates: {:g} times the length of the "
          "stitching and {:.0f} stitches a minute, {:g} s a line, {:g} s to place and trim; {:g} s "
          "more for a bartack, {:g} s for a rivet, {:g} s for a patch. Time yourself once and "
          "scale "
          "them.",
          seconds("seam_thread_ratio"), 60 / seconds("sewing_time_per_stitch"),
          seconds("sewing_time_per_line"), seconds("sewing_time_strap_end"),
          seconds("sewing_time_bartack"), seconds("sewing_time_rivet"),
          seconds("sewing_time_patch"))};
}

std::vector<std::string> strap_ends_cautions() {
  std::vector<std::string> list = studies::load_cautions();
  list.emplace_back(
      "Strengths are typical ones, and every stitch is taken as well made; nothing is allowed for "
      "scatter, shocks or wear. `totebench rate` gives a cautious rated mass for the bag as you "
      "choose it.");
  return list;
}

std::vector<viz::StrapEndPlan> strap_end_plans(const scenes::Scene& scene,
                                               const studies::StrapEnds& r,
                                               const std::string& units) {
  std::vector<viz::StrapEndPlan> plans;
  for (const studies::StrapEnd& end : r.ends) {
    if (!end.known()) continue;
    viz::StrapEndPlan plan;
    plan.title = end.name;
    plan.lines = {"until " + load_at(r, end, units),
                  end.in_scene ? "as in the scene"
                               : scenes::rough_text(100 * end.nearest.ratio) + " % used with " +
                                     scenes::mass_text(r.set_mass_kg, units)};
    plan.strap = end.strap;
    plan.hem_m = scene.bag.hem_m;
    plan.marked = end.in_scene;
    plans.push_back(std::move(plan));
  }
  return plans;
}

viz::Page strap_ends_page(const scenes::Scene& scene, const studies::StrapEnds& result,
                          const materials::MaterialLibrary& library, const std::string& units,
                          const std::string& json) {
  viz::Page page;
  page.title = (scene.name.empty() ? "A tote" : scene.name) + ": ways to sew the strap on";
  page.sentence = strap_ends_sentence(scene, result, units);
  page.under = scene.note;
  page.cautions = strap_ends_cautions();
  page.data_id = "strap_ends";
  page.data_json = json;
  viz::PageSection ways;
  ways.title = "Side by side";
  ways.first = true;
  ways.paragraphs = strap_ends_basis(library);
  ways.tables = {page_table(strap_ends_table(result, units))};
  ways.tables.back().words = {true, false, true, false, false, false};
  ways.side_by_side = true;
  const std::vector<viz::StrapEndPlan> plans = strap_end_plans(scene, result, units);
  const viz::StrapEndScale scale = viz::scale_for(plans);
  for (const viz::StrapEndPlan& plan : plans) {
    ways.figures.push_back({viz::strap_end_svg(plan, scale, units), ""});
  }
  page.sections = {ways};
  add_background(page, scene, library, units);
  return page;
}

}  // namespace totebench::app
