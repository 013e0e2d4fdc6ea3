// Finds and loads a part of the program that is kept in a file of its own.
#pragma once

#include <string>

namespace totebench::viz {

struct ModuleEntry {
  void* entry = nullptr;
  std::string error;  // why there is none, and what to do
};

// Loads `file` from beside the shared library that this code is in, where it is in one, from beside
// the program (a build folder), from lib/totebench next to its folder, or from where it was
// installed to, and looks up `symbol`. `needs` is what to build it with.
[[nodiscard]] ModuleEntry module_entry(const std::string& file, const std::string& symbol,
                                       const std::string& needs);

}  // namespace totebench::viz
