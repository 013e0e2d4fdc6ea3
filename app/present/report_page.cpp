#include "app/present/report_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>
#include <optional>
#include <utility>

#include "app/present/circumstances_table.hpp"
#include "app/present/compare_report.hpp"
#include "app/present/demand_text.hpp"
#include "app/present/hang_report.hpp"
#include "totebench/scenes/explain.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/jumps.hpp"
#include "totebench/studies/likely_range.hpp"
#include "totebench/viz/drawn_bag.hpp"
#include "totebench/viz/svg_chart.hpp"

namespace totebench::app {
namespace {

viz::PageTable headline_table(const studies::HangResult& result, const std::string& units) {
  viz::PageTable table = page_table(headline_rows(result, units));
  table.head.emplace_back("");
  table.words.resize(table.head.size(), false);
  table.words.back() = true;
  auto row = table.rows.begin();
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (figure.headline()) (row++)->emplace_back(figure.meaning);
  }
  return table;
}

viz::PageTable other_numbers_table(const scenes::Findings& found, const std::string& units) {
  viz::PageTable table{"", {}, {}, {true, false, true}};
  auto& rows = table.rows;
  const auto add = [&](const scenes::Figure& figure) {
    const double value = figure.value(found);
    if (value == 0 && figure.is_told(scenes::kToldWhereThere)) return;
    rows.push_back({figure.name,
                    figure.dimension == scenes::Dimension::kPressure
                        ? sheet_stress_text(found, units)
                        : scenes::shown_text(value, figure.dimension, units),
                    figure.meaning});
  };
  add(scenes::figure_of<&scenes::Findings::base_sheet_stress_Pa>());
  add(scenes::figure_of<&scenes::Findings::fill_level_m>());
  rows.push_back({"weight hung", scenes::force_text(found.weight_N, units), "bag and contents"});
  add(scenes::figure_of<&scenes::Findings::bag_mass_kg>());
  return table;
}

viz::PageTable seams_table(const scenes::Findings& found, const std::string& units) {
  viz::PageTable table = page_table(seam_rows(found, units));
  table.caption = "Pull of each strap end on the panel";
  return table;
}

viz::PageSection layers_section(const std::vector<const scenes::Scene*>& scenes,
                                const materials::MaterialLibrary& library,
                                const std::string& units) {
  viz::PageSection section;
  section.title = "Layers";
  section.side_by_side = true;
  std::vector<std::vector<scenes::Layer>> drawn;
  for (const scenes::Scene* scene : scenes) {
    for (const char* region : {"upper", "lower", "base", "hem"}) {
      const auto it = scene->layers.find(region);
      if (it == scene->layers.end() || it->second.empty()) continue;
      if (std::find(drawn.begin(), drawn.end(), it->second) != drawn.end()) continue;
      drawn.push_back(it->second);
      std::string title = std::string(region) == "upper" ? "walls" : region;
      if (std::string(region) == "upper" && scene->layers.count("lower") > 0 &&
          !(scene->layers.at("lower") == it->second)) {
        title = "upper walls";
      }
      if (scenes.size() > 1) title.insert(0, scene->name + ", ");
      section.figures.push_back({viz::layers_svg(title, it->second, library, units), ""});
    }
    if (scene->kind == scenes::SceneKind::kSheet && !scene->sheet.layers.empty()) {
      section.figures.push_back(
          {viz::layers_svg("sheet", scene->sheet.layers, library, units), ""});
    }
  }
  section.paragraphs = {
      "Drawn to scale across the thickness, outside at the top; very thin plies "
      "are drawn a little thicker so that they are seen."};
  return section;
}

viz::PageSection inputs_section(const std::vector<const scenes::Scene*>& scenes,
                                const materials::MaterialLibrary& library,
                                const std::string& units) {
  viz::PageSection section;
  section.title = "What went in";
  section.tables = viz::input_tables(scenes, library, units);
  if (scenes.size() == 1) {
    section.folded_title = "The scene with every default written out";
    section.folded = scenes::resolved_json(*scenes.front());
  }
  return section;
}

std::string small_share(double share) {
  return share < 1e-6 ? "less than a millionth" : fmt::format("{:.2g} %", 100 * share);
}

std::vector<std::string> trust_paragraphs(const studies::HangResult& result,
                                          const std::string& units) {
  const scenes::Findings& found = result.findings;
  std::vector<std::string> text;
  if (found.weight_N > 0) {
    const Eigen::Vector3d weight(0, 0, found.weight_N);
    text.push_back(fmt::format(
        "Balance: bag and load weigh {}, and what it hangs from holds {}; the difference is {} of "
        "it. All over the bag, what pulls and what holds agree to {} of the load.",
        scenes::force_text(found.weight_N, units),
        scenes::force_text(found.loaded.reaction_N.z(), units),
        small_share((found.loaded.reaction_N - weight).norm() / found.weight_N),
        small_share(found.loaded.residual_relative)));
  }
  if (const scenes::Findings* before = studies::mesh_before(result)) {
    text.push_back(fmt::format(
        "Mesh: {} triangles give a bottom sag of {}, {} triangles give {}. A finer mesh than "
        "that can change as much again.",
        before->triangles, scenes::length_text(before->bottom_sag_m, units), found.triangles,
        scenes::length_text(found.bottom_sag_m, units)));
  }
  for (std::string& known : how_well_known(result)) text.push_back(std::move(known));
  const auto& other = found.other_shape;
  if (other.found) {
    text.push_back(fmt::format(
        "This bag can also rest in another shape, with a bottom sag of {} and a strap drop of {}; "
        "{} other starts were tried.",
        scenes::length_text(other.bottom_sag_m, units),
        scenes::length_text(other.strap_drop_m, units), other.starts_tried));
  } else if (other.starts_tried > 0) {
    text.push_back(fmt::format(
        "From {} other start{} the sag came to {} to {}: the same shape, or no rest was found.",
        other.starts_tried, other.starts_tried == 1 ? "" : "s",
        scenes::length_text(other.sag_low_m, units), scenes::length_text(other.sag_high_m, units)));
  }
  text.emplace_back(
      "Materials: cloth of one name differs from bolt to bolt by tens of per cent; the usual range "
      "of each number stands under What went in. Two builds of one bag compared are sounder than "
      "one number believed, since much of what is unknown is the same on both sides.");
  return text;
}

// What would move the figures that is in none of their ranges; nothing where nothing is known to.
std::optional<viz::PageSection> circumstances_section(const studies::HangResult& result,
                                                      const std::string& units) {
  TextTable rows = circumstance_rows(result, units);
  if (rows.empty()) return std::nullopt;
  viz::PageSection section;
  section.title = "What would move this most";
  if (const std::string most = circumstance_sentence(result, units); !most.empty()) {
    section.paragraphs.push_back(most);
  }
  section.tables = {page_table(std::move(rows))};
  section.tables.back().caption =
      "One thing changed at a time and the bag hung anew, on a coarser mesh";
  return section;
}

constexpr const char* kAlarm =
    "No equilibrium was found. What is shown is the last good state of the search, which is not an "
    "answer; its numbers are left out.";

}  // namespace

