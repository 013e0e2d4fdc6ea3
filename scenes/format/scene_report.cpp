#include "scenes/format/scene_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <tuple>

namespace totebench::scenes {

void SceneReport::add(Severity severity, Place place, const std::string& pointer,
                      std::string message, std::string hint) {
  add({severity, file_, place.line, place.column, pointer.substr(0, 300), std::move(message),
       std::move(hint)});
}

void SceneReport::add(Diagnostic diagnostic) {
  if (found_.size() >= kMostListed) {
    full_ = full_ || diagnostic.severity == Severity::kError;
    return;
  }
  found_.push_back(std::move(diagnostic));
}

std::vector<Diagnostic> SceneReport::take() {
  const auto hopeless = [&](const Diagnostic& d) {
    return d.severity == Severity::kWarning &&
           std::any_of(found_.begin(), found_.end(), [&](const Diagnostic& other) {
             return other.severity == Severity::kError && other.pointer == d.pointer;
           });
  };
  std::vector<Diagnostic> kept;
  std::remove_copy_if(found_.begin(), found_.end(), std::back_inserter(kept), hopeless);
  found_ = std::move(kept);
  std::stable_sort(found_.begin(), found_.end(), [](const Diagnostic& a, const Diagnostic& b) {
    return std::tie(a.line, a.column) < std::tie(b.line, b.column);
  });
  if (full_) {
    found_.push_back({Severity::kError, file_, 0, 0, "", "more errors than are listed",
                      "correct the ones above first"});
  }
  return std::move(found_);
}

}  // namespace totebench::scenes
