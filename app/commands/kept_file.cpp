#include "app/commands/kept_file.hpp"

#include <filesystem>
#include <fstream>
#include <utility>

namespace totebench::app {
namespace {

constexpr const char* kLineEnd = " .";  // a line cut short by a stop lacks it

}  // namespace

KeptFile::KeptFile(std::string file, const std::string& title) : file_(std::move(file)) {
  bool good = false;
  {
    std::ifstream in(file_);
    std::string line;
    good = std::getline(in, line) && line == title;
    while (good && std::getline(in, line)) {
      const std::size_t space = line.find(' ');
      const std::size_t end = line.rfind(kLineEnd);
      if (space == std::string::npos || end == std::string::npos || end + 2 != line.size() ||
          end <= space) {
        continue;
      }
      kept_[line.substr(0, space)] = line.substr(space + 1, end - space - 1);
    }
  }
  if (!good) std::ofstream(file_, std::ios::trunc) << title << "\n";
}

std::optional<std::string> KeptFile::find(const std::string& key) const {
  const auto it = kept_.find(key);
  return it == kept_.end() ? std::nullopt : std::optional<std::string>(it->second);
}

void KeptFile::keep(const std::string& key, const std::string& text) {
  const std::lock_guard<std::mutex> lock(guard_);
  std::ofstream(file_, std::ios::app) << key << " " << text << kLineEnd << "\n";
}

void KeptFile::remove() {
  std::error_code ignored;
  std::filesystem::remove(file_, ignored);
}

studies::KeptWork KeptFile::work() {
  return {[this](const std::string& key) { return find(key); },
          [this](const std::string& key, const std::string& text) { keep(key, text); },
          [this] { remove(); }};
}

}  // namespace totebench::app
