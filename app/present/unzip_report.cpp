#include "app/present/unzip_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "app/present/hang_report.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/scenes/utilisation.hpp"
#include "totebench/viz/seam_plan.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::app {
namespace {

std::string load_of(const studies::Break& b, const scenes::Scene& scene, const std::string& units) {
  return scenes::mass_text(b.load_factor * scene.contents.mass_kg, units);
}

std::string fastening(const scenes::Scene& scene) {
  return scenes::is_stitched(scene.straps.front().attachment.pattern) ? "stitch" : "rivet";
}

// The end that came off, else the one that began.
const std::string& site_drawn(const studies::Unzipping& result) {
  return result.end_off.empty() ? result.breaks.front().site : result.end_off;
}

// What the shares of strength say where nothing came loose, and how that fits a rating.
std::string proportion_text(const scenes::Scene& scene, const studies::Unzipping& result,
                            const std::string& units) {
  const studies::NearestFastening& set = result.nearest_at_set;
  if (set.site.empty()) return "";
  const auto load = [&](double factor) {
    return scenes::mass_text(factor * scene.contents.mass_kg, units);
  };
  std::string text = fmt::format(
      " With {} the {} nearest to its strength ({}) has {} % of it used; in proportion it would go "
      "at about {}.",
      load(set.load_factor), fastening(scene), set.site, scenes::rough_text(100 * set.share),
      load(set.load_in_proportion()));
  if (result.nearest.load_factor > set.load_factor) {
    text += fmt::format(
        " With {} it is {} %: the pull does not keep in proportion, as the straps find other ways "
        "under more load.",
        load(result.nearest.load_factor), scenes::rough_text(100 * result.nearest.share));
  }
  return text + " Another part can fail first; `totebench rate` says which.";
}

}  // namespace

std::string how_it_went(const scenes::Scene& scene, const studies::Break& b) {
  if (b.by_cloth) return "torn out of the cloth";
  return scenes::is_stitched(scene.straps.front().attachment.pattern) ? "thread parted"
                                                                      : "rivet parted";
}

std::string unzip_sentence(const scenes::Scene& scene, const studies::Unzipping& result,
                           const std::string& units) {
  const std::string name = scene.name.empty() ? "The tote" : scene.name;
  if (result.breaks.empty()) {
    return fmt::format("{}: {}.{}", name, result.why_ended, proportion_text(scene, result, units));
  }
  const studies::Break& first = result.breaks.front();
  const std::size_t last_held = result.last_held();
  const std::string told_first =
      fmt::format("{}: at {} the first {} of {} goes ({})", name, load_of(first, scene, units),
                  fastening(scene), first.site, how_it_went(scene, first));
  std::string text = told_first;
  if (last_held == 0) {
    text += ", and what is left never holds as much again";
  } else {
    text += fmt::format("; with {} gone, the strap's end still holds {}, its most", last_held,
                        load_of(result.breaks[last_held], scene, units));
  }
  if (result.end_off.empty()) {
    return text +
           fmt::format(". Followed for {} breaks: {}.", result.breaks.size(), result.why_ended);
  }
  if (result.end_off != first.site) {
    text += fmt::format(". The end that comes off whole is {}", result.end_off);
  }
  // The break at the largest load belongs to the rest, unless the sentence has told of it already.
  const std::size_t rest = result.breaks.size() - std::max<std::size_t>(last_held, 1);
  if (rest == 0) return fmt::format("{}, and the strap's end is off.", told_first);
  return text + fmt::format(
                    ": under contents that stay on, the rest ({} break{}) then comes off without "
                    "more load.",
                    rest, rest == 1 ? "" : "s");
}

std::string energy_text(const studies::Unzipping& result, const std::string& units) {
  if (!result.energy_known || result.breaks.empty()) return "";
  double own_J = 0;
  for (const studies::Break& b : result.breaks) own_J += b.own_J;
  const auto energy = [&](double joules) { return scenes::energy_text(joules, units); };
  const auto change = [&](double joules, const char* more, const char* less) {
    return fmt::format("{} {}", joules < 0 ? less : more, energy(std::abs(joules)));
  };
  const std::string jumps =
      result.jumps == 0 ? ""
                        : fmt::format(", {} jump{} of the bag's shape {}", result.jumps,
                                      result.jumps == 1 ? "" : "s", energy(result.jumped_J));
  return fmt::format(
      "From the first break to the last the contents {}, and bag and load {}. The breaks set free "
      "{}, of it {} stored in the fastenings themselves{}. {} are not accounted for: what "
      "the contents did is added up from loads and ways, the rest is read off the solver.{}",
      change(result.work_J, "gave by sinking", "were lifted with"),
      change(result.stored_J, "stored", "gave back"), energy(result.set_free_J), energy(own_J),
      jumps, energy(std::abs(result.imbalance_J())),
      units == "in" ? " An in lb lifts a pound by an inch." : "");
}

