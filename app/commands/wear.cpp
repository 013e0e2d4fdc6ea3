// totebench wear SCENE: how many uses until something wears through, and how far the bag has sagged
// after a day, a month, a year of them. The study is in app/studies/wear/, the words in
// app/present/wear_report.cpp.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "app/commands/scene_job.hpp"
#include "app/commands/watched.hpp"
#include "app/present/wear_report.hpp"

namespace totebench::app {
namespace {

std::string report_of(const SceneJob& job, const studies::WearResult& result) {
  std::string text = wear_sentence(job.scene, result, job.units) + "\n\n";
  const std::string verdict = verdict_text(job.scene, result, job.units);
  if (!verdict.empty()) text += verdict + "\n\n";
  text += table_text(wear_table(result, job.units)) + each_use_text(job.scene, result) + "\n\n";
  text += table_text(aged_table(result, job.units));
  const std::string softened = softened_text(result, job.units);
  return softened.empty() ? text : text + "\n" + softened + "\n";
}

int wear_job(const SceneJob& job) {
  const studies::WearResult result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        return studies::wear_tote(job.scene, job.library, on_progress);
      });
  if (!result.whole()) {
    complain(
        fmt::format("{}: {} was stopped or found no rest: nothing is said about its wear. "
                    "`totebench hang` and `totebench carry` say more.",
                    job.scene.name, result.not_found.empty() ? "wear" : result.not_found));
    return kExitNotConverged;
  }
  const std::string json = wear_json(job.scene, result);
  const viz::Page page = wear_page(job.scene, result, job.library, job.units, json);
  const viz::Written written =
      write_texts(job.folder, {{"report.html", viz::page_html(page)}, {"wear.json", json}});
  tell(job.common, json,
       report_of(job, result) + "\n" + written_text(written, job.folder) +
           cautions_text(wear_cautions(result)));
  return exit_code(written, job.folder, kExitDone);
}

}  // namespace

void add_wear_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "wear", "Carry the tote for a year: what wears through first, and how far it sags by then");
  auto scene = std::make_shared<std::string>();
  command->add_option("SCENE", *scene, "Scene file, such as scenes/examples/demo.json")->required();
  add_common_options(*command, common);
  command->callback([&common, &exit_code, scene] {
    exit_code = work_on_tote(*scene, common,
                             "a sheet is not carried; give a scene of kind \"tote\".", wear_job);
  });
}

}  // namespace totebench::app
