// totebench rate SCENE: what fails first, at what load, and how much to trust the bag with. The
// study is in rate_study.cpp, the words in rate_report.cpp.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cctype>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <optional>
#include <stdexcept>

#include "app/common.hpp"
#include "app/interrupt.hpp"
#include "app/progress_line.hpp"
#include "app/rate_report.hpp"
#include "scenes/reader.hpp"
#include "viz/atomic_file.hpp"

namespace totebench {
namespace {

namespace fs = std::filesystem;

struct RateArguments {
  std::string scene;
  std::optional<double> factor;
  std::optional<int> samples;
  bool no_changes = false;
};

void complain(const std::string& text) { std::fputs((text + "\n").c_str(), stderr); }

std::string folder_name(const std::string& name, const std::string& file) {
  std::string safe = name.empty() ? fs::path(file).stem().string() : name;
  for (char& c : safe) {
    if (std::isalnum(static_cast<unsigned char>(c)) == 0 && c != '.' && c != '_') c = '-';
  }
  return safe.find_first_not_of(".-") == std::string::npos ? "scene" : safe;
}

int rate(const RateArguments& arguments, const Common& common) {
  MaterialLibrary library;
  try {
    library = MaterialLibrary::load();
  } catch (const std::runtime_error& error) {
    complain(error.what());
    return kExitBadInput;
  }
  ReadResult read = read_scene(arguments.scene, library);
  if (!common.quiet || has_errors(read.diagnostics)) {
    std::fputs(to_text(read.diagnostics).c_str(), stderr);
  }
  if (!read.scene) {
    complain("Nothing was rated.");
    return kExitBadInput;
  }
  const Scene& scene = *read.scene;
  if (scene.kind != SceneKind::kTote) {
    complain(arguments.scene +
             ": error: only a tote can be rated; this is a sheet. Nothing was "
             "rated.");
    return kExitBadInput;
  }
  const std::string units = common.units.empty() ? scene.units : common.units;
  const fs::path folder = common.out.empty()
                              ? fs::path("out") / folder_name(scene.name, arguments.scene)
                              : fs::path(common.out);
  const std::string problem = check_writable(folder);
  if (!problem.empty()) {
    complain(problem + ". Nothing was rated.");
    return kExitBadInput;
  }
  RateOptions options;
  options.design_factor = arguments.factor.value_or(scene.rating.design_factor);
  options.samples = arguments.samples.value_or(scene.rating.samples);
  options.seed = scene.rating.seed;
  options.changes = !arguments.no_changes;
  options.samples_file = (folder / "rating.samples").string();
  RateResult result;
  try {
    const MaterialLibrary own = library_of(scene, library);
    const InterruptGuard guard;
    ProgressLine line(common.quiet);
    result = rate_tote(scene, own, options, [&](const HangProgress& progress) {
      line.show(progress);
      return !InterruptGuard::asked_to_stop();
    });
  } catch (const std::invalid_argument& error) {  // what only the builder can judge
    complain(arguments.scene + ": error: " + error.what() + "\nNothing was rated.");
    return kExitBadInput;
  }
  const std::string json = rating_json(scene, result);
  std::vector<std::string> files;
  for (const auto& [name, text] : {std::pair<std::string, std::string>{"rating.json", json},
                                   {"scene.resolved.json", resolved_json(scene)}}) {
    const std::string wrong = write_text_atomically(folder / name, text);
    if (wrong.empty()) {
      files.push_back(name);
    } else {
      complain("Note: " + wrong);
    }
  }
  const std::string report = rate_report(scene, result, units, files, folder.string());
  if (common.json) std::fputs(json.c_str(), stdout);
  if (!common.json || !common.quiet) std::fputs(report.c_str(), common.json ? stderr : stdout);
  return result.hang.findings.converged() && !result.interrupted ? kExitDone : kExitNotConverged;
}

}  // namespace

void add_rate_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "rate", "What fails first, at what load, and a cautious rated mass for the bag");
  auto arguments = std::make_shared<RateArguments>();
  command->add_option("SCENE", arguments->scene, "Scene file, such as scenes/examples/demo.json")
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
  add_common_options(*command, common);
  command->callback([&common, &exit_code, arguments] { exit_code = rate(*arguments, common); });
}

}  // namespace totebench
