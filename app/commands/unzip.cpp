// totebench unzip SCENE: raises the load until a strap's end comes off, stitch by stitch. The study
// is in app/studies/unzip/, the words in app/present/unzip_report.cpp.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "app/commands/scene_job.hpp"
#include "app/commands/watched.hpp"
#include "app/present/unzip_report.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

constexpr std::size_t kMostFrames = 30;

// A file a break, or fewer where there are many; the bag whole first.
viz::Written write_frames(const studies::Unzipping& result, const std::filesystem::path& folder) {
  const studies::HangResult& hang = result.hang;
  std::vector<viz::SeriesStep> steps = {
      {0, hang.loaded, solver::stitch_forces(hang.tote.model, hang.loaded)}};
  const std::size_t n = result.breaks.size();
  const std::size_t every = std::max<std::size_t>(1, (n + kMostFrames - 1) / kMostFrames);
  solver::Model model = hang.tote.model;
  for (std::size_t i = 0; i < n; ++i) {
    const studies::Break& b = result.breaks[i];
    model.stitches[b.stitch].stiffness_N_per_m = 0;
    if (i % every != 0 && i + 1 != n) continue;
    steps.push_back({static_cast<double>(i + 1), b.after, solver::stitch_forces(model, b.after)});
  }
  return viz::write_series(hang.tote, hang.empty.x, steps, "unzip", folder);
}

std::string report_of(const SceneJob& job, const studies::Unzipping& result) {
  std::string text = unzip_sentence(job.scene, result, job.units) + "\n\n";
  if (!result.breaks.empty()) text += table_text(unzip_table(job.scene, result, job.units));
  const std::string energy = energy_text(result, job.units);
  if (!energy.empty()) text += "\n" + energy + "\n";
  return text + fmt::format("\nComputed in {} on a mesh of {} triangles.\n",
                            scenes::time_text(result.seconds), result.hang.findings.triangles);
}

int unzip_job(const SceneJob& job) {
  const studies::Unzipping result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        return studies::unzip_tote(job.scene, job.library, on_progress);
      });
  const std::string json = unzip_json(job.scene, result);
  const bool nothing_seen = result.breaks.empty() && !result.at_limit;
  if (result.interrupted || nothing_seen) {  // an earlier result is left alone
    tell(job.common, json,
         report_of(job, result) + nothing_written_text(job.folder) +
             "`totebench hang` and `totebench rate` say more.\n\n" +
             cautions_text(unzip_cautions(result)));
    return kExitNotConverged;
  }
  const viz::Page page = unzip_page(job.scene, result, job.library, job.units, json);
  std::vector<std::pair<std::string, std::string>> texts = {{"report.html", viz::page_html(page)},
                                                            {"unzip.json", json}};
  if (!result.breaks.empty()) {
    const std::string& drawn = result.end_off.empty() ? result.breaks.front().site : result.end_off;
    texts.emplace_back("unzip.svg", unzip_charts(job.scene, result, job.units).front());
    texts.emplace_back("unzip_order.svg", unzip_order_svg(job.scene, result, drawn));
  }
  viz::Written written = write_texts(job.folder, texts);
  if (!result.breaks.empty()) {
    const viz::Written frames = write_frames(result, job.folder);
    if (!frames.files.empty()) written.files.emplace_back("unzip.pvd");
    add(written, {{}, frames.problems, frames.failures});
  }
  tell(job.common, json,
       report_of(job, result) + written_text(written, job.folder) +
           cautions_text(unzip_cautions(result)));
  const bool answered = !result.end_off.empty() || result.at_limit;
  return exit_code(written, job.folder, answered ? kExitDone : kExitNotConverged);
}

}  // namespace

void add_unzip_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command =
      app.add_subcommand("unzip", "Raise the load until a strap's end comes off, stitch by stitch");
  auto scene = std::make_shared<std::string>();
  command->add_option("SCENE", *scene, "Scene file, such as scenes/examples/demo.json")->required();
  add_common_options(*command, common);
  command->callback([&common, &exit_code, scene] {
    exit_code = work_on_tote(*scene, common,
                             "a sheet has no straps; give a scene of kind \"tote\".", unzip_job);
  });
}

}  // namespace totebench::app
