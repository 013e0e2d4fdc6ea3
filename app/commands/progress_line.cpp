#include "app/commands/progress_line.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>

namespace totebench::app {

ProgressLine::ProgressLine(bool quiet) : quiet_(quiet), terminal_(isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
  if (!quiet_ && terminal_ && shown_) std::fputs("\r\033[K", stderr);
}

void ProgressLine::show(const studies::HangProgress& progress) {
  if (quiet_) return;
  if (terminal_) {
    const std::string line = fmt::format("{}: step {}, residual {:.1e} of the load", progress.stage,
                                         progress.step.iteration, progress.step.residual_relative);
    std::fputs(("\r\033[K" + line).c_str(), stderr);
    std::fflush(stderr);
  } else if (stages_.insert(progress.stage).second) {
    std::fputs((progress.stage + "\n").c_str(), stderr);
  }
  shown_ = true;
}

}  // namespace totebench::app
