// Work that shows its progress and that Ctrl-C stops.
#pragma once

#include "app/commands/common.hpp"
#include "app/commands/interrupt.hpp"
#include "app/commands/progress_line.hpp"

namespace totebench::app {

// What `work(on_progress)` returns; `on_progress` is an OnHangProgress.
template <class Work>
auto watched(const Common& common, const Work& work) {
  const InterruptGuard guard;
  ProgressLine line(common.quiet);
  return work([&line](const studies::HangProgress& progress) {
    line.show(progress);
    return !InterruptGuard::asked_to_stop();
  });
}

}  // namespace totebench::app
