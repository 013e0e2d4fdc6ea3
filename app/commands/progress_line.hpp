// Progress on stderr: one line that renews itself on a terminal; elsewhere a line when a stage
// begins and, while it lasts, every ten seconds. Where the share done is known, with the time left.
#pragma once

#include <chrono>
#include <map>
#include <string>

#include "totebench/studies/hang.hpp"

namespace totebench::app {

class ProgressLine {
 public:
  explicit ProgressLine(bool quiet);
  ~ProgressLine();  // wipes the line
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  void show(const studies::HangProgress& progress);

 private:
  using Clock = std::chrono::steady_clock;

  bool quiet_;
  bool terminal_;
  bool shown_ = false;
  // When each stage began, by its name without counts; some run side by side.
  std::map<std::string, Clock::time_point> begun_;
  Clock::time_point last_line_;
};

// ", 25 % done, about 3 min left" after `elapsed_s` of a stage; empty where no share is known.
[[nodiscard]] std::string share_text(double share_done, double elapsed_s);

}  // namespace totebench::app
