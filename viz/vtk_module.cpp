#include "viz/vtk_module.hpp"

#include <dlfcn.h>

#include <filesystem>
#include <system_error>
#include <vector>

namespace totebench {
namespace {

namespace fs = std::filesystem;

// Beside the program (a build folder), in the library folder next to it, or where it was
// installed to.
std::vector<fs::path> candidates() {
  std::vector<fs::path> paths;
  std::error_code failed;
  const fs::path program = fs::read_symlink("/proc/self/exe", failed);
  if (!failed) {
    paths.push_back(program.parent_path() / TOTEBENCH_VTK_MODULE);
    paths.push_back(program.parent_path().parent_path() / "lib" / "totebench" /
                    TOTEBENCH_VTK_MODULE);
  }
  paths.emplace_back(fs::path(TOTEBENCH_MODULE_DIR) / TOTEBENCH_VTK_MODULE);
  return paths;
}

struct Loaded {
  const VtkModule* module = nullptr;
  std::string error;
};

Loaded load() {
  Loaded result;
  for (const fs::path& path : candidates()) {
    std::error_code failed;
    if (!fs::exists(path, failed)) continue;
    void* handle = dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL);
    if (handle == nullptr) {
      result.error = std::string("cannot load ") + path.string() + ": " + dlerror();
      continue;
    }
    using Entry = const VtkModule* (*)();
    const auto entry = reinterpret_cast<Entry>(dlsym(handle, "totebench_vtk_module"));
    if (entry != nullptr) return {entry(), ""};
    result.error = path.string() + " is not the drawing module of totebench";
  }
  if (result.error.empty()) {
    result.error = std::string(TOTEBENCH_VTK_MODULE) +
                   " is not beside the program; build with VTK 9 (libvtk9-dev) installed";
  }
  return result;
}

}  // namespace

const VtkModule* vtk_module(std::string& error) {
  static const Loaded loaded = load();
  error = loaded.error;
  return loaded.module;
}

}  // namespace totebench
