#include "app/scene_job.hpp"

#include <cctype>
#include <cstdio>
#include <stdexcept>

#include "scenes/reader.hpp"
#include "viz/atomic_file.hpp"

namespace totebench {
namespace {

namespace fs = std::filesystem;

// A scene's name as a folder: letters, digits, dot, dash and underscore stay, the rest becomes "-".
std::string folder_name(const std::string& name, const std::string& file) {
  std::string safe = name.empty() ? fs::path(file).stem().string() : name;
  for (char& c : safe) {
    if (std::isalnum(static_cast<unsigned char>(c)) == 0 && c != '.' && c != '_') c = '-';
  }
  return safe.find_first_not_of(".-") == std::string::npos ? "scene" : safe;
}

}  // namespace

void complain(const std::string& text) { std::fputs((text + "\n").c_str(), stderr); }

std::optional<SceneJob> open_scene(const std::string& file, const Common& common,
                                   const std::string& default_folder) {
  MaterialLibrary library;
  try {
    library = MaterialLibrary::load();
  } catch (const std::runtime_error& error) {
    complain(error.what());
    return std::nullopt;
  }
  const ReadResult read = read_scene(file, library);
  if (!common.quiet || has_errors(read.diagnostics)) {
    std::fputs(to_text(read.diagnostics).c_str(), stderr);
  }
  if (!read.scene) {
    complain("Nothing was solved.");
    return std::nullopt;
  }
  SceneJob job{*read.scene, library_of(*read.scene, library),
               common.units.empty() ? read.scene->units : common.units,
               common.out.empty() ? fs::path(default_folder) / folder_name(read.scene->name, file)
                                  : fs::path(common.out),
               common};
  const std::string problem = check_writable(job.folder);
  if (!problem.empty()) {
    complain(problem + ". Nothing was solved.");
    return std::nullopt;
  }
  return job;
}

}  // namespace totebench
