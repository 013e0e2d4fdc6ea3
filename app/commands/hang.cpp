// totebench hang SCENE: solves a scene empty and loaded, says what it found, writes what to look
// at. The study is in app/studies/hang/, the words in app/present/hang_report.cpp.
#include "totebench/studies/hang.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <chrono>
#include <functional>
#include <optional>

#include "app/commands/common.hpp"
#include "app/commands/scene_job.hpp"
#include "app/commands/watched.hpp"
#include "app/present/doubts.hpp"
#include "app/present/findings_json.hpp"
#include "app/present/hang_report.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/studies/circumstances.hpp"
#include "totebench/studies/coarser_mesh.hpp"
#include "totebench/studies/data_scatter.hpp"
#include "totebench/studies/stitch_band.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::app {
namespace {

// Where the time went: what was solved, then making the model and its files.
std::string profile_text(const studies::HangEffort& effort, double output_s) {
  return table_text(stage_rows(effort)) +
         fmt::format("meshing {:.2f} s, solving with all ranges {:.2f} s, files {:.2f} s\n",
                     effort.meshing_s, effort.seconds, output_s);
}

// Writes findings.json and the resolved scene, then what `draw` draws, then the report page, and
// tells what was found. The numbers come first: who stops a run while it draws has them all.
// `result` is a HangResult or a SheetHangResult.
template <class Result>
int finish(const SceneJob& job, bool converged, const Result& result, bool with_profile,
           const std::function<viz::Written()>& draw) {
  double output_s = 0;
  std::optional<solver::Timed> output(output_s);
  const std::string json = findings_json(job.scene, result);
  const std::string folder = job.folder.string();
  const std::string told = hang_report(job.scene, result, job.units, {}, folder);
  const std::string sentence = told.substr(0, told.find('\n'));
  viz::Written numbers = write_texts(
      job.folder,
      {{"findings.json", json}, {"scene.resolved.json", scenes::resolved_json(job.scene)}});
  const viz::Written drawn = draw();
  const viz::Page page =
      hang_page(job.scene, result, job.library, job.units, sentence, json, drawn);
  viz::Written written = write_texts(job.folder, {{"report.html", viz::page_html(page)}});
  add(written, numbers);
  add(written, drawn);
  const std::string report = hang_report(job.scene, result, job.units, written, folder);
  tell(job.common, json, report);
  output.reset();
  if (with_profile) {
    std::fputs(("\n" + profile_text(result.effort, output_s)).c_str(),
               job.common.json ? stderr : stdout);
  }
  if (job.common.json && job.common.quiet) {
    for (const std::string& problem : written.problems) complain("Note: " + problem);
  }
  return exit_code(written, job.folder, converged ? kExitDone : kExitNotConverged);
}

// Drawing takes seconds that who asked for a stop does not mean to wait.
std::optional<viz::BagField> picture_unless_stopped(viz::BagField colour) {
  return InterruptGuard::asked_to_stop() ? std::nullopt : std::optional(colour);
}

struct HangOptions {
  std::string colour;  // empty = the usual one of the bag
  bool with_ranges = true;
  bool with_profile = false;
};

int hang_tote_job(const SceneJob& job, const HangOptions& options) {
  using Clock = std::chrono::steady_clock;
  const auto begin = Clock::now();
  const studies::HangResult result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        studies::HangResult hung = studies::hang_tote(job.scene, job.library, on_progress);
        if (hung.stopped_early || !options.with_ranges) return hung;
        const auto going = [] { return !InterruptGuard::asked_to_stop(); };
        if (going()) {
          hung.coarser = studies::coarser_findings(job.scene, job.library, hung, on_progress);
        }
        if (going()) hung.stitch_band = studies::stitch_band(hung, on_progress);
        if (going()) {
          hung.data_scatter = studies::data_scatter(job.scene, job.library, hung, on_progress);
        }
        if (going()) {
          hung.circumstances = studies::circumstances(job.scene, job.library, hung, on_progress);
        }
        hung.ranges_stopped = InterruptGuard::asked_to_stop();
        hung.effort.seconds = std::chrono::duration<double>(Clock::now() - begin).count();
        return hung;
      });
  const bool done = result.findings.converged() && !result.stopped_early;
  return finish(job, done, result, options.with_profile, [&] {
    return viz::write_tote_files(
        {result.tote, result.empty, result.loaded, result.findings, result.coarse, result.steps},
        job.units, load_text(job.scene, job.units), job.folder,
        picture_unless_stopped(options.colour.empty() ? viz::usual_field(result.tote)
                                                      : viz::bag_field_named(options.colour)),
        doubt_marks(result, job.units));
  });
}

int hang_sheet_job(const SceneJob& job, const HangOptions& options) {
  const studies::SheetHangResult result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        return studies::hang_sheet(job.scene, job.library, on_progress);
      });
  const bool done = result.report.status == solver::SolveStatus::kConverged;
  return finish(job, done, result, options.with_profile, [&] {
    return viz::write_sheet_files({job.scene, result.sheet, result.steps, done}, job.units,
                                  job.folder, !InterruptGuard::asked_to_stop());
  });
}

int hang(const std::string& file, const HangOptions& options, const Common& common) {
  const std::optional<SceneJob> job = open_scene(file, common);
  if (!job) return kExitBadInput;
  const bool tote = job->scene.kind == scenes::SceneKind::kTote;
  if (!tote && !options.colour.empty()) {
    complain(file + ": error: --colour is for totes; the picture of a sheet has no colours");
    return kExitBadInput;
  }
  return tote ? hang_tote_job(*job, options) : hang_sheet_job(*job, options);
}

}  // namespace

void add_hang_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "hang", "Hang a tote under its load (or load a sheet): sag, strap drop, strap-seam forces");
  auto scene = std::make_shared<std::string>();
  command->add_option("SCENE", *scene, "Scene file, such as scenes/examples/demo.json")->required();
  auto options = std::make_shared<HangOptions>();
  add_colour_option(*command, options->colour);
  add_common_options(*command, common);
  command->add_flag("!--no-ranges", options->with_ranges,
                    "Without the likely ranges, which take most of the time of a bag");
  command->add_flag("--profile", options->with_profile, "Where the time of solving went");
  command->callback(
      [&common, &exit_code, scene, options] { exit_code = hang(*scene, *options, common); });
}

}  // namespace totebench::app
