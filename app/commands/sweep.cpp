// totebench sweep SCENE: many bags that differ in keys of the scene, each hung. The study is in
// app/studies/sweep/, the words in app/present/sweep_report.cpp.
#include "totebench/studies/sweep.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "app/commands/scene_job.hpp"
#include "app/commands/shared_work.hpp"
#include "app/commands/watched.hpp"
#include "app/present/sweep_report.hpp"

namespace totebench::app {
namespace {

struct SweepArguments {
  std::string scene;
  bool coarse = false;
  bool together = false;
};

viz::Written write_files(const SceneJob& job, const studies::SweepResult& result,
                         const std::string& json) {
  std::vector<std::pair<std::string, std::string>> texts = {
      {"report.html", viz::page_html(sweep_page(job.scene, result, job.units, json))},
      {"sweep.csv", sweep_csv(result)},
      {"sweep.json", json}};
  const std::string chart = sweep_chart_svg(result, job.units);
  if (!chart.empty()) texts.emplace_back("sweep.svg", chart);
  return write_texts(job.folder, texts);
}

int tell_sweep(const SceneJob& job, const studies::SweepResult& result) {
  const std::string json = sweep_json(job.scene, result);
  // A run that was stopped leaves earlier results alone.
  const viz::Written written = result.interrupted ? viz::Written{} : write_files(job, result, json);
  tell(job.common, json, sweep_report(job.scene, result, job.units, written, job.folder.string()));
  const bool answered = !result.interrupted && result.count(studies::Swept::kAtRest) > 0;
  return exit_code(written, job.folder, answered ? kExitDone : kExitNotConverged);
}

int sweep_job(const SceneJob& job, const SweepArguments& arguments) {
  if (!job.scene.sweep) {
    complain(arguments.scene +
             ": error: the scene says nothing of what to sweep over\n    add \"sweep\" (see "
             "totebench explain sweep, and scenes/examples/which-base.json)\nNothing was solved.");
    return kExitBadInput;
  }
  // Hung bags stay when the sweep is done, so that a wider one hangs only what is new; not beyond
  // this version of the program, which may find other digits.
  const auto kept = open_kept((job.folder / "sweep.bags").string(),
                              "totebench " TOTEBENCH_VERSION " swept bags 1", arguments.together);
  if (!kept) return kExitBadInput;
  studies::SweepOptions options;
  options.coarse = arguments.coarse;
  options.kept = kept->work();
  options.kept.on_end = {};
  if (!job.common.quiet) {
    complain(fmt::format("{} bags to hang. The first will tell how long all of them take.",
                         job.sweep.n_bags));
  }
  const studies::SweepResult result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        return studies::sweep_totes(*job.scene.sweep, job.sweep, job.library, options, on_progress);
      });
  if (result.interrupted) return tell_sweep(job, result);
  return tell_once(*kept, sweep_csv(result), [&] { return tell_sweep(job, result); });
}

}  // namespace

void add_sweep_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "sweep", "Hang many bags that differ in any keys of a scene: one table, the trade-off");
  auto arguments = std::make_shared<SweepArguments>();
  command
      ->add_option("SCENE", arguments->scene,
                   "Scene file with \"sweep\", such as scenes/examples/which-base.json")
      ->required();
  command->add_flag("--coarse", arguments->coarse,
                    "On the coarse mesh alone: several times quicker, and rougher");
  add_together_option(*command, arguments->together);
  add_common_options(*command, common);
  command->callback([&common, &exit_code, arguments] {
    exit_code = work_on_tote(arguments->scene, common, "only totes can be swept; this is a sheet.",
                             [&](const SceneJob& job) { return sweep_job(job, *arguments); });
  });
}

}  // namespace totebench::app
