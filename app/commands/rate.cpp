// totebench rate SCENE: what fails first, at what load, and how much to trust the bag with. The
// study is in app/studies/rate/, the words in app/present/rate_report.cpp.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <memory>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "app/commands/scene_job.hpp"
#include "app/commands/shared_work.hpp"
#include "app/commands/watched.hpp"
#include "app/present/rate_report.hpp"
#include "app/present/rate_tables.hpp"
#include "totebench/scenes/reader.hpp"

namespace totebench::app {
namespace {

struct RateArguments {
  std::vector<std::string> scenes;
  std::optional<double> factor;
  std::optional<int> samples;
  bool no_changes = false;
  bool together = false;
};

int tell_rating(const SceneJob& job, const studies::RateResult& result) {
  const std::string json = rating_json(job.scene, result);
  viz::Written written;
  if (!result.interrupted) {  // a run that was stopped leaves an earlier rating alone
    std::vector<std::pair<std::string, std::string>> texts = {
        {"rating.json", json}, {"scene.resolved.json", scenes::resolved_json(job.scene)}};
    const viz::Page page = rate_page(job.scene, result, job.library, job.units, json);
    texts.insert(texts.begin(), {"report.html", viz::page_html(page)});
    written = write_texts(job.folder, texts);
  }
  tell(job.common, json, rate_report(job.scene, result, job.units, written, job.folder.string()));
  return exit_code(written, job.folder, result.rated() ? kExitDone : kExitNotConverged);
}

// `told` takes a row for the table of several bags where this process tells the rating.
int rate_job(const SceneJob& job, const RateArguments& arguments, TextTable& told) {
  studies::RateOptions options;
  options.design_factor = arguments.factor.value_or(job.scene.rating.design_factor);
  options.samples = arguments.samples.value_or(job.scene.rating.samples);
  options.seed = job.scene.rating.seed;
  options.changes = !arguments.no_changes;
  const auto kept = open_kept((job.folder / "rating.samples").string(),
                              "totebench " TOTEBENCH_VERSION " samples 3", arguments.together);
  if (!kept) return kExitBadInput;
  options.kept = kept->work();
  const studies::RateResult result =
      watched(job.common, [&](const studies::OnHangProgress& on_progress) {
        return studies::rate_tote(job.scene, job.library, options, on_progress);
      });
  const auto tell_it = [&] {
    told.push_back(rated_row(job.scene, result, job.units));
    return tell_rating(job, result);
  };
  if (result.interrupted) return tell_it();
  const std::string what =
      fmt::format("{} {} {} {} {}", scenes::resolved_json(job.scene), options.design_factor,
                  options.samples, options.seed, options.changes);
  return tell_once(*kept, what, tell_it);
}

// Each in a folder of its own, and all in one table at the end.
int rate_several(const RateArguments& arguments, const Common& common) {
  if (common.json) {
    complain("error: --json tells of one bag; give one scene at a time");
    return kExitBadInput;
  }
  Common each = common;
  each.out.clear();
  const std::string above = common.out.empty() ? "out" : common.out;
  std::vector<SceneJob> jobs;  // all are read before the first is solved
  std::set<std::filesystem::path> folders;
  for (const std::string& file : arguments.scenes) {
    std::optional<SceneJob> job = open_scene(file, each, above);
    if (!job) return kExitBadInput;
    if (job->scene.kind != scenes::SceneKind::kTote) {
      complain(file + ": error: only a tote can be rated; this is a sheet. Nothing was solved.");
      return kExitBadInput;
    }
    if (!folders.insert(job->folder).second) {
      complain(file + ": error: there are two bags of this name\n    give each a name of its own");
      return kExitBadInput;
    }
    jobs.push_back(std::move(*job));
  }
  TextTable table = rated_head();
  int code = kExitDone;
  for (const SceneJob& job : jobs) {
    const std::size_t before = table.size();
    const int one = rate_job(job, arguments, table);
    if (one != kExitDone) code = one;
    if (table.size() == before) continue;
    std::fputs("\n", stdout);
    if (one == kExitNotConverged && table.back().back() == kStoppedCell) break;
  }
  if (table.size() > rated_head().size()) {
    std::fputs(("Side by side:\n\n" + table_text(table)).c_str(), stdout);
  }
  return code;
}

}  // namespace

void add_rate_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "rate", "What fails first, at what load, and a cautious rated mass for the bag");
  auto arguments = std::make_shared<RateArguments>();
  command
      ->add_option("SCENES", arguments->scenes,
                   "Scene file, such as scenes/examples/demo.json, or several")
      ->required();
  command
      ->add_option("--factor", arguments->factor,
                   "Design factor, at least 1 (default: the scene's rating.design_factor)")
      ->check([](const std::string& text) {
        char* end = nullptr;
        const double value = std::strtod(text.c_str(), &end);
        if (end == text.c_str() || *end != '\0' || !(value >= 1) || value > 50) {
          return std::string(
              "must be a number from 1 to 50: below 1 the bag would be rated above "
              "the load that breaks it");
        }
        return std::string();
      });
  command
      ->add_option("--samples", arguments->samples,
                   "Bags drawn from the scatter of the data (default: the scene's rating.samples)")
      ->check(CLI::Range(0, 10000));
  command->add_flag("--no-changes", arguments->no_changes,
                    "Do not look for changes that would raise the rating");
  add_together_option(*command, arguments->together);
  add_common_options(*command, common);
  command->callback([&common, &exit_code, arguments] {
    if (arguments->scenes.size() > 1) {
      exit_code = rate_several(*arguments, common);
      return;
    }
    exit_code =
        work_on_tote(arguments->scenes.front(), common,
                     "only a tote can be rated; this is a sheet.", [&](const SceneJob& job) {
                       TextTable unused;
                       return rate_job(job, *arguments, unused);
                     });
  });
}

}  // namespace totebench::app
