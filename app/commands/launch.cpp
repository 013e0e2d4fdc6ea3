#include "app/commands/launch.hpp"

#include <algorithm>
#include <cstdlib>

namespace totebench::app {
namespace {

std::string told(const char* variable) {
  const char* value = std::getenv(variable);
  return value == nullptr ? "" : value;
}

// 0 where it is not told, or no number above that.
int number(const char* variable) {
  return static_cast<int>(
      std::clamp(std::strtol(told(variable).c_str(), nullptr, 10), 0L, 1L << 30));
}

// A word without spaces, as it stands in a line of kept work.
std::string one_word(std::string text) {
  std::replace_if(
      text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) <= ' '; }, '-');
  return text;
}

}  // namespace

Launch this_launch() {
  Launch launch;
  const std::string step = told("SLURM_STEP_ID");
  if (number("OMPI_COMM_WORLD_SIZE") > 1) {
    launch.several = true;
    launch.name = told("PMIX_NAMESPACE");
    launch.on_this_machine = std::max(1, number("OMPI_COMM_WORLD_LOCAL_SIZE"));
  } else if (number("SLURM_NTASKS") > 1 && !step.empty()) {
    launch.several = true;
    launch.name = "slurm-" + told("SLURM_JOB_ID") + "." + step;
    launch.processors = std::max(1, number("SLURM_CPUS_PER_TASK"));
  } else if (!told("SLURM_ARRAY_TASK_ID").empty()) {
    launch.several = true;
    launch.name = "slurm-" + told("SLURM_ARRAY_JOB_ID");
    launch.processors = number("SLURM_CPUS_PER_TASK");
  } else if (number("PMI_SIZE") > 1) {
    launch.several = true;
    launch.on_this_machine = std::max(1, number("MPI_LOCALNRANKS"));
  }
  launch.name = one_word(launch.name);
  return launch;
}

}  // namespace totebench::app
