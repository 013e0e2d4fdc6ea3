// The command line of `totebench` and its exit codes. Each command is in command_<name>.cpp.
#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>
#include <string>
#include <utility>
#include <vector>

#include "app/commands/common.hpp"
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
      {"To begin", {"draft", "check", "explain", "materials", "swatch"}},
      {"To see how a bag hangs", {"hang", "look", "compare"}},
      {"To decide how to make it", {"choose", "strap-ends", "cutlist"}},
      {"To know what it holds, and for how long", {"rate", "unzip", "carry", "wear"}}};
  for (const auto& [group, names] : groups) {
    for (const char* name : names) app.get_subcommand(name)->group(group);
  }
}

// The parser would only say that a command is missing.
std::string unknown_command(const CLI::App& app, int argc, char** argv) {
  if (argc < 2 || argv[1][0] == '-' || argv[1][0] == '\0') return "";
  std::string known;
  for (const CLI::App* command : app.get_subcommands([](const CLI::App*) { return true; })) {
    if (command->get_name() == argv[1]) return "";
    known += (known.empty() ? "" : ", ") + command->get_name();
  }
  return std::string("totebench has no command \"") + argv[1] + "\"; it has " + known + ".";
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
  app.set_version_flag("--version", TOTEBENCH_VERSION);
  app.require_subcommand(1);
  app.footer("Run `totebench COMMAND --help` for a command's own options.");
  Common common;
  int exit_code = kExitDone;
  // In the order in which help lists them.
  for (const auto add :
       {add_draft_command, add_check_command, add_explain_command, add_materials_command,
        add_swatch_command, add_hang_command, add_look_command, add_compare_command,
        add_choose_command, add_strap_ends_command, add_cutlist_command, add_rate_command,
        add_unzip_command, add_carry_command, add_wear_command}) {
    add(app, common, exit_code);
  }
  group_commands(app);
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
