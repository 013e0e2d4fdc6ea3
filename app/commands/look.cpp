// totebench look SCENE: hangs the bag, then opens a window on it, or with --film writes films of
// the load rising and of a stride.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <optional>

#include "app/commands/common.hpp"
#include "app/commands/interrupt.hpp"
#include "app/commands/progress_line.hpp"
#include "app/commands/scene_job.hpp"
#include "app/present/hang_report.hpp"
#include "totebench/scenes/unit_text.hpp"
#include "totebench/studies/carry.hpp"
#include "totebench/viz/bag_frames.hpp"
#include "totebench/viz/film.hpp"
#include "totebench/viz/vtk_module.hpp"

namespace totebench::app {
namespace {

constexpr int kMoments = 25;          // of the load rising
constexpr double kLoadFrames_Hz = 8;  // three seconds of film
constexpr double kStrideFrames_Hz = 25;
constexpr double kSlowMotion = 0.5;  // a stride at its own speed is over before one has seen it

std::string bar_title(viz::BagField field, const scenes::Tote& tote, const solver::State& state,
                      const std::string& units) {
  return viz::shown_field(field, tote, state, solver::shell_fields(tote.model, state), 1, units)
      .title;
}

// One stride, two steps, at the end of a walk, as fast as it is.
std::vector<viz::BagMoment> stride(const studies::CarryResult& carried, viz::BagField field,
                                   const std::string& units) {
  std::vector<viz::BagMoment> moments;
  const studies::CarryEventResult& walk = carried.events.front();
  if (walk.samples.empty()) return moments;
  const scenes::Tote& tote = carried.still.tote;
  const double lasts_s = 2 / studies::CarryOptions{}.cadence_Hz;
  const double begin = walk.samples.back().time_s - lasts_s;
  for (std::size_t i = 0; i < walk.samples.size(); ++i) {
    const double t = walk.samples[i].time_s - begin;
    const auto n = static_cast<double>(moments.size());
    if (t < n / kStrideFrames_Hz || n >= lasts_s * kStrideFrames_Hz) continue;
    moments.push_back({walk.shapes[i].x,
                       viz::shown_field(field, tote, walk.shapes[i],
                                        solver::shell_fields(tote.model, walk.shapes[i]), 1, units)
                           .values,
                       fmt::format("walking, {:.2f} s (half speed)", t)});
  }
  return moments;
}

struct Looked {
  studies::HangResult hung;
  std::optional<studies::CarryResult> carried;
};

// Within the caller's InterruptGuard.
int write_films(const SceneJob& job, const Looked& solved, viz::BagField field,
                const std::vector<viz::Picture>& frames) {
  const auto go_on = [] { return !InterruptGuard::asked_to_stop(); };
  viz::Written written = viz::write_film("load", job.scene.name + ": the load rising", frames,
                                         kLoadFrames_Hz, job.folder, go_on);
  if (solved.carried && !solved.carried->events.empty() &&
      solved.carried->events.front().complete && go_on()) {
    // The pressure that is read back is that of contents at rest.
    const bool still = field == viz::BagField::kPressure;
    if (still) {
      written.problems.emplace_back(
          "the stride is coloured by force, as the pressure of moving contents is not computed");
    }
    const scenes::Tote& tote = solved.carried->still.tote;
    const viz::BagField shown = still ? viz::BagField::kForce : field;
    add(written, viz::write_film("stride", job.scene.name + ": a stride, at half speed",
                                 viz::bag_frames(tote, stride(*solved.carried, shown, job.units),
                                                 bar_title(shown, tote,
                                                           solved.carried->still.loaded, job.units),
                                                 job.units),
                                 kSlowMotion * kStrideFrames_Hz, job.folder, go_on));
  } else if (go_on()) {
    written.problems.emplace_back("the bag could not be walked with to the end: no stride");
  }
  std::string text =
      fmt::format("{} {}, on film.\n\n", job.scene.name, load_text(job.scene, job.units));
  if (!written.files.empty()) text += fmt::format("Written to {}:", job.folder.string());
  for (const std::string& file : written.files) text += " " + file;
  std::fputs((text + "\n").c_str(), stdout);
  for (const std::string& problem : written.problems) complain("Note: " + problem + ".");
  if (!go_on()) return kExitNotConverged;
  return written.files.empty() ? kExitBadInput : kExitDone;
}

int open_window(const SceneJob& job, const std::vector<viz::Picture>& frames) {
  std::string error;
  const viz::VtkModule* vtk = viz::vtk_module(error);
  if (vtk != nullptr) {
    complain(
        "Drag turns the bag, the wheel zooms, Left and Right take load off and put it on, "
        "q closes.");
    error = vtk->show(frames, job.scene.name + " - totebench");
  }
  if (error.empty()) return kExitDone;
  complain("No window was opened: " + error +
           ". `totebench hang` writes report.html, which turns in any browser; "
           "`totebench look --film` writes pictures.");
  return kExitBadInput;
}

int look_job(const SceneJob& job, bool film, viz::BagField field) {
  Looked solved;
  std::optional<InterruptGuard> guard(std::in_place);
  {
    ProgressLine line(job.common.quiet);
    const auto on_progress = [&](const studies::HangProgress& progress) {
      line.show(progress);
      return !InterruptGuard::asked_to_stop();
    };
    scenes::Scene once = job.scene;
    once.solve.shapes = 0;
    solved.hung = studies::hang_tote(once, job.library, on_progress, 0);
    if (film && solved.hung.findings.converged()) {
      studies::CarryOptions options;
      options.events = {
          studies::walking(options.cadence_Hz, solved.hung.tote.model.gravity_m_per_s2)};
      options.keep_shapes = true;
      solved.carried = studies::carry_hung(solved.hung, options, on_progress);
    }
  }
  if (!solved.hung.findings.converged()) {
    complain(job.scene.name +
             ": no rest was found under the load, so there is nothing to look at. `totebench hang` "
             "says more.");
    return kExitNotConverged;
  }
  const std::vector<viz::Picture> frames = viz::bag_frames(
      solved.hung.coarse,
      viz::load_rising(solved.hung.coarse, solved.hung.steps, job.scene.contents.mass_kg, field,
                       job.units, kMoments),
      bar_title(field, solved.hung.coarse, solved.hung.steps.back().state, job.units), job.units);
  if (film) return write_films(job, solved, field, frames);
  guard.reset();  // Ctrl-C closes the window
  return open_window(job, frames);
}

}  // namespace

void add_look_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "look", "Open a window on the hung tote, or write films of it with --film");
  auto scene = std::make_shared<std::string>();
  auto film = std::make_shared<bool>(false);
  command->add_option("SCENE", *scene, "Scene file, such as scenes/examples/demo.json")->required();
  command->add_flag(
      "--film", *film,
      "No window: films of the load rising and of a stride that play in a browser, and "
      "as mp4 where ffmpeg is installed");
  auto colour = std::make_shared<std::string>("strength");
  add_colour_option(*command, *colour);
  add_common_options(*command, common);
  command->callback([&common, &exit_code, scene, film, colour] {
    if (common.json) {
      complain("--json: `look` has no numbers for another program; `totebench hang --json` has.");
      exit_code = kExitBadInput;
      return;
    }
    exit_code = work_on_tote(
        *scene, common, "only totes are looked at; `totebench hang` draws sheets.",
        [&](const SceneJob& job) { return look_job(job, *film, viz::bag_field_named(*colour)); });
  });
}

}  // namespace totebench::app
