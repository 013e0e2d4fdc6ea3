#include "app/choose_solves_file.hpp"

#include <fmt/format.h>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "app/rate_samples_file.hpp"

namespace totebench {
namespace {

constexpr const char* kSolvesTitle = "totebench solves 2";

std::string word(const std::string& s) { return s.empty() ? "-" : s; }
std::string unworded(const std::string& s) { return s == "-" ? "" : s; }

// "nan" is a figure that was not found.
bool read_figures(std::istream& words, Figures& figures) {
  for (std::size_t f = 0; f < kFigures; ++f) {
    std::string text;
    if (!(words >> text)) return false;
    char* end = nullptr;
    figures.push_back(std::strtod(text.c_str(), &end));
    if (*end != '\0') return false;
  }
  return true;
}

}  // namespace

std::string solve_key(const ChooseBuild& build, const MaterialLibrary& library,
                      const RequiredLoad& load, int level) {
  const std::uint64_t scene =
      samples_key(build.scene, scatter_inputs(build.scene, library), RateOptions());
  return fmt::format("{:016x}/{:g}/{:g}/{:g}/{:g}/{:g}/{}", scene, build.price, build.stands,
                     load.carries_kg, load.design_factor, load.shock_factor, level);
}

SolvesFile::SolvesFile(std::string file) : file_(std::move(file)) {
  if (file_.empty()) return;
  bool good = false;
  {
    std::ifstream in(file_);
    std::string line;
    good = std::getline(in, line) && line == kSolvesTitle;
    while (good && std::getline(in, line)) {
      std::istringstream words(line);
      std::string key;
      BuildSolve solve;
      std::string end;
      // A line cut short by a stop lacks its last word and is solved again.
      const bool whole = (words >> key) && read_figures(words, solve.figures) &&
                         (words >> solve.drops_by >> solve.spoils_by >> end) && end == ".";
      if (!whole) continue;
      solve.drops_by = unworded(solve.drops_by);
      solve.spoils_by = unworded(solve.spoils_by);
      kept_[key] = std::move(solve);
    }
  }
  if (!good) std::ofstream(file_, std::ios::trunc) << kSolvesTitle << "\n";
}

std::optional<BuildSolve> SolvesFile::find(const std::string& key) const {
  const auto it = kept_.find(key);
  return it == kept_.end() ? std::nullopt : std::optional<BuildSolve>(it->second);
}

void SolvesFile::add(const std::string& key, const BuildSolve& solve) {
  if (file_.empty()) return;
  std::string line = key;
  for (const double figure : solve.figures) line += fmt::format(" {:.17g}", figure);
  const std::lock_guard<std::mutex> lock(guard_);
  std::ofstream(file_, std::ios::app)
      << fmt::format("{} {} {} .\n", line, word(solve.drops_by), word(solve.spoils_by));
}

void SolvesFile::remove() {
  std::error_code ignored;
  if (!file_.empty()) std::filesystem::remove(file_, ignored);
}

}  // namespace totebench
