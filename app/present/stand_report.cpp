#include "app/present/stand_report.hpp"

#include <fmt/format.h>

#include "app/commands/scene_job.hpp"
#include "app/present/hang_report.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

std::string rim_text(const studies::Stood& stood, const std::string& units) {
  return scenes::length_text(stood.shape.rim_low_m, units);
}

std::string loaded_text(const scenes::Scene& scene, const studies::Standing& r,
                        const std::string& units) {
  const std::string with = capital(load_text(scene, units));
  if (!r.loaded.at_rest()) return fmt::format(" {} no rest was found.", with);
  if (!r.loaded.up) {
    return fmt::format(" {} its walls come down, the rim to {}.", with, rim_text(r.loaded, units));
  }
  return fmt::format(" {} {}, no part of the rim lower than {}.", with,
                     r.empty.up ? "it stands too" : "put in while it is held open, it stands",
                     rim_text(r.loaded, units));
}

std::string margin_text(const studies::Standing& r) {
  if (!r.down_under) {
    return fmt::format(" It would stand under {:g} times its own weight.",
                       studies::kMostOwnWeights);
  }
  return fmt::format(" It would come down under about {} times its own weight.",
                     scenes::rough_text(*r.down_under));
}

}  // namespace

std::string stand_sentence(const scenes::Scene& scene, const studies::Standing& r,
                           const std::string& units) {
  const std::string name = scene.name.empty() ? "The tote" : scene.name;
  if (r.interrupted) return name + ": stopped on request before it was known how it stands.";
  if (r.empty.up) {
    return fmt::format(
               "{} stands by itself: no part of its rim is lower than {}, where its "
               "pattern has {}.",
               name, rim_text(r.empty, units), scenes::length_text(scene.bag.height_m, units)) +
           margin_text(r) + loaded_text(scene, r, units);
  }
  if (!r.empty.at_rest()) {
    return fmt::format(
        "{}: no way to stand was found under more than {} times its own weight, nor how it comes "
        "to lie: do not count on its standing.",
        name, scenes::rough_text(r.stood_under));
  }
  if (r.stood_under >= 1) {
    return fmt::format(
               "{} is on the brink: it stands on the coarse mesh and comes down on a finer one, "
               "its rim to {}. Do not count on its standing.",
               name, rim_text(r.empty, units)) +
           loaded_text(scene, r, units);
  }
  return fmt::format(
             "{} does not stand by itself: its rim comes down to {}, where its pattern has {}; its "
             "walls give way under {} times its own weight.",
             name, rim_text(r.empty, units), scenes::length_text(scene.bag.height_m, units),
             scenes::rough_text(*r.down_under)) +
         loaded_text(scene, r, units);
}

std::vector<std::string> stand_basis(const studies::Standing& r, const std::string& units) {
  std::vector<std::string> text;
  text.push_back(fmt::format(
      "A bag counts as standing while no part of its rim is lower than {:.0f} % of its pattern's "
      "height. Lean is of a wall's middle, outwards above zero; the tilt that tips it is that of a "
      "rigid bag on a tilting table.",
      100 * studies::kStandingShare));
  if (r.empty.up && r.empty.shape.rim_low_m != r.empty.coarse_shape.rim_low_m) {
    text.push_back(fmt::format(
        "Mesh: the coarse one gives a rim no lower than {} and a mouth of {}, {} triangles give {} "
        "and {}. What it would stand under is of the coarse one.",
        scenes::length_text(r.empty.coarse_shape.rim_low_m, units),
        scenes::length_text(r.empty.coarse_shape.mouth_m, units), r.tote.model.mesh.n_triangles(),
        rim_text(r.empty, units), scenes::length_text(r.empty.shape.mouth_m, units)));
  } else {
    text.emplace_back("All of this is of the coarse mesh: read it roughly.");
  }
  text.push_back(fmt::format(
      "By the rule of thumb for a free strip of the weakest wall (a column under its own weight) "
      "walls of this make stand {} tall; seams, corners and hem brace them.",
      scenes::length_text(r.columns_m, units)));
  return text;
}

