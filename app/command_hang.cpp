// totebench hang SCENE: solves a scene empty and loaded, says what it found, writes what to look
// at. The study is in hang_study.cpp, the words in hang_report.cpp.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <optional>
#include <stdexcept>

#include "app/common.hpp"
#include "app/findings_json.hpp"
#include "app/hang_report.hpp"
#include "app/hang_study.hpp"
#include "app/interrupt.hpp"
#include "app/progress_line.hpp"
#include "app/scene_job.hpp"
#include "scenes/reader.hpp"
#include "viz/atomic_file.hpp"
#include "viz/results.hpp"

namespace totebench {
namespace {

int finish(const SceneJob& job, bool converged, const std::string& json, const std::string& report,
           const Written& written) {
  std::vector<std::string> problems = written.problems;
  for (const auto& [name, text] : {std::pair<std::string, std::string>{"findings.json", json},
                                   {"scene.resolved.json", resolved_json(job.scene)}}) {
    const std::string problem = write_text_atomically(job.folder / name, text);
    if (!problem.empty()) problems.push_back(problem);
  }
  if (job.common.json) {
    std::fputs(json.c_str(), stdout);
    if (!job.common.quiet) std::fputs(report.c_str(), stderr);
  } else {
    std::fputs(report.c_str(), stdout);
  }
  if (job.common.json && job.common.quiet) {
    for (const std::string& problem : problems) complain("Note: " + problem);
  }
  return converged ? kExitDone : kExitNotConverged;
}

Written with_own_files(Written written) {
  written.files.insert(written.files.begin(), "findings.json");
  written.files.push_back("scene.resolved.json");
  return written;
}

int hang_tote_job(const SceneJob& job) {
  HangResult result;
  {
    const InterruptGuard guard;
    ProgressLine line(job.common.quiet);
    result = hang_tote(job.scene, job.library, [&](const HangProgress& progress) {
      line.show(progress);
      return !InterruptGuard::asked_to_stop();
    });
  }
  const Written written = write_tote_files(
      {result.tote, result.empty, result.loaded, result.findings, result.coarse, result.steps},
      job.units, load_text(job.scene, job.units), job.folder);
  return finish(
      job, result.findings.converged() && !result.stopped_early, findings_json(job.scene, result),
      hang_report(job.scene, result, job.units, with_own_files(written), job.folder.string()),
      written);
}

int hang_sheet_job(const SceneJob& job) {
  SheetHangResult result;
  {
    const InterruptGuard guard;
    ProgressLine line(job.common.quiet);
    result = hang_sheet(job.scene, job.library, [&](const HangProgress& progress) {
      line.show(progress);
      return !InterruptGuard::asked_to_stop();
    });
  }
  const bool done = result.report.status == SolveStatus::kConverged;
  const Written written =
      write_sheet_files({job.scene, result.sheet, result.steps, done}, job.units, job.folder);
  return finish(
      job, done, findings_json(job.scene, result),
      hang_report(job.scene, result, job.units, with_own_files(written), job.folder.string()),
      written);
}

int hang(const std::string& file, const Common& common) {
  const std::optional<SceneJob> job = open_scene(file, common);
  if (!job) return kExitBadInput;
  try {
    return job->scene.kind == SceneKind::kTote ? hang_tote_job(*job) : hang_sheet_job(*job);
  } catch (const std::invalid_argument& error) {  // geometry only the builder can judge
    complain(file + ": error: " + error.what() + "\nNothing was solved.");
    return kExitBadInput;
  }
}

}  // namespace

void add_hang_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "hang", "Hang a tote under its load (or load a sheet): sag, strap drop, strap-seam forces");
  auto scene = std::make_shared<std::string>();
  command->add_option("SCENE", *scene, "Scene file, such as scenes/examples/demo.json")->required();
  add_common_options(*command, common);
  command->callback([&common, &exit_code, scene] { exit_code = hang(*scene, common); });
}

}  // namespace totebench
