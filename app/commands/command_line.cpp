// The command line of `totebench` and its exit codes. Each command is in command_<name>.cpp.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cstdio>
#include <exception>
#include <string>
#include <utility>
#include <vector>

#include "app/commands/common.hpp"
#include "app/commands/launch.hpp"
#include "totebench/scenes/nearest.hpp"
#include "totebench/viz/bag_field.hpp"

namespace totebench::app {

void add_common_options(CLI::App& command, Common& common) {
  command.add_option("--out", common.out, "Folder for the results (default: out/<scene name>)")
      ->check(CLI::Validator(
          [](const std::string& folder) { return folder.empty() ? "name a folder" : ""; }, ""));
  command.add_option("--units", common.units, "Show lengths and forces in: in, cm or si")
      ->check(CLI::IsMember({"in", "cm", "si"}));
  command.add_flag("--json", common.json, "Machine output on stdout, everything else on stderr");
  command.add_flag("--quiet", common.quiet, "No progress and no remarks");
}

void add_together_option(CLI::App& command, bool& together) {
  together = this_launch().several;
  command.add_flag("--together", together,
                   "Share the work with every other process of this command that has the same "
                   "output folder, here or on another machine; on by itself under mpirun, srun and "
                   "in a job array");
}

void add_colour_option(CLI::App& command, std::string& colour) {
  command
      .add_option(
          "--colour", colour,
          "What the cloth is coloured by: strength (share of the cloth's used, the default), force "
          "(in the cloth), curvature, pressure (of the contents)")
      ->check(CLI::IsMember(viz::bag_field_names()));
}

namespace {

// Help lists the commands by what a person wants.
void group_commands(CLI::App& app) {
  const std::pair<const char*, std::vector<const char*>> groups[] = {
      {"To begin", {"draft", "check", "explain", "materials", "swatch", "pieces"}},
      {"To see how a bag hangs and stands", {"hang", "stand", "look", "compare"}},
      {"To decide how to make it", {"choose", "sweep", "strap-ends", "cutlist"}},
      {"To know what it holds, and for how long", {"rate", "unzip", "carry", "wear"}}};
  for (const auto& [group, names] : groups) {
    for (const char* name : names) app.get_subcommand(name)->group(group);
  }
}

std::string meant(const std::string& typed, const std::vector<std::string>& known) {
  const std::string near = scenes::nearest(typed, known);
  return near.empty() ? "" : "did you mean " + near + "? ";
}

// The parser would only say that a command is missing.
std::string unknown_command(const CLI::App& app, int argc, char** argv) {
  if (argc < 2 || argv[1][0] == '-' || argv[1][0] == '\0') return "";
  std::vector<std::string> known;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    if (command->get_name() == argv[1]) return "";
    known.push_back(command->get_name());
  }
  return fmt::format("totebench has no command \"{}\"; {}It has {}.", argv[1],
                     meant(argv[1], known), fmt::join(known, ", "));
}

// What is left over when a command has taken what it knows.
std::string unknown_words(const CLI::App& app) {
  const auto picked = app.get_subcommands();
  if (picked.empty() || !app.remaining().empty()) {
    return fmt::format("\"{}\" belongs after a command, or nowhere; `totebench --help` lists them.",
                       app.remaining().front());
  }
  const CLI::App& command = *picked.front();
  const std::string name = "totebench " + command.get_name();
  std::vector<std::string> left = command.remaining(), known;
  const auto option = std::find_if(left.begin(), left.end(),
                                   [](const std::string& word) { return word.starts_with('-'); });
  if (option == left.end()) {
    return fmt::format("{} has no use for \"{}\"; `{} --help` says what it takes.", name,
                       left.front(), name);
  }
  for (const CLI::Option* one : command.get_options()) {
    for (const std::string& word : one->get_lnames()) known.push_back("--" + word);
  }
  const std::string typed = option->substr(0, option->find('='));
  return fmt::format("{} has no option \"{}\"; {}`{} --help` lists those it has.", name, typed,
                     meant(typed, known), name);
}

// `code`, unless what was to be said on standard output did not all get there.
int told_all(int code) {
  if (std::fflush(stdout) == 0 && std::ferror(stdout) == 0) return code;
  std::fputs("totebench: error: standard output could not be written (closed, or no room)\n",
             stderr);
  return kExitBadInput;
}

}  // namespace

int run_command_line(int argc, char** argv) {
  CLI::App app{"A physics bench for layered soft totes: what holds, what sags, what fails first."};
  app.name("totebench");
  app.set_help_flag("-h,--help", "Show this help");
  app.set_version_flag("--version", TOTEBENCH_VERSION, "Show the version");
  app.require_subcommand(1);
  app.get_formatter()->label("SUBCOMMAND", "COMMAND");
  Common common;
  int exit_code = kExitDone;
  // In the order in which help lists them.
  for (const auto add :
       {add_draft_command, add_check_command, add_explain_command, add_materials_command,
        add_swatch_command, add_hang_command, add_stand_command, add_look_command,
        add_compare_command, add_choose_command, add_sweep_command, add_strap_ends_command,
        add_cutlist_command, add_pieces_command, add_rate_command, add_unzip_command,
        add_carry_command, add_wear_command}) {
    add(app, common, exit_code);
  }
  group_commands(app);
  app.footer("Run `totebench COMMAND --help` for a command's own options.");  // not under its own
  if (argc == 1) {  // what there is, by what one wants
    std::fputs(app.help().c_str(), stdout);
    return told_all(kExitDone);
  }
  if (const std::string problem = unknown_command(app, argc, argv); !problem.empty()) {
    std::fprintf(stderr, "%s\n", problem.c_str());
    return kExitBadInput;
  }
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    const bool extra = error.get_exit_code() == static_cast<int>(CLI::ExitCodes::ExtrasError);
    const bool commandless = error.get_exit_code() != 0 && app.get_subcommands().empty();
    if ((extra || commandless) && !app.remaining(true).empty()) {
      std::fprintf(stderr, "%s\n", unknown_words(app).c_str());
      return kExitBadInput;
    }
    // Help and version are "errors" of code 0 to the parser; all others are a slip of the caller.
    return told_all(app.exit(error) == 0 ? kExitDone : kExitBadInput);
  } catch (const std::exception& error) {
    if (std::ferror(stdout) != 0) return told_all(kExitBadInput);
    std::fprintf(stderr, "totebench: a defect of ours, please report it: %s\n", error.what());
    return kExitDefect;
  }
  return told_all(exit_code);
}

}  // namespace totebench::app
