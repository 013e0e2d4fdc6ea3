// What every command of `totebench` shares: its options, its exit codes, and how it joins the
// command line. A command is one file beside this one with one function
// add_<name>_command(app, common, exit_code); command_line.cpp calls them all.
#pragma once

#include <string>

namespace CLI {  // NOLINT(readability-identifier-naming): the library's own name
class App;
}

namespace totebench::app {

struct Common {
  std::string out;     // --out DIR; empty = out/<scene name>
  std::string units;   // --units in|cm|si; empty = the scene's own
  bool json = false;   // --json: machine output on stdout, everything else on stderr
  bool quiet = false;  // --quiet: no progress, no remarks; the result and errors only
};

enum ExitCode : int {
  kExitDone = 0,
  kExitDefect = 1,       // a defect of ours
  kExitBadInput = 2,     // the scene, the command line or the output folder
  kExitNotConverged = 3  // no equilibrium; the last good state is written
};

// Does what the command line asks for. Never throws.
[[nodiscard]] int run_command_line(int argc, char** argv);

// Adds --out, --units, --json and --quiet to one subcommand.
void add_common_options(CLI::App& command, Common& common);

// --together, for commands whose work several processes can share; set also where a launcher
// started several (launch.hpp).
void add_together_option(CLI::App& command, bool& together);

// --colour FIELD; `colour` stays as it is when that is not given. See bag_field_named().
void add_colour_option(CLI::App& command, std::string& colour);

// Each adds its subcommand to `app`. When the person picks it, it runs while the command line is
// parsed and leaves its exit code in `exit_code`. `common` and `exit_code` outlive the parse.
void add_hang_command(CLI::App& app, Common& common, int& exit_code);
void add_carry_command(CLI::App& app, Common& common, int& exit_code);
void add_check_command(CLI::App& app, Common& common, int& exit_code);
void add_choose_command(CLI::App& app, Common& common, int& exit_code);
void add_compare_command(CLI::App& app, Common& common, int& exit_code);
void add_cutlist_command(CLI::App& app, Common& common, int& exit_code);
void add_draft_command(CLI::App& app, Common& common, int& exit_code);
void add_explain_command(CLI::App& app, Common& common, int& exit_code);
void add_look_command(CLI::App& app, Common& common, int& exit_code);
void add_pieces_command(CLI::App& app, Common& common, int& exit_code);
void add_rate_command(CLI::App& app, Common& common, int& exit_code);
void add_materials_command(CLI::App& app, Common& common, int& exit_code);
void add_stand_command(CLI::App& app, Common& common, int& exit_code);
void add_strap_ends_command(CLI::App& app, Common& common, int& exit_code);
void add_unzip_command(CLI::App& app, Common& common, int& exit_code);
void add_sweep_command(CLI::App& app, Common& common, int& exit_code);
void add_wear_command(CLI::App& app, Common& common, int& exit_code);
void add_swatch_command(CLI::App& app, Common& common, int& exit_code);

}  // namespace totebench::app