viz::LineChart load_chart(const viz::PageModel& model, const scenes::Scene& scene,
                          const std::string& units) {
  const scenes::ShownUnit length = scenes::length_unit(units), mass = scenes::mass_unit(units);
  viz::LineChart chart{"As the load rises", "contents, " + mass.name, length.name, {}};
  chart.y_inches = length.name == "in";
  viz::Line sag{scenes::figure_of<&scenes::Findings::bottom_sag_m>().name, {}, {}};
  viz::Line longer{scenes::figure_of<&scenes::Findings::strap_drop_lengthening_m>().name, {}, {}};
  for (const viz::PageStep& step : model.steps) {
    const double load = step.load_factor * scene.contents.mass_kg * mass.per_SI;
    sag.x.push_back(load);
    sag.y.push_back(step.bottom_sag_m * length.per_SI);
    longer.x.push_back(load);
    longer.y.push_back((step.strap_drop_m - model.steps.front().strap_drop_m) * length.per_SI);
  }
  chart.lines = {sag, longer};
  return chart;
}

viz::PageSection use_section(const scenes::Findings& found, const std::string& units) {
  viz::PageSection section;
  section.title = "What is nearest to its strength";
  viz::BarChart chart{"Share of its known strength used", "%", {"used"}, {}};
  viz::PageTable table{"",
                       {"part", "bears", "holds up to", "used", "strength from"},
                       {},
                       {true, false, false, false, true}};
  for (const scenes::Utilisation& used : found.utilisation) {
    chart.groups.push_back({used.what, {100 * used.ratio}});
    table.rows.push_back({used.what, demand_text(used.demand, used.unit, units),
                          demand_text(used.capacity, used.unit, units),
                          scenes::rough_text(100 * used.ratio) + " %", used.source});
  }
  section.paragraphs = {
      "What each part bears here, against what it is known or estimated to hold. It is no rating: "
      "shocks, wear and scatter are not in it."};
  if (!chart.groups.empty()) section.figures.push_back({viz::bar_chart_svg(chart), ""});
  section.tables.push_back(table);
  return section;
}

