#include "totebench/viz/atomic_file.hpp"

#include <fstream>
#include <system_error>

namespace totebench::viz {
namespace fs = std::filesystem;

std::string write_atomically(const fs::path& path,
                             const std::function<std::string(const fs::path&)>& write) {
  const fs::path part = path.parent_path() / ("." + path.filename().string() + ".part");
  std::error_code failed;
  std::string problem = write(part);
  if (problem.empty()) {
    fs::rename(part, path, failed);
    if (failed) problem = "cannot write " + path.string() + ": " + failed.message();
  }
  if (!problem.empty()) fs::remove(part, failed);
  return problem;
}

std::string write_text_atomically(const fs::path& path, const std::string& text) {
  return write_atomically(path, [&](const fs::path& part) -> std::string {
    std::ofstream file(part, std::ios::binary);
    file << text;
    file.close();
    return file ? "" : "cannot write " + path.string() + ": no room or no permission";
  });
}

std::string check_writable(const fs::path& folder) {
  std::error_code failed;
  if (fs::exists(folder, failed) && !fs::is_directory(folder, failed)) {
    return folder.string() + " is a file, not a folder; choose another with --out";
  }
  fs::create_directories(folder, failed);
  if (failed) {
    return "cannot make the folder " + folder.string() + ": " + failed.message() +
           "; choose another with --out";
  }
  const fs::path trial = folder / ".writable.part";
  const bool wrote = write_text_atomically(trial, "trial").empty();
  fs::remove(trial, failed);
  return wrote ? "" : "cannot write in " + folder.string() + "; choose another with --out";
}

}  // namespace totebench::viz
