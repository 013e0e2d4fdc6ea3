#include "scenes/scene_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

namespace totebench {

void SceneReport::add(Severity severity, Place place, const std::string& pointer,
                      std::string message, std::string hint) {
  if (found_.size() >= kMostListed) {
    left_out_ += severity == Severity::kError;
    return;
  }
  found_.push_back({severity, file_, place.line, place.column, pointer.substr(0, 300),
                    std::move(message), std::move(hint)});
}

std::vector<Diagnostic> SceneReport::take() {
  std::stable_sort(found_.begin(), found_.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
  if (left_out_ > 0) {
    found_.push_back({Severity::kError, file_, 0, 0, "", fmt::format("{} more errors", left_out_),
                      "correct the ones above first"});
  }
  return std::move(found_);
}

}  // namespace totebench
