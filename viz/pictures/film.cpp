#include "totebench/viz/film.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <system_error>

#include "totebench/viz/atomic_file.hpp"
#include "totebench/viz/vtk_module.hpp"
#include "viz/report/film_page.hpp"

namespace totebench::viz {
namespace {

namespace fs = std::filesystem;

enum class Encoding { kDone, kNoEncoder, kFailed };

// Without a shell, so that no name of a folder can be taken for a command.
Encoding encode(const fs::path& pictures, double frames_per_s, const fs::path& film) {
  const std::string rate = fmt::format("{:g}", frames_per_s);
  const pid_t child = fork();
  if (child < 0) return Encoding::kFailed;
  if (child == 0) {
    const int nowhere = ::open("/dev/null", O_RDWR);
    dup2(nowhere, STDIN_FILENO);
    dup2(nowhere, STDOUT_FILENO);
    dup2(nowhere, STDERR_FILENO);
    close(nowhere);
    execlp("ffmpeg", "ffmpeg", "-y", "-framerate", rate.c_str(), "-i", pictures.c_str(), "-pix_fmt",
           "yuv420p", "-f", "mp4", film.c_str(), static_cast<char*>(nullptr));
    _exit(127);
  }
  int status = 0;
  while (waitpid(child, &status, 0) < 0) {
    if (errno != EINTR) return Encoding::kFailed;
  }
  if (WIFEXITED(status) && WEXITSTATUS(status) == 127) return Encoding::kNoEncoder;
  return WIFEXITED(status) && WEXITSTATUS(status) == 0 ? Encoding::kDone : Encoding::kFailed;
}

fs::path frame_path(const fs::path& folder, std::size_t i) {
  return folder / fmt::format("frame_{:03}.png", i);
}

// The encoder reads a pattern: percent signs of the folder's own are doubled.
fs::path frame_pattern(const fs::path& folder) {
  std::string text;
  for (const char c : folder.string()) text += c == '%' ? std::string("%%") : std::string(1, c);
  return fs::path(text) / "frame_%03d.png";
}

}  // namespace

Written write_film(const std::string& name, const std::string& title,
                   const std::vector<Picture>& frames, double frames_per_s, const fs::path& folder,
                   const std::function<bool()>& go_on) {
  Written written;
  std::string no_vtk;
  const VtkModule* vtk = vtk_module(no_vtk);
  if (vtk == nullptr) {
    written.problems.push_back("no film was made: " + no_vtk);
    return written;
  }
  std::error_code ignored;
  for (const char* film : {".mp4", ".html"}) fs::remove(folder / (name + film), ignored);
  fs::create_directories(folder / name, ignored);
  for (std::size_t i = 0; fs::remove(frame_path(folder / name, i), ignored); ++i) {
  }
  std::vector<std::string> pictures;
  for (std::size_t i = 0; i < frames.size(); ++i) {
    if (!go_on()) {
      written.problems.push_back(
          fmt::format("stopped on request after {} of {} pictures of {}", i, frames.size(), name));
      return written;
    }
    std::string png;
    std::string problem = vtk->draw(frames[i], png);
    if (problem.empty()) problem = write_text_atomically(frame_path(folder / name, i), png);
    if (!problem.empty()) {
      written.problems.push_back(fmt::format("{} is not whole: {}", name, problem));
      return written;
    }
    pictures.push_back(std::move(png));
  }
  written.files.push_back(fmt::format("{}/ ({} pictures)", name, frames.size()));
  const auto keep = [&](const std::string& file, const std::string& problem) {
    if (problem.empty()) {
      written.files.push_back(file);
    } else {
      written.problems.push_back(file + " is missing: " + problem);
    }
  };
  keep(name + ".html",
       write_text_atomically(folder / (name + ".html"), film_page(title, pictures, frames_per_s)));
  Encoding encoding = Encoding::kDone;
  const std::string problem =
      write_atomically(folder / (name + ".mp4"), [&](const fs::path& part) -> std::string {
        encoding = encode(frame_pattern(folder / name), frames_per_s, part);
        return encoding == Encoding::kDone ? "" : "ffmpeg could not make it of the pictures";
      });
  if (encoding != Encoding::kNoEncoder) keep(name + ".mp4", problem);
  return written;
}

}  // namespace totebench::viz