viz::PageTable page_table(TextTable rows) {
  viz::PageTable table{"", std::move(rows.front()), {}, {true}};
  table.rows.assign(std::next(rows.begin()), rows.end());
  return table;
}

viz::Page bag_page(const scenes::Scene& scene, const studies::HangResult& hang,
                   const std::string& units, const std::string& sentence) {
  viz::Page page;
  page.title = scene.name.empty() ? "A tote" : scene.name;
  page.sentence = sentence;
  page.under = scene.note;
  page.models.push_back(tote_page_model(page.title, hang, units));
  return page;
}

void add_background(viz::Page& page, const scenes::Scene& scene,
                    const materials::MaterialLibrary& library, const std::string& units) {
  page.sections.push_back(layers_section({&scene}, library, units));
  page.sections.push_back(inputs_section({&scene}, library, units));
}

viz::Page hang_page(const scenes::Scene& scene, const studies::HangResult& result,
                    const materials::MaterialLibrary& library, const std::string& units,
                    const std::string& sentence, const std::string& json,
                    const viz::Written& drawn) {
  const scenes::Findings& found = result.findings;
  viz::Page page = bag_page(scene, result, units, sentence);
  if (!found.converged()) page.alarm = kAlarm;
  page.picture_png = drawn.picture_png;
  page.picture_parts = drawn.picture_parts;
  page.picture_text = sentence +
                      " The bag empty and loaded side by side at one scale, and two "
                      "cuts through both.";
  page.cautions = found.cautions;
  page.data_id = "findings";
  page.data_json = json;
  if (found.converged()) {
    viz::PageSection numbers;
    numbers.title = "Numbers";
    numbers.tables = {headline_table(result, units), other_numbers_table(found, units)};
    if (!found.strap_seams.empty()) numbers.tables.push_back(seams_table(found, units));
    if (page.models[0].steps.size() > 2) {
      numbers.figures.push_back({viz::line_chart_svg(load_chart(page.models[0], scene, units)),
                                 "Dots are computed, on the coarse mesh except at full load."});
    }
    page.sections.push_back(numbers);
    if (auto section = circumstances_section(result, units)) {
      page.sections.push_back(*std::move(section));
    }
    if (!found.utilisation.empty()) {
      page.sections.push_back(use_section(found, units));
      page.sections.back().first = true;
    }
    viz::PageSection trust;
    trust.title = "How far to trust it";
    trust.paragraphs = trust_paragraphs(result, units);
    trust.paragraphs.push_back(size_text(found.triangles, result.effort));
    page.sections.push_back(trust);
  }
  add_background(page, scene, library, units);
  return page;
}

viz::Page hang_page(const scenes::Scene& scene, const studies::SheetHangResult& result,
                    const materials::MaterialLibrary& library, const std::string& units,
                    const std::string& sentence, const std::string& json,
                    const viz::Written& drawn) {
  const bool done = result.report.status == solver::SolveStatus::kConverged;
  const solver::ShellMesh& mesh = result.sheet.model.mesh;
  const scenes::ShownUnit unit = scenes::length_unit(units);
  viz::Page page;
  page.title = scene.name.empty() ? "A sheet" : scene.name;
  page.sentence = sentence;
  page.under = scene.note;
  if (!done) page.alarm = kAlarm;
  page.picture_png = drawn.picture_png;
  page.picture_parts = drawn.picture_parts;
  page.picture_text = sentence + " The sheet as it started, dashed, and as it came to rest.";
  page.data_id = "findings";
  page.data_json = json;

  viz::PageModel model;
  model.name = page.title;
  model.mesh = &mesh;
  model.units = units;
  model.group.assign(mesh.triangles.size(), 0);
  std::vector<int> all(mesh.triangles.size());
  std::iota(all.begin(), all.end(), 0);
  model.parts = {{all, viz::kClothColour, true}};
  for (const solver::LoadStep& step : result.steps) {
    model.steps.push_back({step.load_factor, step.state.x, Eigen::Matrix3Xd(3, 0), 0, 0});
  }
  viz::PageField moved{
      "moved by", unit.name, "at full load", viz::CornerValues(mesh.triangles.size()), 0, 0};
  for (const int t : all) {
    for (int c = 0; c < 3; ++c) {
      const int node = mesh.triangles[t].node[c];
      const Eigen::Vector3d way = result.steps.back().state.x.col(node) - mesh.position.col(node);
      moved.values[t][c] = way.norm() * unit.per_SI;
      moved.high = std::max(moved.high, moved.values[t][c]);
    }
  }
  model.fields.push_back(std::move(moved));
  page.models.push_back(std::move(model));

  viz::PageSection numbers;
  numbers.title = "Numbers";
  viz::LineChart chart{"As the load rises", "share of the load, %", "moved by, " + unit.name, {}};
  chart.y_inches = unit.name == "in";
  for (std::size_t i = 0; i < result.sheet.probe_nodes.size(); ++i) {
    const int node = result.sheet.probe_nodes[i];
    const std::string& name = scene.sheet.probes[i].name;
    viz::PageTable table{"probe " + name,
                         {"load", "x, " + unit.name, "y, " + unit.name, "z, " + unit.name},
                         {},
                         {true}};
    viz::Line line{name, {}, {}};
    for (const solver::LoadStep& step : result.steps) {
      const Eigen::Vector3d way = (step.state.x.col(node) - mesh.position.col(node)) * unit.per_SI;
      table.rows.push_back({fmt::format("{:.0f} %", 100 * step.load_factor),
                            scenes::number_text(way.x()), scenes::number_text(way.y()),
                            scenes::number_text(way.z())});
      line.x.push_back(100 * step.load_factor);
      line.y.push_back(way.norm());
    }
    numbers.tables.push_back(table);
    chart.lines.push_back(line);
  }
  numbers.tables.push_back(page_table(support_rows(scene, result, units)));
  if (!chart.lines.empty()) numbers.figures.push_back({viz::line_chart_svg(chart), ""});
  if (done && !numbers.tables.empty()) page.sections.push_back(numbers);
  page.cautions = result.cautions;
  if (!scene.sheet.layers.empty())
    page.sections.push_back(layers_section({&scene}, library, units));
  page.sections.push_back(inputs_section({&scene}, library, units));
  return page;
}

