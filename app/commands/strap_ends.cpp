// totebench strap-ends SCENE: which way to sew the strap on. The study is in
// app/studies/strap_ends/, the words in app/present/strap_ends_report.cpp.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>

#include "app/commands/scene_job.hpp"
#include "app/commands/watched.hpp"
#include "app/present/strap_ends_report.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

int strap_ends_job(const SceneJob& job) {
  const studies::StrapEnds result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        return studies::compare_strap_ends(job.scene, job.library, on_progress);
      });
  const std::string json = strap_ends_json(job.scene, result);
  std::string text = strap_ends_sentence(job.scene, result, job.units) + "\n\n" +
                     table_text(strap_ends_table(result, job.units)) + "\n";
  for (const std::string& line : strap_ends_basis(job.library)) text += line + "\n";
  text += fmt::format("Computed in {}.\n\n", scenes::time_text(result.seconds));
  const std::string cautions = cautions_text(strap_ends_cautions());
  if (result.interrupted) {  // an earlier result is left alone
    tell(job.common, json, text + nothing_written_text(job.folder) + "\n" + cautions);
    return kExitNotConverged;
  }
  const viz::Page page = strap_ends_page(job.scene, result, job.library, job.units, json);
  const viz::Written written = write_texts(
      job.folder, {{"report.html", viz::page_html(page)},
                   {"strap_ends.svg",
                    viz::strap_ends_svg(strap_end_plans(job.scene, result, job.units), job.units)},
                   {"strap_ends.json", json}});
  text +=
      results_text(written, job.folder.string(), "strap_ends.svg", "shows them all at one scale.");
  tell(job.common, json, text + cautions);
  const bool known = !result.ends.empty() && result.ends.front().known();
  return exit_code(written, job.folder, known ? kExitDone : kExitNotConverged);
}

}  // namespace

void add_strap_ends_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "strap-ends", "Which way to sew the strap on: the same bag with each attachment");
  auto scene = std::make_shared<std::string>();
  command->add_option("SCENE", *scene, "Scene file, such as scenes/examples/demo.json")->required();
  add_common_options(*command, common);
  command->callback([&common, &exit_code, scene] {
    exit_code = work_on_tote(
        *scene, common, "a sheet has no straps; give a scene of kind \"tote\".", strap_ends_job);
  });
}

}  // namespace totebench::app
