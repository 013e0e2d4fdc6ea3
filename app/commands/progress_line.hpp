// Progress on stderr: one line that renews itself on a terminal, a line per stage elsewhere.
#pragma once

#include <set>
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
  bool quiet_;
  bool terminal_;
  bool shown_ = false;
  std::set<std::string> stages_;  // some run side by side
};

}  // namespace totebench::app
