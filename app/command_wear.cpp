// totebench wear SCENE: how many uses until something wears through, and how far the bag has sagged
// after a day, a month, a year of them. The study is in wear_study.cpp.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "app/common.hpp"
#include "app/hang_report.hpp"
#include "app/interrupt.hpp"
#include "app/progress_line.hpp"
#include "app/scene_job.hpp"
#include "app/text_table.hpp"
#include "app/wear_study.hpp"
#include "scenes/utilisation.hpp"
#include "viz/atomic_file.hpp"
#include "viz/unit_text.hpp"

namespace totebench {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kFoot_m = 0.3048;

std::string walk_text(double walk_m, const std::string& units) {
  return units == "in" ? number_text(walk_m / kFoot_m) + " ft" : number_text(walk_m) + " m";
}

// Two digits are more than the data bear.
std::string uses_text(double uses) {
  if (uses >= kMostUses) return "over 1 000 000";
  if (uses < 1) return "none";
  const double step = std::pow(10.0, std::max(0.0, std::floor(std::log10(uses)) - 1));
  std::string text = fmt::format("{:.0f}", std::floor(uses / step) * step);
  for (int i = static_cast<int>(text.size()) - 3; i > 0; i -= 3) {
    text.insert(static_cast<std::size_t>(i), " ");
  }
  return text;
}

std::string band_text(const WearMode& mode) {
  const std::string low = uses_text(mode.uses_low), high = uses_text(mode.uses_high);
  return low == high ? low : low + " to " + high;
}

std::string share_text(double share) { return fmt::format("{:.0f} %", 100 * share); }

std::string verdict_text(const Scene& scene, const std::string& units, const WearResult& result) {
  const WearMode& first = result.modes.front();
  const std::string test = fmt::format(
      "Carry test of {} uses, {} and {} lift{} each: ", scene.use.uses,
      walk_text(scene.use.walk_m, units), scene.use.lifts, scene.use.lifts == 1 ? "" : "s");
  const std::string band = fmt::format(" ({} wears through after {} uses; data: {})", first.what,
                                       band_text(first), first.grade);
  switch (*result.carry_test) {
    case Verdict::kEndures:
      return test + "pass by these data" + band + ".\n";
    case Verdict::kFails:
      return test + "fail by these data" + band + ".\n";
    case Verdict::kNotDecided:
      break;
  }
  return test + "not decided by the data" + band + ".\n";
}

std::string sentence_of(const SceneJob& job, const WearResult& result) {
  const auto first =
      std::min_element(result.modes.begin(), result.modes.end(),
                       [](const WearMode& a, const WearMode& b) { return a.uses < b.uses; });
  const WearMode& weakest = result.modes.front();
  const std::string name = job.scene.name.empty() ? "The tote" : job.scene.name;
  std::string text = fmt::format("{} {}, carried {:g} times a week: with typical data ", name,
                                 load_text(job.scene, job.units), job.scene.use.times_a_week);
  text += first->uses >= kMostUses
              ? std::string("nothing known wears through in 1 000 000 uses")
              : fmt::format("the first to wear through is {}, after about {} uses", first->what,
                            uses_text(first->uses));
  if (weakest.uses_low < kMostUses) {
    const bool same = first->uses < kMostUses && first->mode == weakest.mode;
    text += fmt::format("; with the weakest, {} could {}", same ? "it" : weakest.what,
                        weakest.uses_low < 1 ? std::string("give way in the first use")
                                             : "wear through after " + uses_text(weakest.uses_low));
  }
  const AgedShape& last = result.shapes.back();
  return text + fmt::format(". After {} the bottom sags {} instead of {}.\n\n", last.after,
                            length_text(last.bottom_sag_m, job.units),
                            length_text(result.fresh.findings.bottom_sag_m, job.units));
}

std::string report_of(const SceneJob& job, const WearResult& result) {
  const std::string& units = job.units;
  const double new_sag = result.fresh.findings.bottom_sag_m;
  std::string text = sentence_of(job, result);
  if (result.carry_test) text += verdict_text(job.scene, units, result) + "\n";

  TextTable modes = {{"wears through", "hanging", "walking", "picked up", "uses", "band", "data"}};
  for (const WearMode& mode : result.modes) {
    modes.push_back({mode.what, share_text(mode.share_still), share_text(mode.share_walking),
                     share_text(mode.share_lifted), uses_text(mode.uses), band_text(mode),
                     mode.grade});
  }
  text += table_text(modes);
  text += fmt::format(
      "Shares of the strength used up. Each use: {:.0f} steps at {} times the weight ({} times the "
      "pull on the hardest stitch), {} lift{} at {} times ({} times).\n\n",
      result.steps_a_use, number_text(result.walking_factor),
      number_text(result.walking_stitch_factor), job.scene.use.lifts,
      job.scene.use.lifts == 1 ? "" : "s", number_text(result.lifted_factor),
      number_text(result.lifted_stitch_factor));

  TextTable shapes = {{"after", "hung loaded for", "bottom sag", "strap drop"}};
  shapes.push_back({"new", "", length_text(new_sag, units),
                    length_text(result.fresh.findings.strap_drop_loaded_m, units)});
  for (const AgedShape& shape : result.shapes) {
    shapes.push_back({shape.after, fmt::format("{} h", number_text(shape.loaded_s / 3600)),
                      length_text(shape.bottom_sag_m, units),
                      length_text(shape.strap_drop_m, units)});
  }
  text += table_text(shapes);
  if (result.softened_sag_m) {
    text += fmt::format(
        "\nIf flexing took half the stiffness of the stabilizer, the bottom of the new bag would "
        "sag "
        "{} (no data say how much it takes).\n",
        length_text(*result.softened_sag_m, units));
  }
  return text;
}

const std::vector<std::string>& wear_cautions() {
  static const std::vector<std::string> cautions = {
      "Nobody has published how sewn cotton seams tire: the slope used is an estimate. Read the "
      "uses as an order of magnitude, and never as a life that is promised.",
      "Rubbing, washing, wet, sunlight and overloads are not in here, and many bags fail by these "
      "first. Look at the strap ends often; throw a bag away at the first broken stitch.",
      "Time under load adds up without recovery in between: the aged bag errs to the limp side.",
      "A result on a carry test says what these data say of it; the test itself decides."};
  return cautions;
}

Json json_of(const Scene& scene, const WearResult& result,
             const std::vector<std::string>& cautions) {
  Json json = {{"schema_version", 1},
               {"kind", "wear"},
               {"name", scene.name},
               {"steps_a_use", result.steps_a_use},
               {"walking_factor", result.walking_factor},
               {"walking_stitch_factor", result.walking_stitch_factor},
               {"lifted_factor", result.lifted_factor},
               {"lifted_stitch_factor", result.lifted_stitch_factor},
               {"most_uses", kMostUses}};
  json["modes"] = Json::array();
  for (const WearMode& mode : result.modes) {
    json["modes"].push_back({{"mode", mode.mode},
                             {"what", mode.what},
                             {"share_still", mode.share_still},
                             {"share_walking", mode.share_walking},
                             {"share_lifted", mode.share_lifted},
                             {"uses", mode.uses},
                             {"uses_low", mode.uses_low},
                             {"uses_high", mode.uses_high},
                             {"grade", mode.grade}});
  }
  json["new"] = {{"bottom_sag_m", result.fresh.findings.bottom_sag_m},
                 {"strap_drop_m", result.fresh.findings.strap_drop_loaded_m}};
  json["aged"] = Json::array();
  for (const AgedShape& shape : result.shapes) {
    json["aged"].push_back({{"after", shape.after},
                            {"days", shape.days},
                            {"loaded_s", shape.loaded_s},
                            {"bottom_sag_m", shape.bottom_sag_m},
                            {"strap_drop_m", shape.strap_drop_m}});
  }
  if (result.softened_sag_m) {
    json["limp_stabilizer"] = {{"bending_share", kSoftenedShare},
                               {"bottom_sag_m", *result.softened_sag_m}};
  }
  if (result.carry_test) {
    const char* verdicts[] = {"pass", "fail", "not decided"};
    json["carry_test"] = {{"uses", scene.use.uses},
                          {"result", verdicts[static_cast<int>(*result.carry_test)]}};
  }
  json["cautions"] = cautions;
  return json;
}

int wear_job(const SceneJob& job) {
  WearResult result;
  {
    const InterruptGuard guard;
    ProgressLine line(job.common.quiet);
    result = wear_tote(job.scene, job.library, [&](const HangProgress& progress) {
      line.show(progress);
      return !InterruptGuard::asked_to_stop();
    });
  }
  if (!result.whole()) {
    complain(
        fmt::format("{}: {} was stopped or found no rest: nothing is said about its wear. "
                    "`totebench hang` and `totebench carry` say more.",
                    job.scene.name, result.not_found.empty() ? "wear" : result.not_found));
    return kExitNotConverged;
  }
  std::vector<std::string> cautions = wear_cautions();
  const auto& general = result.fresh.findings.cautions;
  cautions.insert(cautions.end(), general.begin(), general.end());
  std::erase(cautions, kSteadyLoad);
  const std::string json = json_of(job.scene, result, cautions).dump(2) + "\n";
  std::string report = report_of(job, result);
  const std::string problem = write_text_atomically(job.folder / "wear.json", json);
  report += problem.empty() ? "\nWritten: " + (job.folder / "wear.json").string() + "\n"
                            : "\nNote: " + problem + "\n";
  tell(job.common, json, report + cautions_text(cautions));
  return kExitDone;
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

}  // namespace totebench
