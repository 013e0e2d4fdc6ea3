// Progress on stderr: one line that renews itself on a terminal, a line per stage elsewhere.
#pragma once

#include <set>
#include <string>

#include "app/hang_study.hpp"

namespace totebench {

class ProgressLine {
 public:
  explicit ProgressLine(bool quiet);
  ~ProgressLine();  // wipes the line
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;
  void show(const HangProgress& progress);

 private:
  bool quiet_;
  bool terminal_;
  bool shown_ = false;
  std::set<std::string> stages_;  // some run side by side
};

}  // namespace totebench
