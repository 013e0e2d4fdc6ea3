// What every command that solves a scene does first: reads it, settles units and folder.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/commands/common.hpp"
#include "totebench/materials/library.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::app {

struct SceneJob {
  scenes::Scene scene;
  materials::MaterialLibrary library;  // with the scene's own materials
  scenes::ReadBuild build;             // of a scene with "choose" only
  scenes::ReadSweep sweep;             // of a scene with "sweep" only
  std::string units;
  std::filesystem::path folder;  // of the results; can be written
  const Common& common;
};

// The result: `report` on stdout, or with --json `json` there and, unless --quiet, `report` on
// stderr.
void tell(const Common& common, const std::string& json, const std::string& report);

// Each text under its name.
[[nodiscard]] viz::Written write_texts(
    const std::filesystem::path& folder,
    const std::vector<std::pair<std::string, std::string>>& texts);
void add(viz::Written& written, const viz::Written& more);
// `code`, or kExitBadInput with the failures on stderr where there are any.
[[nodiscard]] int exit_code(const viz::Written& written, const std::filesystem::path& folder,
                            int code);
// "Written in out/demo: a, b" and a note on each problem, a line each. Failures are told by
// exit_code() alone.
[[nodiscard]] std::string written_text(const viz::Written& written,
                                       const std::filesystem::path& folder);
// Of a run that was stopped or saw nothing: an earlier result is left alone.
[[nodiscard]] std::string nothing_written_text(const std::filesystem::path& folder);

// The page, `picture` with what it shows, and the others, a line each; steps are not listed.
[[nodiscard]] std::string results_text(const viz::Written& written, const std::string& folder,
                                       const std::string& picture = "",
                                       const std::string& shows = "");

// A line on stderr.
void complain(const std::string& text);

// Nothing, with the reason on stderr, when there is no library.
[[nodiscard]] std::optional<materials::MaterialLibrary> load_library();

// --out, or `default_folder`/<scene name> with what does not belong in a folder's name replaced.
[[nodiscard]] std::filesystem::path result_folder(const Common& common,
                                                  const std::string& default_folder,
                                                  const std::string& scene_name,
                                                  const std::string& scene_file);

// Empty, with the reasons on stderr, where the scene is not good or the folder cannot be written.
// `default_folder` is put before the scene's name where --out is not given.
[[nodiscard]] std::optional<SceneJob> open_scene(const std::string& file, const Common& common,
                                                 const std::string& default_folder = "out");

// Opens a scene and does `work` on it, for commands that take totes only: `refusal` is what is said
// of a sheet. Returns the exit code.
[[nodiscard]] int work_on_tote(const std::string& file, const Common& common,
                               const std::string& refusal,
                               const std::function<int(const SceneJob&)>& work);

}  // namespace totebench::app
