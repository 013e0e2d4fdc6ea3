// totebench: how a layered soft tote hangs under a load.
#include "app/common.hpp"

int main(int argc, char** argv) { return totebench::run_command_line(argc, argv); }