std::vector<std::string> unzip_cautions(const studies::Unzipping& result) {
  std::vector<std::string> list = {
      "Slow pull: a seam that comes off does so with a jerk, which the rest of the bag and whoever "
      "carries it feel. Nothing here says what is left is fit to be used.",
      "Every fastening is taken as equally strong, at the typical value; real ones scatter, and "
      "the "
      "weakest begins. `totebench rate` gives a cautious rated mass.",
      "Everything but the fastenings goes on elastically, a base sheet beyond its yield too."};
  if (!result.meanwhile.empty()) {
    list.push_back(
        fmt::format("After {} breaks {} has reached its strength as well: the seam may "
                    "not get further.",
                    result.meanwhile_after, result.meanwhile));
  }
  const auto& general = result.hang.findings.cautions;
  list.insert(list.end(), general.begin(), general.end());
  std::erase(list, scenes::kSteadyLoad);
  return list;
}

std::vector<std::string> unzip_charts(const scenes::Scene& scene, const studies::Unzipping& result,
                                      const std::string& units) {
  const scenes::ShownUnit length = scenes::length_unit(units), mass = scenes::mass_unit(units);
  const std::string& site = site_drawn(result);
  std::size_t end = 0;
  while (result.hang.tote.attachments[end].name != site) ++end;
  viz::LineChart opening{"Coming off, " + site,
                         "strap from panel, mean, " + length.name,
                         "contents, " + mass.name,
                         {},
                         length.name == "in"};
  viz::LineChart sinking{"Contents sink",
                         "from the set load, " + length.name,
                         "contents, " + mass.name,
                         {},
                         length.name == "in"};
  viz::Line off{"", {0}, {0}}, whole{"whole", {}, {}}, tearing{"tearing", {}, {}};
  const auto shown = [&](double load_factor) {
    return load_factor * scene.contents.mass_kg * mass.per_SI;
  };
  const auto add = [&](viz::Line& line, double x_m, double load_factor) {
    line.x.push_back(x_m * length.per_SI);
    line.y.push_back(shown(load_factor));
  };
  for (const Eigen::Vector2d& p : result.rising) add(whole, p.y(), p.x());
  for (const studies::Break& b : result.breaks) {
    add(off, b.gaps_m[end], b.load_factor);
    add(tearing, b.sink_before_m, b.load_factor);
    add(tearing, b.sink_after_m, b.load_factor);
  }
  opening.lines = {off};
  sinking.lines = {whole, tearing};
  return {viz::line_chart_svg(opening), viz::line_chart_svg(sinking)};
}

std::string unzip_order_svg(const scenes::Scene& scene, const studies::Unzipping& result,
                            const std::string& site) {
  const scenes::Strap& strap = scene.straps.front();
  viz::SeamPlan plan{"Order of the breaks at " + site,
                     strap.width_m,
                     strap.attachment.top_offset_m,
                     scenes::attachment_points(strap).points,
                     {}};
  plan.order.assign(plan.points_m.size(), 0);
  int number = 0;  // at this end
  for (const studies::Break& b : result.breaks) {
    if (b.site != site) continue;
    ++number;
    for (std::size_t i = 0; i < plan.points_m.size(); ++i) {
      if (plan.points_m[i] == b.place_m) plan.order[i] = number;
    }
  }
  return viz::seam_plan_svg(plan);
}

viz::Page unzip_page(const scenes::Scene& scene, const studies::Unzipping& result,
                     const materials::MaterialLibrary& library, const std::string& units,
                     const std::string& json) {
  viz::Page page = bag_page(scene, result.hang, units, unzip_sentence(scene, result, units));
  page.data_id = "unzip";
  page.data_json = json;
  page.cautions = unzip_cautions(result);
  viz::PageSection section;
  section.title = "Break by break";
  if (!result.breaks.empty()) {
    section.tables = {page_table(unzip_table(scene, result, units))};
    section.tables.back().caption =
        "Load: at which this one goes with all before it gone. Of its end: its number in the "
        "drawing of that end.";
    section.side_by_side = true;
    for (std::string& chart : unzip_charts(scene, result, units)) {
      section.figures.push_back({std::move(chart), ""});
    }
    for (const std::string& site : result.ends_with_breaks()) {
      section.figures.push_back({unzip_order_svg(scene, result, site), ""});
    }
  }
  const std::string energy = energy_text(result, units);
  if (!energy.empty()) section.paragraphs.push_back(energy);
  if (result.breaks.empty()) {
    section = use_section(result.hang.findings, units);
    section.title =
        "Share of each strength used, with " + scenes::mass_text(scene.contents.mass_kg, units);
  }
  section.first = true;
  page.sections.push_back(section);
  add_background(page, scene, library, units);
  return page;
}

}  // namespace totebench::app
