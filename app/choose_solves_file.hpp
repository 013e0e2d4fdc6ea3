// Solved builds kept in a file as they are finished, so that a stopped choice can go on.
#pragma once

#include <map>
#include <mutex>
#include <optional>
#include <string>

#include "app/choose_build.hpp"

namespace totebench {

// What a solve belongs to: the build's scene and data, the load asked of it, the mesh.
[[nodiscard]] std::string solve_key(const ChooseBuild& build, const MaterialLibrary& library,
                                    const RequiredLoad& load, int level);

class SolvesFile {
 public:
  // `file` "": nothing is kept. A file that is no such file is begun anew.
  explicit SolvesFile(std::string file);
  [[nodiscard]] std::optional<BuildSolve> find(const std::string& key) const;
  void add(const std::string& key, const BuildSolve& solve);  // may be called by several threads
  void remove();

 private:
  std::string file_;
  std::map<std::string, BuildSolve> kept_;  // as read
  std::mutex guard_;
};

}  // namespace totebench
