// totebench pieces SCENE: the bag as pattern pieces to go on from. Nothing is solved.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <stdexcept>

#include "app/commands/common.hpp"
#include "app/commands/scene_job.hpp"
#include "totebench/scenes/drawn_pieces.hpp"

namespace totebench::app {
namespace {

int pieces(const std::string& file, const Common& common) {
  const std::optional<SceneJob> job = open_scene(file, common);
  if (!job) return kExitBadInput;
  scenes::DrawnPieces drawn;
  try {
    drawn = scenes::drawn_pieces(job->scene, "pieces.svg");
  } catch (const std::invalid_argument& error) {
    complain(fmt::format("{}: error: {}.", file, error.what()));
    return kExitBadInput;
  }
  const viz::Written written =
      write_texts(job->folder, {{"pieces.svg", drawn.svg}, {"pieces.json", drawn.scene}});
  std::string told;
  if (written.problems.empty() && written.failures.empty()) {
    told = fmt::format(
        "{0}/pieces.svg draws the pieces true to scale on their sewing lines, with a circle at "
        "every mark; {0}/pieces.json is the scene that sews them together. Change the drawing in "
        "any program for vector drawings, then totebench hang {0}/pieces.json\n",
        job->folder.string());
  } else {
    told = written_text(written, job->folder);
  }
  tell(common, drawn.scene, told);
  return exit_code(written, job->folder, kExitDone);
}

}  // namespace

void add_pieces_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "pieces", "This bag as pattern pieces in a drawing, to change as you like");
  const auto scene = std::make_shared<std::string>();
  command->add_option("SCENE", *scene, "Scene file")->required();
  add_common_options(*command, common);
  command->callback([&common, &exit_code, scene] { exit_code = pieces(*scene, common); });
}

}  // namespace totebench::app