std::vector<std::string> stand_cautions(const studies::Standing& r) {
  std::vector<std::string> list = {
      "This is one way the bag rests on a level table that nobody touches; a push, a slope or a "
      "draught can bring it to another, and folds and wear soften walls.",
      "The straps are laid aside: their weight is on the rim, how they flop over is not in it.",
      "Walls stand as flat and corners as sharp as they are sewn; pressed creases hold better, and "
      "cloth that was rolled or folded worse."};
  if (!r.empty.up) {
    list.emplace_back(
        "How a bag comes to lie has many answers; this is one of them, and its height is rough.");
  }
  return list;
}

std::string stand_report(const scenes::Scene& scene, const studies::Standing& r,
                         const std::string& units, const std::string& files) {
  std::string text =
      stand_sentence(scene, r, units) + "\n\n" + table_text(stand_table(scene, r, units)) + "\n";
  for (const std::string& line : stand_basis(r, units)) text += line + "\n";
  return text + fmt::format("Computed in {}.\n\n", scenes::time_text(r.effort.seconds)) + files +
         cautions_text(stand_cautions(r));
}

std::vector<viz::StoodView> stood_views(const scenes::Scene& scene, const studies::Standing& r,
                                        const std::string& units) {
  std::vector<viz::StoodView> views;
  const auto add = [&](const char* name, const std::string& label, const scenes::Tote& tote,
                       const studies::Stood& stood) {
    if (!stood.at_rest()) return;
    views.push_back(
        {name, label,
         (stood.up ? "stands, rim no lower than " : "comes down, rim to ") + rim_text(stood, units),
         tote, stood.state});
  };
  add("empty", "empty", r.empty_tote, r.empty);
  add("loaded", load_text(scene, units), r.tote, r.loaded);
  return views;
}

viz::Page stand_page(const scenes::Scene& scene, const studies::Standing& r,
                     const materials::MaterialLibrary& library, const std::string& units,
                     const std::string& json, const viz::Written& drawn) {
  // The 3-D view goes from empty to loaded, or shows what there is.
  studies::HangResult shown;
  const bool both = r.empty.at_rest() && r.loaded.at_rest();
  shown.tote =
      viz::with_table_trimmed(both ? r.tote : r.empty_tote, both ? r.loaded.state : r.empty.state);
  shown.empty = r.empty.state;
  shown.loaded = both ? r.loaded.state : r.empty.state;
  shown.findings.loaded_fields = solver::shell_fields(shown.tote.model, shown.loaded);
  viz::Page page = bag_page(scene, shown, units, stand_sentence(scene, r, units));
  page.picture_png = drawn.picture_png;
  page.picture_parts = drawn.picture_parts;
  page.picture_text =
      "The bag on a table, and below it the cut through it from front to back, with the walls as "
      "its pattern has them dashed.";
  page.cautions = stand_cautions(r);
  page.data_id = "stand";
  page.data_json = json;
  viz::PageSection section;
  section.title = "On the table";
  section.first = true;
  section.tables = {page_table(stand_table(scene, r, units))};
  section.paragraphs = stand_basis(r, units);
  page.sections.push_back(section);
  add_background(page, scene, library, units);
  return page;
}

viz::Written write_stand_files(const scenes::Scene& scene, const studies::Standing& result,
                               const materials::MaterialLibrary& library,
                               const std::filesystem::path& folder, bool picture) {
  const std::string json = stand_json(scene, result);
  viz::Written written = write_texts(folder, {{"stand.json", json}});
  const viz::Written drawn = viz::write_standing_files(
      result.as_placed.x, stood_views(scene, result, scene.units), scene.units, folder, picture);
  const viz::Page page = stand_page(scene, result, library, scene.units, json, drawn);
  add(written, write_texts(folder, {{"report.html", viz::page_html(page)}}));
  add(written, drawn);
  return written;
}

}  // namespace totebench::app
