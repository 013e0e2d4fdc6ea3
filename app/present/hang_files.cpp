#include "app/present/hang_files.hpp"

#include <functional>
#include <string>

#include "app/commands/scene_job.hpp"
#include "app/present/doubts.hpp"
#include "app/present/findings_json.hpp"
#include "app/present/hang_report.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench::app {
namespace {

// `draw` writes the files for viewers.
template <class Result>
viz::Written write_all(const scenes::Scene& scene, const Result& result,
                       const materials::MaterialLibrary& library,
                       const std::filesystem::path& folder,
                       const std::function<viz::Written()>& draw) {
  const std::string json = findings_json(scene, result);
  const std::string told = hang_report(scene, result, scene.units, {}, folder.string());
  const viz::Written numbers = write_texts(
      folder, {{"findings.json", json}, {"scene.resolved.json", scenes::resolved_json(scene)}});
  const viz::Written drawn = draw();
  const viz::Page page =
      hang_page(scene, result, library, scene.units, told.substr(0, told.find('\n')), json, drawn);
  viz::Written written = write_texts(folder, {{"report.html", viz::page_html(page)}});
  add(written, numbers);
  add(written, drawn);
  return written;
}

}  // namespace

viz::Written write_hang_files(const scenes::Scene& scene, const studies::HangResult& result,
                              const materials::MaterialLibrary& library,
                              const std::filesystem::path& folder,
                              std::optional<viz::BagField> colour) {
  return write_all(scene, result, library, folder, [&] {
    return viz::write_tote_files(
        {result.tote, result.empty, result.loaded, result.findings, result.coarse, result.steps},
        scene.units, load_text(scene, scene.units), folder, colour,
        doubt_marks(result, scene.units));
  });
}

viz::Written write_hang_files(const scenes::Scene& scene, const studies::SheetHangResult& result,
                              const materials::MaterialLibrary& library,
                              const std::filesystem::path& folder, bool picture) {
  const bool done = result.report.status == solver::SolveStatus::kConverged;
  return write_all(scene, result, library, folder, [&] {
    return viz::write_sheet_files({scene, result.sheet, result.steps, done}, scene.units, folder,
                                  picture);
  });
}

}  // namespace totebench::app
