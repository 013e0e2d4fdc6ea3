// Finished pieces of a long study, kept so that one that was stopped can go on.
#pragma once

#include <functional>
#include <optional>
#include <string>

namespace totebench::studies {

// Where a study's caller keeps them: one line of text by key. An empty function keeps nothing.
struct KeptWork {
  std::function<std::optional<std::string>(const std::string& key)> on_find;
  std::function<void(const std::string& key, const std::string& text)> on_keep;  // by any thread
  std::function<void()> on_end;  // the study came to its end; what was kept is of no more use

  [[nodiscard]] std::optional<std::string> find(const std::string& key) const {
    return on_find ? on_find(key) : std::nullopt;
  }
  void keep(const std::string& key, const std::string& text) const {
    if (on_keep) on_keep(key, text);
  }
  void end() const {
    if (on_end) on_end();
  }
};

}  // namespace totebench::studies
