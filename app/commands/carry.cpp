// totebench carry SCENE: picks the bag up, walks with it, takes the stairs and sets it down, in
// time; says how much more than hanging still that asks of the straps. The study is in
// app/studies/carry/, the words in app/present/carry_report.cpp.
#include <CLI/CLI.hpp>
#include <cmath>
#include <cstdlib>

#include "app/commands/scene_job.hpp"
#include "app/commands/watched.hpp"
#include "app/present/carry_report.hpp"

namespace totebench::app {
namespace {

int carry_job(const SceneJob& job, const studies::CarryOptions& options) {
  const studies::CarryResult result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        return studies::carry_tote(job.scene, job.library, options, on_progress);
      });
  if (result.interrupted) {
    complain(job.scene.name + ": stopped on request: nothing was written.");
    return kExitNotConverged;
  }
  if (result.events.empty()) {
    complain(not_carried_text(job.scene));
    return kExitNotConverged;
  }
  bool whole = true;
  for (const studies::CarryEventResult& event : result.events) whole = whole && event.complete;
  const std::string json = carry_json(job.scene, result, options);
  const viz::Page page = carry_page(job.scene, result, options, job.library, job.units, json);
  const viz::Written written = write_texts(job.folder, {{"report.html", viz::page_html(page)},
                                                        {"carry.json", json},
                                                        {"carry.csv", carry_csv(result)}});
  tell(job.common, json,
       carry_report(job.scene, result, options, job.units, written_text(written, job.folder)));
  return exit_code(written, job.folder, whole ? kExitDone : kExitNotConverged);
}

// A range check lets "nan" pass.
std::string is_number(std::string& text) {
  return std::isfinite(std::strtod(text.c_str(), nullptr)) ? "" : text + " is not a number";
}

}  // namespace

void add_carry_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "carry", "Pick the tote up, walk and take the stairs with it: what moving adds to the load");
  auto scene = std::make_shared<std::string>();
  auto options = std::make_shared<studies::CarryOptions>();
  auto cadence = std::make_shared<double>(60 * options->cadence_Hz);
  command->add_option("SCENE", *scene, "Scene file, such as scenes/examples/demo.json")->required();
  command->add_option("--cadence", *cadence, "Steps a minute (default 120)")
      ->check(CLI::Range(60.0, 180.0) & CLI::Validator(is_number, ""));
  command
      ->add_option(
          "--damping", options->damping_ratio,
          "How fast the bounce dies away: 0 never, 0.05 (the default) within a few bounces, as a "
          "share of critical damping")
      ->check(CLI::Range(0.0, 0.5) & CLI::Validator(is_number, ""));
  add_common_options(*command, common);
  command->callback([&common, &exit_code, scene, options, cadence] {
    options->cadence_Hz = *cadence / 60;
    exit_code =
        work_on_tote(*scene, common, "a sheet cannot be carried; give a scene of kind \"tote\".",
                     [&](const SceneJob& job) { return carry_job(job, *options); });
  });
}

}  // namespace totebench::app
