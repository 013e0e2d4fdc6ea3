// totebench stand SCENE: puts the bag on a table. The study is in app/studies/stand/, the words in
// app/present/stand_report.cpp.
#include "totebench/studies/stand.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "app/commands/scene_job.hpp"
#include "app/commands/watched.hpp"
#include "app/present/stand_report.hpp"

namespace totebench::app {
namespace {

int stand_job(const SceneJob& job) {
  const studies::Standing result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        return studies::stand_tote(job.scene, job.library, on_progress);
      });
  const std::string json = stand_json(job.scene, result);
  const auto report = [&](const std::string& files) {
    return stand_report(job.scene, result, job.units, files);
  };
  if (result.interrupted || !result.empty.at_rest()) {  // an earlier result is left alone
    tell(job.common, json, report(nothing_written_text(job.folder) + "\n"));
    return kExitNotConverged;
  }
  const viz::Written written = write_stand_files(job.scene, result, job.library, job.folder,
                                                 !InterruptGuard::asked_to_stop());
  tell(job.common, json,
       report(results_text(written, job.folder.string(), "stand.png",
                           "shows it on the table, and cut from front to back.")));
  return exit_code(written, job.folder, result.loaded.at_rest() ? kExitDone : kExitNotConverged);
}

}  // namespace

void add_stand_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "stand", "Put the bag on a table: does it stand by itself, empty and loaded");
  auto scene = std::make_shared<std::string>();
  command->add_option("SCENE", *scene, "Scene file, such as scenes/examples/demo.json")->required();
  add_common_options(*command, common);
  command->callback([&common, &exit_code, scene] {
    exit_code = work_on_tote(*scene, common,
                             "a sheet is no bag to put down; give a scene of kind \"tote\".",
                             [scene](const SceneJob& job) {
                               const std::string why = studies::why_not_stood(job.scene);
                               if (why.empty()) return stand_job(job);
                               complain(*scene + ": error: /bag/shape: " + why +
                                        "; give it one (boxed, gusset), or hang it.");
                               return static_cast<int>(kExitBadInput);
                             });
  });
}

}  // namespace totebench::app
