// Collects what is wrong with one scene text, each with its place.
#pragma once

#include <string>
#include <vector>

#include "scenes/format/source_map.hpp"
#include "totebench/scenes/diagnostics.hpp"

namespace totebench::scenes {

class SceneReport {
 public:
  SceneReport(std::string file, SourceMap places)
      : file_(std::move(file)), places_(std::move(places)) {}
  // On a scene that comes from no file: every key counts as given, and no fault has a place.
  SceneReport() : from_file_(false) {}

  // Placed at the value of `pointer`, or at its nearest ancestor that stands in the file.
  void error(const std::string& pointer, std::string message, std::string hint = "") {
    add(Severity::kError, place(pointer), pointer, std::move(message), std::move(hint));
  }
  void warning(const std::string& pointer, std::string message, std::string hint = "") {
    add(Severity::kWarning, place(pointer), pointer, std::move(message), std::move(hint));
  }
  void error_at_key(const std::string& pointer, std::string message, std::string hint = "") {
    add(Severity::kError, places_.key(pointer), pointer, std::move(message), std::move(hint));
  }
  void error_at(Place place, const std::string& pointer, std::string message, std::string hint) {
    add(Severity::kError, place, pointer, std::move(message), std::move(hint));
  }
  void warning_at_key(const std::string& pointer, std::string message, std::string hint = "") {
    add(Severity::kWarning, places_.key(pointer), pointer, std::move(message), std::move(hint));
  }

  // One that is placed already.
  void add(Diagnostic diagnostic);

  [[nodiscard]] const SourceMap& places() const { return places_; }
  // Whether the scene's author gave what `pointer` leads to.
  [[nodiscard]] bool given(const std::string& pointer) const {
    return !from_file_ || places_.contains(pointer);
  }
  [[nodiscard]] bool is_of_a_file() const { return from_file_; }
  [[nodiscard]] bool has_errors() const { return full_ || scenes::has_errors(found_); }
  // When nothing more would be listed, looking for cures is a waste of time.
  [[nodiscard]] bool is_full() const { return found_.size() >= kMostListed; }
  // Sorted by place; without warnings about a value that is an error anyway.
  [[nodiscard]] std::vector<Diagnostic> take();

 private:
  // A hostile file could be wrong in a hundred thousand places; nobody reads past the first ones.
  static constexpr std::size_t kMostListed = 100;

  [[nodiscard]] Place place(const std::string& pointer) const {
    return from_file_ ? places_.value(pointer) : Place{0, 0};
  }
  void add(Severity severity, Place place, const std::string& pointer, std::string message,
           std::string hint);

  std::string file_;
  SourceMap places_;
  bool from_file_ = true;
  std::vector<Diagnostic> found_;
  bool full_ = false;
};

}  // namespace totebench::scenes
