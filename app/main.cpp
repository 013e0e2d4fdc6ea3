// totebench: how a layered soft tote hangs under a load.
#include "app/commands/common.hpp"
#include "app/commands/process.hpp"

int main(int argc, char** argv) {
  totebench::app::tune_process();
  return totebench::app::run_command_line(argc, argv);
}
