#include "app/commands/progress_line.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>

#include "totebench/scenes/unit_text.hpp"

namespace totebench::app {
namespace {

constexpr std::chrono::seconds kBetweenLines(10);
constexpr double kTooSoon_s = 2;  // to tell from the share done how long the rest takes

}  // namespace

std::string share_text(double share_done, double elapsed_s) {
  if (!(share_done > 0) || share_done > 1) return "";
  std::string text = fmt::format(", {:.0f} % done", 100 * share_done);
  if (elapsed_s < kTooSoon_s) return text;
  double left = elapsed_s * (1 - share_done) / share_done;
  const double step = left < 60 ? 5 : left < 600 ? 30 : 60;  // no more exact than such a guess is
  left = step * std::ceil(left / step);
  return left > 0 ? text + ", about " + scenes::time_text(left) + " left" : text;
}

ProgressLine::ProgressLine(bool quiet)
    : quiet_(quiet), terminal_(isatty(STDERR_FILENO) == 1), last_line_(Clock::now()) {}

ProgressLine::~ProgressLine() {
  if (!quiet_ && terminal_ && shown_) std::fputs("\r\033[K", stderr);
}

void ProgressLine::show(const studies::HangProgress& progress) {
  if (quiet_) return;
  const Clock::time_point now = Clock::now();
  const std::string name = progress.stage.substr(0, progress.stage.find(": "));
  const auto [stage, fresh] = begun_.emplace(progress.share_done > 0 ? name : progress.stage, now);
  const double elapsed_s = std::chrono::duration<double>(now - stage->second).count();
  const std::string share = share_text(progress.share_done, elapsed_s);
  if (terminal_) {
    const std::string step =
        share.empty() ? fmt::format(": step {}, residual {:.1e} of the load",
                                    progress.step.iteration, progress.step.residual_relative)
                      : share;
    std::fputs(("\r\033[K" + progress.stage + step).c_str(), stderr);
    std::fflush(stderr);
  } else if (fresh || now - last_line_ >= kBetweenLines) {
    const std::string since =
        fresh ? ""
              : fmt::format(", for {} so far",
                            scenes::time_text(elapsed_s < 60 ? std::round(elapsed_s)
                                                             : 30 * std::round(elapsed_s / 30)));
    std::fputs((progress.stage + share + since + "\n").c_str(), stderr);
    last_line_ = now;
  }
  shown_ = true;
}

}  // namespace totebench::app
