// totebench swatch FILE: from what a maker measured on their own cloth to a material for scenes.
// totebench swatch --worksheet TEST: a page to print that says how to measure.
#include "totebench/scenes/swatch.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>
#include <optional>

#include "app/commands/common.hpp"
#include "app/commands/scene_job.hpp"
#include "app/present/swatch_report.hpp"
#include "totebench/scenes/swatch_fit.hpp"
#include "totebench/studies/side_by_side.hpp"
#include "totebench/viz/atomic_file.hpp"
#include "totebench/viz/swatch_sheet.hpp"

namespace totebench::app {
namespace {

namespace fs = std::filesystem;

int fit_file(const std::string& file, const Common& common) {
  const std::optional<materials::MaterialLibrary> library = load_library();
  if (!library) return kExitBadInput;
  const scenes::SwatchResult read = scenes::read_swatch(file, *library);
  if (!common.quiet || scenes::has_errors(read.diagnostics)) {
    std::fputs(scenes::to_text(read.diagnostics).c_str(), stderr);
  }
  if (!read.swatch) {
    complain("Nothing was fitted.");
    return kExitBadInput;
  }
  scenes::Swatch swatch = *read.swatch;
  if (!common.units.empty()) swatch.units = common.units;  // the fit's remarks speak in them
  const fs::path folder = result_folder(common, "out", swatch.name, file);
  if (const std::string problem = viz::check_writable(folder); !problem.empty()) {
    complain(problem + ". Nothing was fitted.");
    return kExitBadInput;
  }
  if (!common.quiet) complain("Bending and pulling the strips on the solver ...");
  const scenes::SwatchFit fit = scenes::fit_swatch(swatch, *library, studies::side_by_side);
  const std::string& units = swatch.units;
  const std::string json = swatch_json(swatch, fit);
  if (!fit.complete) {
    std::string told;
    for (const scenes::StripFit& strip : fit.strips) {
      if (strip.found) continue;
      told += fmt::format("{}: on the solver no stiffness gives this reading.\n", strip.what);
    }
    tell(common, json,
         told + "No material was written. Check the readings of that test, or leave it out.\n");
    return kExitNotConverged;
  }
  const std::string material = fit.material.id + ".material.json";
  const std::string report = swatch_report(swatch, fit, *library, units, material);
  const viz::Page page = swatch_page(swatch, fit, *library, units, material);
  const viz::Written written = write_texts(folder, {{material, swatch_material_file(swatch, fit)},
                                                    {"report.html", viz::page_html(page)},
                                                    {"swatch.json", json}});
  tell(common, json, report + "\n" + written_text(written, folder));
  return exit_code(written, folder, kExitDone);
}

int print_worksheets(const std::string& test, const Common& common) {
  const fs::path folder = common.out.empty() ? fs::path("out/worksheets") : fs::path(common.out);
  if (const std::string problem = viz::check_writable(folder); !problem.empty()) {
    complain(problem + ". Nothing was written.");
    return kExitBadInput;
  }
  std::vector<std::pair<std::string, std::string>> files;
  for (const std::string& name : viz::worksheet_names()) {
    if (test != "all" && test != name) continue;
    files.emplace_back(name + ".svg", viz::worksheet_svg(name, common.units));
  }
  const viz::Written written = write_texts(folder, files);
  const std::string told =
      "Print at 100 %, not fitted to the page.\n\n" + written_text(written, folder);
  std::fputs(told.c_str(), common.json ? stderr : stdout);
  return exit_code(written, folder, kExitDone);
}

int swatch(const std::string& file, const std::string& test, const Common& common) {
  if (file.empty() == test.empty()) {
    complain(file.empty() ? "Give a swatch file, or --worksheet TEST for a page that says how to "
                            "measure (try --worksheet all)."
                          : "Give either a swatch file or --worksheet, not both.");
    return kExitBadInput;
  }
  return file.empty() ? print_worksheets(test, common) : fit_file(file, common);
}

}  // namespace

void add_swatch_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command = app.add_subcommand(
      "swatch", "Make a material of your own cloth from tests with a ruler and a kitchen scale");
  auto file = std::make_shared<std::string>();
  auto test = std::make_shared<std::string>();
  command->add_option("FILE", *file, "Swatch file with the readings");
  std::vector<std::string> tests = viz::worksheet_names();
  tests.emplace_back("all");
  command
      ->add_option("--worksheet", *test,
                   "Write a page to print that says how to do a test, with blanks to fill in")
      ->check(CLI::IsMember(tests));
  add_common_options(*command, common);
  command->callback(
      [&common, &exit_code, file, test] { exit_code = swatch(*file, *test, common); });
}

}  // namespace totebench::app
