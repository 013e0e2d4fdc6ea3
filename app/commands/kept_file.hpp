// Finished pieces of a study kept in a file, a line each, so that a stopped run can go on.
#pragma once

#include <map>
#include <mutex>
#include <optional>
#include <string>

#include "totebench/studies/kept_work.hpp"

namespace totebench::app {

class KeptFile {
 public:
  // `title` is the file's first line; a file of another title is begun anew.
  KeptFile(std::string file, const std::string& title);
  [[nodiscard]] std::optional<std::string> find(const std::string& key) const;  // as read at first
  void keep(const std::string& key, const std::string& text);  // may be called by several threads
  void remove();

  // The functions above, for a study; refers to this file.
  [[nodiscard]] studies::KeptWork work();

 private:
  std::string file_;
  std::map<std::string, std::string> kept_;
  std::mutex guard_;
};

}  // namespace totebench::app
