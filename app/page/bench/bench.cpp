#include "app/page/bench/bench.hpp"

#include <chrono>
#include <functional>
#include <new>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>
#include <utility>
#include <vector>

#include "app/page/bench/answer.hpp"
#include "app/present/bags_to_compare.hpp"
#include "app/present/compare_report.hpp"
#include "app/present/cutlist_json.hpp"
#include "app/present/lesson_handout.hpp"
#include "app/present/paper_pattern.hpp"
#include "app/present/rate_report.hpp"
#include "app/present/report_page.hpp"
#include "totebench/materials/library.hpp"
#include "totebench/scenes/cutlist.hpp"
#include "totebench/scenes/explain.hpp"
#include "totebench/scenes/json_trees.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/studies/circumstances.hpp"
#include "totebench/studies/coarser_mesh.hpp"
#include "totebench/studies/data_scatter.hpp"
#include "totebench/studies/first_look.hpp"
#include "totebench/studies/rate.hpp"
#include "totebench/studies/stitch_band.hpp"
#include "totebench/viz/cutlist_drawing.hpp"
#include "totebench/viz/print_tiles.hpp"

namespace totebench::app {
namespace {

using Json = nlohmann::ordered_json;
using Clock = std::chrono::steady_clock;

constexpr const char* kSceneName = "the scene";  // in what is told of a scene's faults

// What the host has open.
struct Bench {
  std::optional<materials::MaterialLibrary> library;
  std::optional<Hung> hung;
  std::optional<studies::Comparison> compared;
  std::string compared_units;
  std::string answer;
};
Bench& bench() {
  static Bench only;
  return only;
}

const materials::MaterialLibrary& library() {
  if (!bench().library) throw std::invalid_argument("the material library is not open");
  return *bench().library;
}

std::string error_json(const std::string& sentence) {
  return Json{{"error", sentence}}.dump(-1, ' ', false, Json::error_handler_t::replace);
}

// Runs `work` and keeps what it returns as the answer.
const char* answer(const std::function<std::string()>& work) {
  std::string& text = bench().answer;
  try {
    text = work();
  } catch (const std::bad_alloc&) {
    text = error_json(
        "There is not enough memory here for this. A coarser mesh (mesh.size) needs less; so does "
        "the program on the command line.");
  } catch (const std::exception& error) {
    text = error_json(error.what());
  } catch (...) {
    text = error_json("Something failed that has no name. This is a defect of totebench.");
  }
  return text.c_str();
}

bool on_progress(const studies::HangProgress& progress) {
  return bench_progress(progress.stage.c_str(), progress.step.load_factor,
                        progress.step.residual_relative) != 0;
}

// A scene that can be built. Throws with all that is wrong with it.
scenes::ReadResult read_good(const char* text, const char* units) {
  scenes::ReadResult read = scenes::read_scene_text(text, kSceneName, library());
  if (!read.scene) throw std::invalid_argument(scenes::to_text(read.diagnostics));
  if (*units != '\0') read.scene->units = units;
  return read;
}

Hung hang(const char* text, const char* units, bool coarse) {
  Hung hung;
  hung.scene = *read_good(text, units).scene;
  hung.library = scenes::library_of(hung.scene, library());
  if (hung.scene.kind == scenes::SceneKind::kSheet) {
    hung.result = studies::hang_sheet(hung.scene, hung.library, on_progress);
    return hung;
  }
  hung.coarse = coarse;
  studies::HangResult result = coarse ? studies::first_look(hung.scene, hung.library, on_progress)
                                      : studies::hang_tote(hung.scene, hung.library, on_progress);
  if (coarse) result.findings.strap_seams.clear();
  hung.result = std::move(result);
  return hung;
}

void refine(const std::string& what, const Hung& hung, studies::HangResult& result) {
  const auto begin = Clock::now();
  if (what == "mesh") {
    result.coarser = studies::coarser_findings(hung.scene, hung.library, result, on_progress);
  } else if (what == "stitches") {
    result.stitch_band = studies::stitch_band(result, on_progress);
  } else if (what == "materials") {
    result.data_scatter = studies::data_scatter(hung.scene, hung.library, result, on_progress);
  } else if (what == "circumstances") {
    result.circumstances = studies::circumstances(hung.scene, hung.library, result, on_progress);
  } else {
    throw std::invalid_argument("there is nothing to refine by the name " + what);
  }
  result.effort.seconds += std::chrono::duration<double>(Clock::now() - begin).count();
}

std::vector<scenes::Scene> read_bags(const char* texts, const char* units) {
  std::vector<scenes::ReadResult> read;
  for (const Json& text : Json::parse(texts)) {
    read.push_back(read_good(text.get<std::string>().c_str(), units));
  }
  return bags_to_compare(std::move(read));
}

std::string pattern_json(const scenes::Scene& scene, const std::string& paper, bool all_pieces) {
  const materials::MaterialLibrary own = scenes::library_of(scene, library());
  const std::vector<scenes::CutPiece> pieces = scenes::cut_pieces(scene, own);
  const PaperPattern pattern =
      paper_pattern(scene, all_pieces ? pieces : pieces_for_paper(pieces), own, scene.units, paper);
  Json pages = Json::array();
  for (const viz::PrintPage& page : pattern.pages) {
    pages.push_back(viz::svg_text(pattern.drawing, page));
  }
  const Json out = {{"svg", viz::svg_text(viz::cutlist_drawing(pieces, own, scene.units))},
                    {"paper", pattern.paper.name},
                    {"width_mm", pattern.paper.width_mm},
                    {"height_mm", pattern.paper.height_mm},
                    {"pages", std::move(pages)},
                    {"json", cutlist_json(scene, pieces, own)}};
  return out.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace
}  // namespace totebench::app

using namespace totebench;       // NOLINT: functions of C have no namespace
using namespace totebench::app;  // NOLINT: the same

extern "C" {

const char* bench_open(const char* text) {
  return answer([&] {
    if (*text == '\0') {
      bench().library = materials::MaterialLibrary::load();
    } else {
      std::vector<materials::LibraryText> files;
      for (const Json& file : Json::parse(text)) {
        files.push_back({file.at("name").get<std::string>(), file.at("text").get<std::string>()});
      }
      bench().library = materials::MaterialLibrary::parse(std::move(files));
    }
    return library_json(library());
  });
}

const char* bench_check(const char* scene, const char* units) {
  return answer([&] {
    return check_json(scenes::read_scene_text(scene, kSceneName, library()), library(), units);
  });
}

const char* bench_pattern(const char* scene, const char* units, const char* paper, int all_pieces) {
  return answer(
      [&] { return pattern_json(*read_good(scene, units).scene, paper, all_pieces != 0); });
}

const char* bench_assemble(const char* text, const char* units) {
  return answer([&] {
    const scenes::Scene scene = *read_good(text, units).scene;
    if (scene.kind != scenes::SceneKind::kTote) {
      throw std::invalid_argument("only a tote is put together; this is a sheet");
    }
    return assembled_json(scene, scenes::library_of(scene, library()));
  });
}

const char* bench_hang(const char* scene, const char* units, int coarse) {
  return answer([&] {
    bench().hung.reset();
    bench().hung = hang(scene, units, coarse != 0);
    return answer_json(*bench().hung);
  });
}

const char* bench_refine(const char* what) {
  return answer([&] {
    if (!bench().hung) throw std::invalid_argument("nothing was hung yet");
    Hung& hung = *bench().hung;
    if (auto* result = std::get_if<studies::HangResult>(&hung.result)) refine(what, hung, *result);
    return answer_json(hung);
  });
}

const char* bench_report() {
  return answer([&] {
    if (!bench().hung) throw std::invalid_argument("nothing was hung yet");
    return report_json(*bench().hung);
  });
}

const char* bench_compare(const char* scenes, const char* units) {
  return answer([&] {
    const std::vector<scenes::Scene> bags = read_bags(scenes, units);
    bench().compared.reset();
    bench().compared_units = *units != '\0' ? units : bags.front().units;
    bench().compared = studies::compare_totes(bags, library(), bench().compared_units, on_progress);
    return comparison_answer(*bench().compared, library(), bench().compared_units);
  });
}

const char* bench_lesson() {
  return answer([&] {
    if (!bench().compared) throw std::invalid_argument("nothing was compared yet");
    const studies::Comparison& compared = *bench().compared;
    const auto base = base_alone(compared, library(), on_progress);
    const Json out = {
        {"html", viz::page_html(lesson_page(compared, base, bench().compared_units, ""))}};
    return out.dump(-1, ' ', false, Json::error_handler_t::replace);
  });
}

const char* bench_rate(const char* text, const char* units, int samples) {
  return answer([&] {
    const scenes::Scene scene = *read_good(text, units).scene;
    if (scene.kind != scenes::SceneKind::kTote) {
      throw std::invalid_argument("only a tote can be rated; this is a sheet");
    }
    const materials::MaterialLibrary own = scenes::library_of(scene, library());
    studies::RateOptions options;
    options.design_factor = scene.rating.design_factor;
    options.samples = samples;
    options.seed = scene.rating.seed;
    options.changes = false;
    const studies::RateResult result = studies::rate_tote(scene, own, options, on_progress);
    const std::string json = rating_json(scene, result);
    const std::string told = rate_report(scene, result, scene.units, {}, "");
    const viz::Page page = rate_page(scene, result, own, scene.units, json);
    const Json out = {{"rated", result.rated()},      {"sentence", told.substr(0, told.find('\n'))},
                      {"cautions", page.cautions},    {"told", told},
                      {"html", viz::page_html(page)}, {"rating", Json::parse(json)}};
    return out.dump(-1, ' ', false, Json::error_handler_t::replace);
  });
}
}
