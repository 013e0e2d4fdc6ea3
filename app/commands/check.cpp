// totebench check: is a scene well described? Nothing is solved.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <memory>
#include <nlohmann/json.hpp>

#include "app/commands/common.hpp"
#include "app/present/check_report.hpp"
#include "totebench/scenes/explain.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/viz/surface_file.hpp"

namespace totebench::app {
namespace {

using Json = nlohmann::ordered_json;

// To stdout, as the answer to what was asked; the summary comes first.
void print_plain(const std::string& file, const scenes::ReadResult& read,
                 const materials::MaterialLibrary& library, const Common& common) {
  std::string out;
  if (read.scene) {
    out += fmt::format(
        "{}: {}\n", file,
        scenes::summary(*read.scene, scenes::library_of(*read.scene, library), common.units));
  }
  out += scenes::to_text(read.diagnostics);
  if (read.diagnostics.empty()) out += "No faults found.\n";
  std::fputs(out.c_str(), read.scene ? stdout : stderr);
}

int run_check(const std::vector<std::string>& files, const Common& common) {
  materials::MaterialLibrary library;
  try {
    library = materials::MaterialLibrary::load();
  } catch (const std::runtime_error& error) {
    fmt::print(stderr, "totebench: {}\n", error.what());
    return kExitBadInput;
  }
  int exit_code = kExitDone;
  Json all = Json::array();
  for (const std::string& file : files) {
    const scenes::ReadResult read = scenes::read_scene(file, library, viz::read_surface_file);
    if (!read.scene) exit_code = kExitBadInput;
    if (common.json) {
      all.push_back(check_tree(file, read, library, common.units));
    } else if (!common.quiet || !read.scene) {
      print_plain(file, read, library, common);
    }
  }
  if (common.json) {
    const std::string text = all.dump(2, ' ', false, Json::error_handler_t::replace);
    fmt::print("{}\n", text);
  }
  return exit_code;
}

}  // namespace

void add_check_command(CLI::App& app, Common& common, int& exit_code) {
  CLI::App* command =
      app.add_subcommand("check", "Say whether a scene is well described; nothing is solved");
  const auto files = std::make_shared<std::vector<std::string>>();
  command->add_option("scene", *files, "Scene files")->required();
  add_common_options(*command, common);
  command->callback([files, &common, &exit_code] { exit_code = run_check(*files, common); });
}

}  // namespace totebench::app