viz::Page comparison_page(const studies::Comparison& comparison,
                          const materials::MaterialLibrary& library, const std::string& units,
                          const std::string& json, const std::string& picture_png) {
  viz::Page page;
  page.title = fmt::format("{} bags compared", comparison.bags.size());
  page.sentence = comparison_sentence(comparison, units);
  page.under = "Each hung empty and loaded; differences are against the first.";
  if (!comparison.all_converged()) {
    page.alarm =
        "Not every bag came to an equilibrium; numbers of those that did not are left out.";
  }
  page.picture_png = picture_png;
  page.picture_text = page.sentence + " All bags loaded, at one scale and one colour scale.";
  page.cautions = comparison_cautions(comparison);
  page.data_id = "comparison";
  page.data_json = json;

  const ComparisonTable lines = comparison_table(comparison, units);
  viz::PageTable table{"In brackets: against the first bag", {""}, {}, {true}};
  for (const std::string& name : lines.names) table.head.push_back(name);
  for (const auto& row : lines.rows) {
    table.rows.push_back({row.what});
    table.rows.back().insert(table.rows.back().end(), row.cells.begin(), row.cells.end());
  }
  viz::PageTable changes{"", {"bag", "what is different"}, {}, {true, true}};
  std::vector<const scenes::Scene*> scenes;
  materials::MaterialLibrary all = library;
  viz::PageSection trust;
  trust.title = "How far to trust it";
  for (const studies::ComparedBag& bag : comparison.bags) {
    scenes.push_back(&bag.scene);
    for (const materials::Material& own : bag.scene.own_materials) all.add(own);
    const std::string change = studies::difference_text(bag.from_first);
    changes.rows.push_back({bag.scene.name, scenes.size() == 1 ? "the first, to compare with"
                                            : change.empty()   ? "nothing"
                                                               : change});
    page.models.push_back(tote_page_model(bag.scene.name, bag.result, units));
    if (!bag.result.findings.converged()) continue;
    auto text = trust_paragraphs(bag.result, units);
    const std::string general = text.back();
    text.pop_back();
    std::string joined = bag.scene.name + ":";
    for (const std::string& one : text) joined += " " + one;
    if (trust.paragraphs.empty()) trust.paragraphs.push_back(general);
    trust.paragraphs.push_back(joined);
  }
  viz::PageSection numbers;
  numbers.title = "Side by side";
  for (const viz::BarChart& chart : comparison_charts(comparison, units)) {
    numbers.figures.push_back({viz::bar_chart_svg(chart), ""});
  }
  numbers.side_by_side = true;
  numbers.tables = {table};
  if (TextTable likely = difference_rows(comparison, units); !likely.empty()) {
    numbers.tables.push_back(page_table(std::move(likely)));
    numbers.tables.back().caption =
        "Where nine in ten such pairs of bags differ, with the same cloth, sheet and webbing in "
        "both where both have it; A is the first bag, B the next";
  }
  numbers.tables.push_back(changes);
  page.sections = {numbers, trust, layers_section(scenes, all, units),
                   inputs_section(scenes, all, units)};
  return page;
}

}  // namespace totebench::app
