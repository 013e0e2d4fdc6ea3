#include "totebench/viz/atomic_file.hpp"

#include <signal.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <charconv>
#include <fstream>
#include <system_error>
#include <vector>

namespace totebench::viz {
namespace fs = std::filesystem;

namespace {

constexpr std::string_view kPart = ".part";

// ".bench-7.": several machines may share the folder, and number their runs alike.
const std::string& of_this_machine() {
  static const std::string name = [] {
    std::array<char, 256> host{};
    if (::gethostname(host.data(), host.size() - 1) != 0) host[0] = '\0';
    return "." + std::string(host.data()) + ".";
  }();
  return name;
}

// ".cutlist.pdf.bench-7.4711.part": each run has names of its own, so that two may write one file
// at once.
fs::path part_of(const fs::path& path) {
  return path.parent_path() / ("." + path.filename().string() + of_this_machine() +
                               std::to_string(::getpid()) + std::string(kPart));
}

// The run of this machine that such a name belongs to; 0 for any other name.
pid_t writer_of(std::string_view name) {
  if (!name.starts_with(".") || !name.ends_with(kPart)) return 0;
  name.remove_suffix(kPart.size());
  const std::size_t dot = name.rfind('.');
  if (dot == 0 || dot == std::string_view::npos) return 0;
  if (!name.substr(0, dot + 1).ends_with(of_this_machine())) return 0;
  pid_t writer = 0;
  const char* const end = name.data() + name.size();
  const auto [read_to, failed] = std::from_chars(name.data() + dot + 1, end, writer);
  return failed == std::errc() && read_to == end && writer > 0 ? writer : 0;
}

// What a run left behind that was ended while it wrote.
void sweep(const fs::path& folder) {
  std::error_code failed;
  std::vector<fs::path> stale;
  for (auto entry = fs::directory_iterator(folder, failed);
       !failed && entry != fs::directory_iterator(); entry.increment(failed)) {
    const pid_t writer = writer_of(entry->path().filename().string());
    if (writer > 0 && ::kill(writer, 0) != 0 && errno == ESRCH) stale.push_back(entry->path());
  }
  for (const fs::path& path : stale) fs::remove(path, failed);
}

}  // namespace

std::string write_atomically(const fs::path& path,
                             const std::function<std::string(const fs::path&)>& write) {
  const fs::path part = part_of(path);
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
  for (const char* where : {"", "steps"}) sweep(folder / where);
  const fs::path trial = part_of(folder / "writable");
  const bool wrote = write_text_atomically(trial, "trial").empty();
  fs::remove(trial, failed);
  return wrote ? "" : "cannot write in " + folder.string() + "; choose another with --out";
}

}  // namespace totebench::viz
