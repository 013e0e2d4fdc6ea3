#include "app/commands/scene_job.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cstdio>
#include <stdexcept>

#include "totebench/viz/atomic_file.hpp"
#include "totebench/viz/surface_file.hpp"

namespace totebench::app {

namespace fs = std::filesystem;

namespace {

// A name as a folder: letters and digits of any script, dot and underscore stay, the rest becomes
// "-". Empty where nothing of it would be left to tell it by.
std::string folder_of_words(const std::string& words) {
  std::string safe;
  bool told = false;
  for (std::size_t i = 0; i < words.size();) {
    const auto lead = static_cast<unsigned char>(words[i]);
    const std::size_t length = lead < 0x80 ? 1 : lead < 0xE0 ? 2 : lead < 0xF0 ? 3 : 4;
    const std::string letter = words.substr(i, length);
    i += length;
    // Beyond ASCII all but control characters (U+0080 to U+009F) and marks that steer the layout of
    // text (U+2028 to U+202E, U+2066 to U+2069).
    const bool steers =
        (letter >= "\u2028" && letter <= "\u202E") || (letter >= "\u2066" && letter <= "\u2069");
    const bool plain = lead < 0x80 ? std::isalnum(lead) != 0 || lead == '.' || lead == '_'
                                   : letter > "\u009F" && !steers;
    safe += plain ? letter : "-";
    told = told || (plain && letter != ".");
  }
  return told ? safe : "";
}

std::string folder_name(const std::string& name, const std::string& file) {
  for (const std::string& words : {name, fs::path(file).stem().string()}) {
    const std::string folder = folder_of_words(words);
    if (!folder.empty()) return folder;
  }
  return "scene";
}

}  // namespace

void tell(const Common& common, const std::string& json, const std::string& report) {
  std::fputs((common.json ? json : report).c_str(), stdout);
  if (common.json && !common.quiet) std::fputs(report.c_str(), stderr);
}

viz::Written write_texts(const fs::path& folder,
                         const std::vector<std::pair<std::string, std::string>>& texts) {
  viz::Written written;
  for (const auto& [name, text] : texts) {
    const std::string problem = viz::write_text_atomically(folder / name, text);
    if (problem.empty()) {
      written.files.push_back(name);
    } else {
      written.failures.push_back(fmt::format("{} is missing: {}", name, problem));
    }
  }
  return written;
}

void add(viz::Written& written, const viz::Written& more) {
  written.files.insert(written.files.end(), more.files.begin(), more.files.end());
  written.problems.insert(written.problems.end(), more.problems.begin(), more.problems.end());
  written.failures.insert(written.failures.end(), more.failures.begin(), more.failures.end());
}

int exit_code(const viz::Written& written, const fs::path& folder, int code) {
  if (written.failures.empty()) return code;
  complain(fmt::format("{}: error: not all results could be written:", folder.string()));
  for (const std::string& failure : written.failures) complain("    " + failure);
  return kExitBadInput;
}

std::string written_text(const viz::Written& written, const fs::path& folder) {
  std::string text;
  for (const std::string& file : written.files) text += (text.empty() ? "" : ", ") + file;
  if (!text.empty()) text = fmt::format("Written in {}: {}\n", folder.string(), text);
  for (const std::string& problem : written.problems) text += "Note: " + problem + "\n";
  return text;
}

std::string nothing_written_text(const fs::path& folder) {
  return fmt::format("Nothing was written in {}; an earlier result there stays.\n",
                     folder.string());
}

std::string results_text(const viz::Written& written, const std::string& folder,
                         const std::string& picture, const std::string& shows) {
  std::string text;
  const auto has = [&](const std::string& name) {
    return std::find(written.files.begin(), written.files.end(), name) != written.files.end();
  };
  if (has("report.html")) {
    text += fmt::format("{}/report.html tells and shows all of this; open it with a browser.\n",
                        folder);
  }
  if (!picture.empty() && has(picture)) text += fmt::format("{}/{} {}\n", folder, picture, shows);
  std::string others;
  for (const std::string& file : written.files) {
    if (file == picture || file == "report.html" || file.rfind("steps/", 0) == 0) continue;
    others += (others.empty() ? "" : ", ") + file;
  }
  if (!others.empty()) text += fmt::format("Also in {}: {}\n", folder, others);
  for (const std::string& problem : written.problems) text += "Note: " + problem + "\n";
  return text;
}

void complain(const std::string& text) { std::fputs((text + "\n").c_str(), stderr); }

std::optional<materials::MaterialLibrary> load_library() {
  try {
    return materials::MaterialLibrary::load();
  } catch (const std::runtime_error& error) {
    complain(error.what());
    return std::nullopt;
  }
}

fs::path result_folder(const Common& common, const std::string& default_folder,
                       const std::string& scene_name, const std::string& scene_file) {
  if (!common.out.empty()) return common.out;
  return fs::path(default_folder) / folder_name(scene_name, scene_file);
}

std::optional<SceneJob> open_scene(const std::string& file, const Common& common,
                                   const std::string& default_folder) {
  const std::optional<materials::MaterialLibrary> loaded = load_library();
  if (!loaded) return std::nullopt;
  const materials::MaterialLibrary& library = *loaded;
  const scenes::ReadResult read = scenes::read_scene(file, library, viz::read_surface_file);
  if (!common.quiet || scenes::has_errors(read.diagnostics)) {
    std::fputs(scenes::to_text(read.diagnostics).c_str(), stderr);
  }
  if (!read.scene) {
    complain("Nothing was solved.");
    return std::nullopt;
  }
  SceneJob job{*read.scene,
               scenes::library_of(*read.scene, library),
               read.build,
               read.sweep,
               common.units.empty() ? read.scene->units : common.units,
               result_folder(common, default_folder, read.scene->name, file),
               common};
  job.scene.units = job.units;  // so that findings speak in them too
  if (const std::string problem = viz::check_writable(job.folder); !problem.empty()) {
    complain(problem + ". Nothing was solved.");
    return std::nullopt;
  }
  return job;
}

int work_on_tote(const std::string& file, const Common& common, const std::string& refusal,
                 const std::function<int(const SceneJob&)>& work) {
  const std::optional<SceneJob> job = open_scene(file, common);
  if (!job) return kExitBadInput;
  if (job->scene.kind != scenes::SceneKind::kTote) {
    complain(file + ": error: " + refusal + " Nothing was solved.");
    return kExitBadInput;
  }
  return work(*job);
}

}  // namespace totebench::app
