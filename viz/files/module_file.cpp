#include "viz/files/module_file.hpp"

#include <dlfcn.h>

#include <filesystem>
#include <system_error>
#include <vector>

namespace totebench::viz {
namespace {

namespace fs = std::filesystem;

std::vector<fs::path> candidates(const std::string& file) {
  std::vector<fs::path> paths;
  std::error_code failed;
  if (Dl_info here; dladdr(reinterpret_cast<const void*>(&module_entry), &here) != 0) {
    const fs::path code = fs::absolute(here.dli_fname, failed);
    if (!failed && code.extension() == ".so") paths.push_back(code.parent_path() / file);
  }
  const fs::path program = fs::read_symlink("/proc/self/exe", failed);
  if (!failed) {
    paths.push_back(program.parent_path() / file);
    paths.push_back(program.parent_path().parent_path() / "lib" / "totebench" / file);
  }
  paths.emplace_back(fs::path(TOTEBENCH_MODULE_DIR) / file);
  return paths;
}

}  // namespace

ModuleEntry module_entry(const std::string& file, const std::string& symbol,
                         const std::string& needs) {
  ModuleEntry result;
  for (const fs::path& path : candidates(file)) {
    std::error_code failed;
    if (!fs::exists(path, failed)) continue;
    void* handle = dlopen(path.c_str(), RTLD_NOW | RTLD_LOCAL);
    if (handle == nullptr) {
      result.error = std::string("cannot load ") + path.string() + ": " + dlerror();
      continue;
    }
    result.entry = dlsym(handle, symbol.c_str());
    if (result.entry != nullptr) return {result.entry, ""};
    result.error = path.string() + " is not the module of totebench that it is named after";
  }
  if (result.error.empty()) {
    result.error = file + " is not beside the program; build with " + needs + " installed";
  }
  return result;
}

}  // namespace totebench::viz
