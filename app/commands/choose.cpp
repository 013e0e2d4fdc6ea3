// totebench choose SCENE: the lightest or cheapest build that keeps to the limits the scene sets.
// The study is in app/studies/choose/, the search in search.cpp there, the words in
// app/present/choose_report.cpp.
#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <memory>

#include "app/commands/scene_job.hpp"
#include "app/commands/shared_work.hpp"
#include "app/commands/watched.hpp"
#include "app/present/choose_report.hpp"

namespace totebench::app {
namespace {

namespace fs = std::filesystem;

viz::Written write_files(const SceneJob& job, const studies::ChooseResult& result,
                         const std::string& json) {
  std::vector<std::pair<std::string, std::string>> texts = {{"choose.json", json}};
  if (result.shown() >= 0) {
    const viz::Page page = choose_page(job.scene, result, job.library, job.units, json);
    texts.insert(texts.begin(), {{"report.html", viz::page_html(page)},
                                 {"choose.svg", choose_chart_svg(result, job.units)}});
  }
  std::error_code ignored;
  fs::remove(job.folder / "chosen.json", ignored);  // of an earlier run
  if (result.search.chosen >= 0) {
    texts.emplace_back("chosen.json", scenes::resolved_json(chosen_scene(job.scene, result)));
  }
  return write_texts(job.folder, texts);
}

int tell_choice(const SceneJob& job, const studies::ChooseResult& result, const std::string& json) {
  // A run that was stopped leaves earlier results alone.
  const viz::Written written = result.interrupted ? viz::Written{} : write_files(job, result, json);
  tell(job.common, json, choose_report(result, job.units, written, job.folder.string()));
  return exit_code(written, job.folder,
                   result.interrupted || result.shown() < 0 ? kExitNotConverged : kExitDone);
}

int choose_job(const SceneJob& job, const std::string& file, bool together) {
  if (!job.scene.choose) {
    complain(file +
             ": error: the scene says nothing of what there is to choose\n    add \"choose\" (see "
             "totebench explain choose, and scenes/examples/which-stabilizer.json)\nNothing was "
             "solved.");
    return kExitBadInput;
  }
  const auto kept = open_kept((job.folder / "choose.solves").string(),
                              "totebench " TOTEBENCH_VERSION " solves 3", together);
  if (!kept) return kExitBadInput;
  const studies::ChooseResult result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        return studies::choose_build(job.scene, job.build, job.library, kept->work(), on_progress);
      });
  const std::string json = choose_json(job.scene, result);
  if (!result.interrupted && result.n_possible() == 0) {
    complain(file + ": error: none of the builds can be made; the first: " +
             result.builds.front().impossible + "\nNothing was solved.");
    return kExitBadInput;
  }
  if (result.interrupted) return tell_choice(job, result, json);
  return tell_once(*kept, json, [&] { return tell_choice(job, result, json); });
}

}  // namespace

void add_choose_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "choose", "The lightest or cheapest build within limits, of the choices a scene gives");
  auto scene = std::make_shared<std::string>();
  auto together = std::make_shared<bool>(false);
  command
      ->add_option("SCENE", *scene,
                   "Scene file with \"choose\", such as scenes/examples/which-stabilizer.json")
      ->required();
  add_together_option(*command, *together);
  add_common_options(*command, common);
  command->callback([&common, &exit_code, scene, together] {
    exit_code =
        work_on_tote(*scene, common, "only totes can be chosen; this is a sheet.",
                     [&](const SceneJob& job) { return choose_job(job, *scene, *together); });
  });
}

}  // namespace totebench::app
