// totebench compare SCENE...: hangs every scene and every variant it names, and lays them side by
// side. The study is in app/studies/compare/, the words in app/present/compare_report.cpp.
#include "totebench/studies/compare.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <set>

#include "app/commands/interrupt.hpp"
#include "app/commands/scene_job.hpp"
#include "app/commands/watched.hpp"
#include "app/present/compare_report.hpp"
#include "app/present/lesson_handout.hpp"
#include "app/present/report_page.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/viz/atomic_file.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::app {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostBags = 12;

// All bags of all files; what is wrong has been said on stderr when there is nothing.
std::vector<scenes::Scene> read_bags(const std::vector<std::string>& files,
                                     const materials::MaterialLibrary& library,
                                     const Common& common) {
  std::vector<scenes::Scene> bags;
  bool wrong = false;
  std::set<std::string> names;
  for (const std::string& file : files) {
    scenes::ReadResult read = scenes::read_scene(file, library);
    if (!common.quiet || scenes::has_errors(read.diagnostics)) {
      std::fputs(scenes::to_text(read.diagnostics).c_str(), stderr);
    }
    if (!read.scene) {
      wrong = true;
      continue;
    }
    if (read.scene->kind != scenes::SceneKind::kTote) {
      complain(file + ": error: this is a sheet; only totes can be compared");
      wrong = true;
      continue;
    }
    std::vector<scenes::Scene> all = std::move(read.variants);
    all.insert(all.begin(), std::move(*read.scene));
    for (scenes::Scene& scene : all) {
      if (scene.name.empty()) scene.name = fs::path(file).stem().string();
      if (names.count(scene.name) > 0) {
        scene.name = fs::path(file).stem().string() + ": " + scene.name;
      }
      if (!names.insert(scene.name).second) {
        complain(
            fmt::format("{}: error: there are two bags named \"{}\"\n    give each a name of "
                        "its own",
                        file, scene.name));
        wrong = true;
      }
      bags.push_back(std::move(scene));
    }
  }
  if (wrong) return {};
  if (bags.size() < 2) {
    complain(
        fmt::format("{}: error: there is only one bag to compare\n    name a second scene, or "
                    "give this one \"variants\" (see totebench explain variants)",
                    files.front()));
    return {};
  }
  if (bags.size() > kMostBags) {
    complain(fmt::format("error: {} bags are more than fit side by side; {} are possible",
                         bags.size(), kMostBags));
    return {};
  }
  return bags;
}

viz::Written write_files(const studies::Comparison& comparison,
                         const materials::MaterialLibrary& library, const std::string& json,
                         const std::string& units, bool letters_alone, const fs::path& folder) {
  std::vector<viz::ComparedView> views;
  for (std::size_t i = 0; i < comparison.bags.size(); ++i) {
    if (InterruptGuard::asked_to_stop()) break;  // drawing takes seconds
    const studies::ComparedBag& bag = comparison.bags[i];
    // A handout's picture does not show names of files.
    const std::string letter(1, static_cast<char>('A' + i));
    const std::string label = letters_alone ? letter : letter + "  " + bag.scene.name;
    views.push_back({label, bag.result.tote, bag.result.empty.x, bag.result.loaded.x,
                     bag.result.findings.loaded_fields, bag.result.findings.bottom_sag_m,
                     bag.result.findings.overall_lengthening_m, bag.result.findings.converged()});
  }
  viz::Written written = viz::write_comparison_files(
      {{"comparison.json", json},
       {"compare.svg", viz::bar_chart_svg(comparison_charts(comparison, units).front())}},
      views, units, folder);
  const viz::Page page = comparison_page(comparison, library, units, json, written.picture_png);
  add(written, write_texts(folder, {{"report.html", viz::page_html(page)}}));
  return written;
}

void write_handout(const studies::Comparison& comparison, const materials::MaterialLibrary& library,
                   const std::string& units, const fs::path& folder, viz::Written& written) {
  const auto base = base_alone(comparison, library, [](const studies::HangProgress&) {
    return !InterruptGuard::asked_to_stop();
  });
  add(written,
      write_texts(folder, {{"handout.html", viz::page_html(lesson_page(comparison, base, units,
                                                                       written.picture_png))}}));
}

struct CompareOptions {
  bool handout = false;
  bool with_ranges = true;
};

int compare(const std::vector<std::string>& files, const CompareOptions& options,
            const Common& common) {
  const auto library = load_library();
  if (!library) return kExitBadInput;
  const std::vector<scenes::Scene> bags = read_bags(files, *library, common);
  if (bags.empty()) {
    complain("Nothing was solved.");
    return kExitBadInput;
  }
  const std::string units = common.units.empty() ? bags.front().units : common.units;
  const fs::path folder =
      result_folder(common, "out", "compare-" + bags.front().name, files.front());
  const std::string problem = viz::check_writable(folder);
  if (!problem.empty()) {
    complain(problem + ". Nothing was solved.");
    return kExitBadInput;
  }
  const studies::Comparison comparison =
      watched(common, [&](const studies::OnHangProgress& on_progress) {
        return studies::compare_totes(bags, *library, units, on_progress, options.with_ranges);
      });
  const std::string json = comparison_json(comparison);
  viz::Written written = write_files(comparison, *library, json, units, options.handout, folder);
  if (options.handout) write_handout(comparison, *library, units, folder, written);
  const std::string report = comparison_report(comparison, units, written, folder.string());
  tell(common, json, report);
  const bool done = comparison.all_converged() && comparison.bags.size() == bags.size();
  return exit_code(written, folder, done ? kExitDone : kExitNotConverged);
}

}  // namespace

void add_compare_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "compare", "Lay bags side by side: one picture, one table with differences, one chart");
  const auto files = std::make_shared<std::vector<std::string>>();
  command
      ->add_option("SCENE", *files,
                   "Scene files; each brings the bag it describes and its \"variants\"")
      ->required();
  const auto options = std::make_shared<CompareOptions>();
  command->add_flag(
      "--handout", options->handout,
      "A page for a classroom as well: guess, look, and why the base needs a stiffener");
  command->add_flag("!--no-ranges", options->with_ranges,
                    "Without the scatter of the material data, which takes most of the time");
  add_common_options(*command, common);
  command->callback(
      [&common, &exit_code, files, options] { exit_code = compare(*files, *options, common); });
}

}  // namespace totebench::app
