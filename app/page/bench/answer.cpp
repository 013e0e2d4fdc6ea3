#include "app/page/bench/answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <nlohmann/json.hpp>

#include "app/present/circumstances_table.hpp"
#include "app/present/compare_report.hpp"
#include "app/present/cutlist_json.hpp"
#include "app/present/findings_json.hpp"
#include "app/present/hang_report.hpp"
#include "app/present/paper_pattern.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/cutlist.hpp"
#include "totebench/scenes/explain.hpp"
#include "totebench/scenes/json_trees.hpp"
#include "totebench/studies/likely_range.hpp"
#include "totebench/viz/cutlist_drawing.hpp"

namespace totebench::app {
namespace {

using Json = nlohmann::ordered_json;

std::string text_of(const Json& json) {
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

// The property by which a material is told at a glance.
const materials::Quantity* figure_of(const materials::Material& material) {
  for (const char* property : {"areal_mass", "thickness", "breaking_strength"}) {
    if (const materials::Quantity* found = material.find(property)) return found;
  }
  return nullptr;
}

// The finished front and one strap end of it, for a drawing of both to scale.
Json front_json(const scenes::Scene& scene) {
  const scenes::Bag& bag = scene.bag;
  Json front = {{"width_m", bag.width_m},
                {"height_m", bag.height_m},
                {"corner_radius_m", bag.corner_radius_m},
                {"hem_m", bag.hem_m},
                {"upper_height_m", bag.upper_height_m},
                {"lengthwise_seams", bag.lengthwise_seams}};
  if (scene.straps.empty()) return front;
  const scenes::Strap& strap = scene.straps.front();
  Json stitches = Json::array();  // below the opening, across from the strap's centre line
  for (const Eigen::Vector2d& point : scenes::attachment_points(strap).points) {
    stitches.push_back({strap.attachment.top_offset_m + point.x(), point.y()});
  }
  front["strap"] = {{"width_m", strap.width_m},
                    {"overlap_m", strap.overlap_m},
                    {"two_handles", strap.style == scenes::StrapStyle::kTwoHandles},
                    {"spacing_m", strap.spacing_m},
                    {"stitches_m", std::move(stitches)}};
  return front;
}

Json layers_drawn(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                  const std::string& units) {
  Json out = Json::array();
  for (const auto& [region, layers] : scene.layers) {
    if (layers.empty()) continue;
    out.push_back({{"region", region}, {"svg", viz::layers_svg(region, layers, library, units)}});
  }
  return out;
}

Json table_rows(const TextTable& table) { return Json(table); }

// The three parts of an answer that a tote and a sheet tell alike.
template <class Result>
std::string told(const Hung& hung, const Result& result) {
  return hang_report(hung.scene, result, hung.scene.units, {}, "");
}

std::string first_line(const std::string& text) { return text.substr(0, text.find('\n')); }

template <class Result>
viz::Page page_of(const Hung& hung, const Result& result) {
  return hang_page(hung.scene, result, hung.library, hung.scene.units,
                   first_line(told(hung, result)), findings_json(hung.scene, result), {});
}

bool at_rest(const studies::HangResult& result) { return result.findings.converged(); }
bool at_rest(const studies::SheetHangResult& result) {
  return result.report.status == solver::SolveStatus::kConverged;
}
bool stopped(const studies::HangResult& result) {
  return result.stopped_early ||
         result.findings.empty.status == solver::SolveStatus::kInterrupted ||
         result.findings.loaded.status == solver::SolveStatus::kInterrupted;
}
bool stopped(const studies::SheetHangResult& result) {
  return result.report.status == solver::SolveStatus::kInterrupted;
}

// The rows of the table that `hang` prints, by the keys of its figures.
Json headlines(const studies::HangResult& result, const std::string& units) {
  Json out = Json::array();
  if (!at_rest(result)) return out;
  const TextTable rows = headline_rows(result, units);
  const auto column = [&](const char* heading) {
    return static_cast<std::size_t>(std::find(rows.front().begin(), rows.front().end(), heading) -
                                    rows.front().begin());
  };
  const std::size_t likely = column("likely range"), mesh = column("coarser mesh");
  const auto cell = [](const std::vector<std::string>& row, std::size_t at) {
    return at < row.size() && row[at] != "-" ? row[at] : std::string();
  };
  auto row = std::next(rows.begin());
  for (const scenes::Figure& figure : scenes::kFigures) {
    if (!figure.headline()) continue;
    const bool is_there =
        !figure.is_told(scenes::kToldWhereThere) || figure.value(result.findings) != 0;
    out.push_back({{"key", figure.key},
                   {"name", row->at(0)},
                   {"meaning", figure.meaning},
                   {"found", is_there ? row->at(1) : ""},
                   {"likely", cell(*row, likely)},
                   {"hangs_on", result.data_scatter ? studies::drivers_text(studies::drivers(
                                                          *result.data_scatter, figure))
                                                    : ""},
                   {"mesh", cell(*row, mesh)}});
    ++row;
  }
  return out;
}
Json headlines(const studies::SheetHangResult&, const std::string&) { return Json::array(); }

Json known(const studies::HangResult& result) {
  return at_rest(result) ? Json(how_well_known(result)) : Json::array();
}
Json known(const studies::SheetHangResult&) { return Json::array(); }

// What would move it, beside the materials: the most in a sentence, all of it as a table.
Json moved(const studies::HangResult& result, const std::string& units) {
  return {{"moved_most", circumstance_sentence(result, units)},
          {"moved_by", table_rows(circumstance_rows(result, units))}};
}
Json moved(const studies::SheetHangResult&, const std::string&) {
  return {{"moved_most", ""}, {"moved_by", Json::array()}};
}

// The places of a big model are text already; they are put in as they are.
std::string with(std::string object, const std::string& key, const std::string& json) {
  object.pop_back();
  return object + fmt::format("{}\"{}\":", object == "{" ? "" : ",", key) + json + "}";
}

template <class Result>
std::string answer_of(const Hung& hung, const Result& result) {
  const std::string all = told(hung, result);
  const viz::Page page = page_of(hung, result);
  Json json = {{"at_rest", at_rest(result)},
               {"stopped", stopped(result)},
               {"coarse", hung.coarse},
               {"sentence", first_line(all)},
               {"told", hung.coarse && at_rest(result) ? "" : all},
               {"alarm", page.alarm},
               {"headlines", headlines(result, hung.scene.units)},
               {"known", known(result)},
               {"cautions", page.cautions},
               {"seconds", result.effort.seconds}};
  json.update(moved(result, hung.scene.units));
  return with(with(text_of(json), "findings", findings_json(hung.scene, result)), "model",
              viz::page_model_json(page.models.front()));
}

}  // namespace

std::string library_json(const materials::MaterialLibrary& library) {
  Json all = Json::array(), threads = Json::array(), stitches = Json::array();
  for (const materials::Material& material : library.materials()) {
    Json item = {{"id", material.id}, {"name", material.name}, {"category", material.category}};
    if (const materials::Quantity* thickness = material.find("thickness")) {
      item["thickness_m"] = thickness->value;
    }
    if (const materials::Quantity* mass = material.find("areal_mass")) {
      item["areal_mass_kg_per_m2"] = mass->value;
    }
    if (const materials::Quantity* figure = figure_of(material)) item["grade"] = figure->grade;
    all.push_back(std::move(item));
  }
  for (const materials::Thread& thread : library.threads()) {
    threads.push_back({{"id", thread.id}, {"name", thread.name}});
  }
  for (const materials::StitchType& stitch : library.stitches()) {
    stitches.push_back({{"id", stitch.id}, {"name", stitch.name}});
  }
  return text_of({{"materials", std::move(all)},
                  {"threads", std::move(threads)},
                  {"stitches", std::move(stitches)},
                  {"keys", Json::parse(scenes::explain_json(""))}});
}

std::string check_json(const scenes::ReadResult& read, const materials::MaterialLibrary& library,
                       const std::string& units) {
  Json out = {{"good", read.scene.has_value()},
              {"diagnostics", scenes::diagnostics_tree(read.diagnostics)}};
  if (!read.scene) return text_of(out);
  const scenes::Scene& scene = *read.scene;
  const std::string shown = units.empty() ? scene.units : units;
  const materials::MaterialLibrary own = scenes::library_of(scene, library);
  out["summary"] = scenes::summary(scene, own, shown);
  out["units"] = shown;
  if (scene.kind != scenes::SceneKind::kTote) return text_of(out);
  const std::vector<scenes::CutPiece> pieces = scenes::cut_pieces(scene, own);
  out["pieces_svg"] = viz::svg_text(viz::cutlist_drawing(pieces, own, shown));
  out["pieces"] = table_rows(cutlist_table(pieces, own, shown));
  Json for_paper = Json::array();
  for (const scenes::CutPiece& piece : pieces_for_paper(pieces)) for_paper.push_back(piece.name);
  out["for_paper"] = std::move(for_paper);
  out["front"] = front_json(scene);
  out["layers"] = layers_drawn(scene, own, shown);
  return text_of(out);
}

std::string assembled_json(const scenes::Scene& scene, const materials::MaterialLibrary& library) {
  studies::HangResult start;
  start.tote = scenes::ToteBuilder(scene).build(library, 0);
  start.empty = start.loaded = solver::start_state(start.tote.model);
  start.findings.loaded_fields = solver::shell_fields(start.tote.model, start.loaded);
  viz::PageModel model = tote_page_model(scene.name, start, scene.units);
  model.fields.clear();  // nothing is loaded yet
  return with("{}", "model", viz::page_model_json(model));
}

std::string answer_json(const Hung& hung) {
  return std::visit([&](const auto& result) { return answer_of(hung, result); }, hung.result);
}

std::string report_json(const Hung& hung) {
  return std::visit(
      [&](const auto& result) {
        return text_of({{"html", viz::page_html(page_of(hung, result))},
                        {"findings", findings_json(hung.scene, result)},
                        {"resolved", scenes::resolved_json(hung.scene)}});
      },
      hung.result);
}

std::string comparison_answer(const studies::Comparison& comparison,
                              const materials::MaterialLibrary& library, const std::string& units) {
  const std::string json = comparison_json(comparison);
  const viz::Page page = comparison_page(comparison, library, units, json, "");
  const ComparisonTable table = comparison_table(comparison, units);
  Json rows = Json::array(), differences = Json::array();
  for (const ComparisonTable::Row& row : table.rows) {
    rows.push_back({{"what", row.what}, {"cells", row.cells}});
  }
  for (const studies::ComparedBag& bag : comparison.bags) {
    differences.push_back(studies::difference_text(bag.from_first));
  }
  std::string models;
  for (const viz::PageModel& model : page.models) {
    models += (models.empty() ? "[" : ",") + viz::page_model_json(model);
  }
  const Json out = {{"all_at_rest", comparison.all_converged()},
                    {"sentence", page.sentence},
                    {"names", table.names},
                    {"rows", std::move(rows)},
                    {"differences", std::move(differences)},
                    {"cautions", page.cautions},
                    {"html", viz::page_html(page)}};
  return with(with(text_of(out), "comparison", json), "models", models + "]");
}

}  // namespace totebench::app
