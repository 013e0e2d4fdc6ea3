#include "app/present/wear_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/present/hang_report.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/scenes/utilisation.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::app {
namespace {

constexpr double kFoot_m = 0.3048;

std::string walk_text(double walk_m, const std::string& units) {
  return units == "in" ? scenes::number_text(walk_m / kFoot_m) + " ft"
                       : scenes::number_text(walk_m) + " m";
}

// A band this wide says nothing of when a part wears through.
constexpr double kWidestBand = 30;

bool is_known(const studies::WearMode& mode) {
  return mode.uses_low > 0 && mode.uses_high <= kWidestBand * mode.uses_low;
}

// Which test would tell what the data do not.
std::string settling_test(const studies::WearMode& mode, const scenes::Scene& scene,
                          const studies::WearResult& result, const std::string& units) {
  const auto sites =
      static_cast<double>(std::max<std::size_t>(1, result.fresh.tote.attachments.size()));
  const bool at_end = mode.mode == "strap_fastening" || mode.mode == "tear_out" ||
                      mode.mode == "cloth_at_strap" || mode.mode == "strap";
  const std::string sample = at_end ? "a strap's end sewn as on the bag"
                             : mode.mode == "body_seam" || mode.mode == "seam_slippage"
                                 ? "a hand's width of the same seam"
                                 : "a strip of the same material";
  const double share = at_end ? 1 / sites : 1.0;
  return fmt::format(
      "What would settle it: {}, loaded with {} and let go, over and over, until it fails; three "
      "samples of your own make",
      sample, scenes::mass_text(result.lifted_factor * share * scene.contents.mass_kg, units));
}

}  // namespace

std::string uses_text(double uses) {
  if (uses >= studies::kMostUses) return "over 1 000 000";
  if (uses < 1) return "none";
  const double step = std::pow(10.0, std::max(0.0, std::floor(std::log10(uses)) - 1));
  std::string text = fmt::format("{:.0f}", std::floor(uses / step) * step);
  for (int i = static_cast<int>(text.size()) - 3; i > 0; i -= 3) {
    text.insert(static_cast<std::size_t>(i), " ");
  }
  return text;
}

namespace {

// "wear through after 40 uses"
std::string soonest_text(const studies::WearMode& mode) {
  const std::string uses = uses_text(mode.uses_low);
  if (mode.uses_low < 1) return "give way in the first use";
  return fmt::format("wear through after {} use{}", uses, uses == "1" ? "" : "s");
}

}  // namespace

std::string uses_band_text(const studies::WearMode& mode) {
  const std::string low = uses_text(mode.uses_low), high = uses_text(mode.uses_high);
  if (low == high) return low;
  return (is_known(mode) ? "" : "not known: ") + low + " to " + high;
}

// The use that a scene does not speak of.
std::string assumed_text(const scenes::Scene& scene, const std::string& units) {
  if (!(scene.use == scenes::UseSpec{})) return "";
  return fmt::format(
      " Assumed, as the scene does not say (its key \"use\"): {:g} times a week, each time {} on "
      "foot, picked up {}, {} h hanging loaded.",
      scene.use.times_a_week, walk_text(scene.use.walk_m, units),
      scene.use.lifts == 1 ? "once" : fmt::format("{} times", scene.use.lifts),
      scenes::number_text(scene.use.loaded_hours));
}

std::string verdict_text(const scenes::Scene& scene, const studies::WearResult& result,
                         const std::string& units) {
  if (!result.carry_test) return "";
  const studies::WearMode& first = result.modes.front();
  const std::string test = fmt::format(
      "Carry test of {} uses, {} and {} lift{} each: ", scene.use.uses,
      walk_text(scene.use.walk_m, units), scene.use.lifts, scene.use.lifts == 1 ? "" : "s");
  const std::string band = fmt::format(" ({}, uses until it wears through: {}; data: {})",
                                       first.what, uses_band_text(first), first.grade);
  switch (*result.carry_test) {
    case studies::Verdict::kEndures:
      return test + "pass by these data" + band + ".";
    case studies::Verdict::kFails:
      return test + "fail by these data" + band + ".";
    case studies::Verdict::kNotDecided:
      break;
  }
  return test + "not decided by the data" + band + ".";
}

