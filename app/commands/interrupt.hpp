// Ctrl-C asks for a clean stop; pressed a second time it ends the program as usual.
#pragma once

namespace totebench::app {

class InterruptGuard {
 public:
  InterruptGuard();   // from here on Ctrl-C only sets a mark
  ~InterruptGuard();  // back to the usual
  InterruptGuard(const InterruptGuard&) = delete;
  InterruptGuard& operator=(const InterruptGuard&) = delete;
  [[nodiscard]] static bool asked_to_stop();
};

}  // namespace totebench::app
