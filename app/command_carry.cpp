// totebench carry SCENE: picks the bag up, walks with it and takes the stairs, in time; says how
// much more than hanging still that asks of the straps. The study is in carry_study.cpp.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cmath>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "app/carry_study.hpp"
#include "app/common.hpp"
#include "app/hang_report.hpp"
#include "app/interrupt.hpp"
#include "app/progress_line.hpp"
#include "app/scene_job.hpp"
#include "app/text_table.hpp"
#include "scenes/utilisation.hpp"
#include "viz/atomic_file.hpp"
#include "viz/unit_text.hpp"

namespace totebench {
namespace {

using Json = nlohmann::ordered_json;

std::string report_of(const SceneJob& job, const CarryResult& result, const CarryOptions& options) {
  const std::string& units = job.units;
  const std::string name = job.scene.name.empty() ? "The tote" : job.scene.name;
  const CarryEventResult* hardest = nullptr;
  for (const CarryEventResult& event : result.events) {
    if (event.complete && (!hardest || event.dynamic_factor > hardest->dynamic_factor)) {
      hardest = &event;
    }
  }
  std::string text = fmt::format("{} {} bounces {} times a second on its straps", name,
                                 load_text(job.scene, units), number_text(result.bounce_Hz));
  if (hardest != nullptr) {
    text += fmt::format(
        "; of what was tried, {} asks most: {} times the weight on the hand, {} "
        "times the still pull on the hardest pulled stitch",
        hardest->name, number_text(hardest->dynamic_factor), number_text(hardest->stitch_factor));
  }
  text += ".\n\n";
  const ShownUnit force = force_unit(units);
  TextTable table = {{"carried", "on the hand", "on the floor", "peak stitch, " + force.name,
                      "times still", "largest sag", "load data"}};
  table.push_back({"hanging still", "1", "", number_text(result.still_stitch_N * force.per_SI), "1",
                   length_text(result.still.findings.bottom_sag_m, units), ""});
  for (const CarryEventResult& event : result.events) {
    if (!event.complete) {
      table.push_back({event.name, "not finished", "", "", "", "", event.source});
      continue;
    }
    table.push_back({event.name, number_text(event.dynamic_factor),
                     event.floor_factor > 0 ? number_text(event.floor_factor) : "",
                     number_text(event.peak_stitch_N * force.per_SI),
                     number_text(event.stitch_factor), length_text(event.bottom_sag_m, units),
                     event.source});
  }
  text += table_text(table) + "On the hand, on the floor: peak force in times the weight.\n";
  text += fmt::format(
      "\nLowest sway {} Hz; the bounce moves {:.0f} % of the mass. Damping {} of critical at the "
      "bounce (estimate). {} triangles, steps of {:.1f} ms.\n",
      number_text(result.sway_Hz), 100 * result.bounce_mass_share,
      number_text(options.damping_ratio), result.still.findings.triangles,
      1e3 * result.time_step_s);
  return text;
}

const std::vector<std::string>& carry_cautions() {
  static const std::vector<std::string> cautions = {
      "The arm is taken as stiff and the contents as moving with the cloth they rest on; a soft "
      "arm eases, shifting contents and a slack strap pulled tight add.",
      "Set down, ground and contents together are taken to give 5 mm under the weight (estimate); "
      "on "
      "hard ground with hard contents the blow on the base is harder. Feet are not in it, nor are "
      "knocks, and how slack straps whip is followed but roughly.",
      "The mesh is the coarse one: read the factors rather than the forces."};
  return cautions;
}

Json json_of(const Scene& scene, const CarryResult& result, const CarryOptions& options,
             const std::vector<std::string>& cautions) {
  Json json = {{"schema_version", 1},
               {"kind", "carry"},
               {"name", scene.name},
               {"cadence_Hz", options.cadence_Hz},
               {"damping_ratio", options.damping_ratio},
               {"weight_N", result.still.findings.weight_N},
               {"bounce_Hz", result.bounce_Hz},
               {"bounce_mass_share", result.bounce_mass_share},
               {"time_step_s", result.time_step_s},
               {"still_peak_stitch_N", result.still_stitch_N},
               {"still_bottom_sag_m", result.still.findings.bottom_sag_m}};
  json["modes"] = Json::array();
  for (const Mode& mode : result.modes) {
    json["modes"].push_back(
        {{"frequency_Hz", mode.frequency_Hz},
         {"mass_share", {mode.mass_share.x(), mode.mass_share.y(), mode.mass_share.z()}}});
  }
  json["events"] = Json::array();
  for (const CarryEventResult& event : result.events) {
    json["events"].push_back({{"name", event.name},
                              {"source", event.source},
                              {"complete", event.complete},
                              {"dynamic_factor", event.dynamic_factor},
                              {"floor_factor", event.floor_factor},
                              {"peak_stitch_N", event.peak_stitch_N},
                              {"stitch_factor", event.stitch_factor},
                              {"bottom_sag_m", event.bottom_sag_m}});
  }
  json["cautions"] = cautions;
  return json;
}

std::string csv_of(const CarryResult& result) {
  std::string text = "event,time_s,support_force_N,floor_force_N,peak_stitch_N,bottom_sag_m\n";
  for (const CarryEventResult& event : result.events) {
    for (const CarrySample& sample : event.samples) {
      text += fmt::format("\"{}\",{:.6g},{:.6g},{:.6g},{:.6g},{:.6g}\n", event.name, sample.time_s,
                          sample.support_force_N, sample.floor_force_N, sample.peak_stitch_N,
                          sample.bottom_sag_m);
    }
  }
  return text;
}

int carry_job(const SceneJob& job, const CarryOptions& options) {
  CarryResult result;
  {
    const InterruptGuard guard;
    ProgressLine line(job.common.quiet);
    result = carry_tote(job.scene, job.library, options, [&](const HangProgress& progress) {
      line.show(progress);
      return !InterruptGuard::asked_to_stop();
    });
  }
  if (result.events.empty()) {
    complain(
        fmt::format("{}: the bag came to no stable rest under its load, so it was not carried. "
                    "`totebench hang` says more.",
                    job.scene.name));
    return kExitNotConverged;
  }
  bool whole = true;
  for (const CarryEventResult& event : result.events) whole = whole && event.complete;
  std::vector<std::string> cautions = carry_cautions();
  cautions.insert(cautions.end(), result.still.findings.cautions.begin(),
                  result.still.findings.cautions.end());
  std::erase(cautions, kSteadyLoad);
  const std::string json = json_of(job.scene, result, options, cautions).dump(2) + "\n";
  std::string report = report_of(job, result, options);
  for (const auto& [name, text] :
       {std::pair<std::string, std::string>{"carry.json", json}, {"carry.csv", csv_of(result)}}) {
    const std::string problem = write_text_atomically(job.folder / name, text);
    report += problem.empty() ? fmt::format("{}{}/{}", name == "carry.json" ? "\nWritten: " : ", ",
                                            job.folder.string(), name)
                              : "\nNote: " + problem;
  }
  tell(job.common, json, report + "\n" + cautions_text(cautions));
  return whole ? kExitDone : kExitNotConverged;
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
  auto options = std::make_shared<CarryOptions>();
  auto cadence = std::make_shared<double>(60 * options->cadence_Hz);
  command->add_option("SCENE", *scene, "Scene file, such as scenes/examples/demo.json")->required();
  command->add_option("--cadence", *cadence, "Steps a minute (default 120)")
      ->check(CLI::Range(60.0, 180.0) & CLI::Validator(is_number, ""));
  command
      ->add_option("--damping", options->damping_ratio,
                   "Share of critical damping at the bounce (default 0.05)")
      ->check(CLI::Range(0.0, 0.5) & CLI::Validator(is_number, ""));
  add_common_options(*command, common);
  command->callback([&common, &exit_code, scene, options, cadence] {
    options->cadence_Hz = *cadence / 60;
    exit_code =
        work_on_tote(*scene, common, "a sheet cannot be carried; give a scene of kind \"tote\".",
                     [&](const SceneJob& job) { return carry_job(job, *options); });
  });
}

}  // namespace totebench