std::string wear_sentence(const scenes::Scene& scene, const studies::WearResult& result,
                          const std::string& units) {
  const auto first = std::min_element(
      result.modes.begin(), result.modes.end(),
      [](const studies::WearMode& a, const studies::WearMode& b) { return a.uses < b.uses; });
  const studies::WearMode& weakest = result.modes.front();
  const std::string name = scene.name.empty() ? "The tote" : scene.name;
  std::string text = fmt::format("{} {}, carried {:g} times a week: ", name,
                                 load_text(scene, units), scene.use.times_a_week);
  if (is_known(weakest)) {
    text +=
        first->uses >= studies::kMostUses
            ? std::string("with typical data nothing known wears through in 1 000 000 uses")
            : fmt::format("with typical data the first to wear through is {}, after about {} uses",
                          first->what, uses_text(first->uses));
    if (weakest.uses_low < studies::kMostUses) {
      const bool same = first->uses < studies::kMostUses && first->mode == weakest.mode;
      text += fmt::format("; with the weakest, {} could {}", same ? "it" : weakest.what,
                          soonest_text(weakest));
    }
  } else {
    text += fmt::format("how long it lasts is not known: {} could {}, or after {}. {}",
                        weakest.what, soonest_text(weakest), uses_text(weakest.uses_high),
                        settling_test(weakest, scene, result, units));
  }
  const studies::AgedShape& last = result.shapes.back();
  const std::string sag = scenes::length_text(last.bottom_sag_m, units),
                    fresh = scenes::length_text(result.fresh.findings.bottom_sag_m, units);
  text += fmt::format(". After {} the bottom sags {}{}.", last.after, sag,
                      sag == fresh ? ", by a ruler the same as new" : " instead of " + fresh);
  return text + assumed_text(scene, units);
}

std::string each_use_text(const scenes::Scene& scene, const studies::WearResult& result) {
  return fmt::format(
      "Shares of each strength taken. Each use: {:.0f} steps at {} times the weight ({} times the "
      "pull on the hardest stitch), {} lift{} at {} times ({} times).",
      result.steps_a_use, scenes::number_text(result.walking_factor),
      scenes::number_text(result.walking_stitch_factor), scene.use.lifts,
      scene.use.lifts == 1 ? "" : "s", scenes::number_text(result.lifted_factor),
      scenes::number_text(result.lifted_stitch_factor));
}

std::string softened_text(const studies::WearResult& result, const std::string& units) {
  if (!result.softened_sag_m) return "";
  return fmt::format(
      "If flexing took half the stiffness of the stabilizer, the bottom of the new bag would "
      "sag "
      "{} (no data say how much it takes).",
      scenes::length_text(*result.softened_sag_m, units));
}

std::vector<std::string> wear_cautions(const studies::WearResult& result) {
  std::vector<std::string> cautions = {
      "Nobody has published how sewn cotton seams tire: how much sooner they do under a harder "
      "pull is an estimate. Read the uses as tens, thousands or millions, and never as a life that "
      "is promised.",
      "Rubbing, washing, wet, sunlight and overloads are not in here, and many bags fail by these "
      "first. Look at the strap ends often; throw a bag away at the first broken stitch.",
      "Time under load adds up without recovery in between: the aged bag errs to the limp side.",
      "A result on a carry test says what these data say of it; the test itself decides."};
  const auto& general = result.fresh.findings.cautions;
  cautions.insert(cautions.end(), general.begin(), general.end());
  std::erase(cautions, scenes::kSteadyLoad);
  return cautions;
}

viz::Page wear_page(const scenes::Scene& scene, const studies::WearResult& result,
                    const materials::MaterialLibrary& library, const std::string& units,
                    const std::string& json) {
  viz::Page page = bag_page(scene, result.fresh, units, wear_sentence(scene, result, units));
  page.cautions = wear_cautions(result);
  page.data_id = "wear";
  page.data_json = json;
  viz::PageSection wears;
  wears.title = "What wears through";
  wears.first = true;
  if (result.carry_test) wears.paragraphs.push_back(verdict_text(scene, result, units));
  wears.paragraphs.push_back(each_use_text(scene, result));
  wears.tables = {page_table(wear_table(result, units))};
  wears.tables.back().words = {true, false, false, false, false, false, true};
  viz::PageSection sags;
  sags.title = "How it hangs by then";
  sags.first = true;
  const scenes::ShownUnit length = scenes::length_unit(units);
  viz::BarChart sag{"Bottom sag", length.name, {"bottom sag"}, {}};
  viz::BarChart drop{"Strap drop", length.name, {"strap drop"}, {}};
  const auto add = [&](const std::string& label, double sag_m, double drop_m) {
    sag.groups.push_back({label, {sag_m * length.per_SI}});
    drop.groups.push_back({label, {drop_m * length.per_SI}});
  };
  add("new", result.fresh.findings.bottom_sag_m, result.fresh.findings.strap_drop_loaded_m);
  for (const studies::AgedShape& shape : result.shapes) {
    add("after " + shape.after, shape.bottom_sag_m, shape.strap_drop_m);
  }
  sags.figures = {{viz::bar_chart_svg(sag), ""}, {viz::bar_chart_svg(drop), ""}};
  sags.side_by_side = true;
  sags.tables = {page_table(aged_table(result, units))};
  const std::string softened = softened_text(result, units);
  if (!softened.empty()) sags.paragraphs.push_back(softened);
  page.sections = {sags, wears};
  add_background(page, scene, library, units);
  return page;
}

}  // namespace totebench::app
