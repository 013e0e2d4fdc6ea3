// totebench hang SCENE: solves a scene empty and loaded, says what it found, writes what to look
// at. The study is in app/studies/hang/, the words in app/present/hang_report.cpp.
#include "totebench/studies/hang.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <functional>
#include <optional>

#include "app/commands/common.hpp"
#include "app/commands/scene_job.hpp"
#include "app/commands/watched.hpp"
#include "app/present/findings_json.hpp"
#include "app/present/hang_files.hpp"
#include "app/present/hang_report.hpp"
#include "totebench/studies/ranges.hpp"

namespace totebench::app {
namespace {

// Where the time went: what was solved, then making the model and its files.
std::string profile_text(const studies::HangEffort& effort, double output_s) {
  return table_text(stage_rows(effort)) +
         fmt::format("meshing {:.2f} s, solving with all ranges {:.2f} s, files {:.2f} s\n",
                     effort.meshing_s, effort.seconds, output_s);
}

// Writes with `write` and tells what was found. `result` is a HangResult or a SheetHangResult.
template <class Result>
int finish(const SceneJob& job, bool converged, const Result& result, bool with_profile,
           const std::function<viz::Written()>& write) {
  double output_s = 0;
  std::optional<solver::Timed> output(output_s);
  const viz::Written written = write();
  tell(job.common, findings_json(job.scene, result),
       hang_report(job.scene, result, job.units, written, job.folder.string()));
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
  const studies::HangResult result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        studies::HangResult hung = studies::hang_tote(job.scene, job.library, on_progress);
        if (options.with_ranges) studies::add_ranges(job.scene, job.library, hung, on_progress);
        return hung;
      });
  const bool done = result.findings.converged() && !result.stopped_early;
  return finish(job, done, result, options.with_profile, [&] {
    return write_hang_files(
        job.scene, result, job.library, job.folder,
        picture_unless_stopped(options.colour.empty() ? viz::usual_field(result.tote)
                                                      : viz::bag_field_named(options.colour)));
  });
}

int hang_sheet_job(const SceneJob& job, const HangOptions& options) {
  const studies::SheetHangResult result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        return studies::hang_sheet(job.scene, job.library, on_progress);
      });
  const bool done = result.report.status == solver::SolveStatus::kConverged;
  return finish(job, done, result, options.with_profile, [&] {
    return write_hang_files(job.scene, result, job.library, job.folder,
                            !InterruptGuard::asked_to_stop());
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
