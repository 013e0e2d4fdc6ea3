#include "app/studies/choose/solve_text.hpp"

#include <fmt/format.h>

#include <cstdlib>
#include <sstream>

#include "app/studies/rate/kept_words.hpp"
#include "app/studies/rate/work_key.hpp"

namespace totebench::studies {
namespace {

// "nan" is a figure that was not found.
bool read_figures(std::istream& words, Figures& figures) {
  for (std::size_t f = 0; f < kChooseFigures.size(); ++f) {
    std::string text;
    if (!(words >> text)) return false;
    char* end = nullptr;
    figures.push_back(std::strtod(text.c_str(), &end));
    if (*end != '\0') return false;
  }
  return true;
}

}  // namespace

std::string solve_key(const ChooseBuild& build, const materials::MaterialLibrary& library,
                      const RequiredLoad& load, int level) {
  return fmt::format("{}/{:g}/{:g}/{:g}/{:g}/{:g}/{}",
                     work_key(build.scene, scatter_inputs(build.scene, library)), build.price,
                     build.must_stand_m, load.carries_kg, load.design_factor, load.shock_factor,
                     level);
}

std::string solve_text(const BuildSolve& solve) {
  std::string line;
  for (const double figure : solve.figures) line += fmt::format("{:.17g} ", figure);
  return line + fmt::format("{} {}", kept_word(solve.drops_by), kept_word(solve.spoils_by));
}

std::optional<BuildSolve> solve_of(const std::string& text) {
  std::istringstream words(text);
  BuildSolve solve;
  if (!read_figures(words, solve.figures) || !(words >> solve.drops_by >> solve.spoils_by)) {
    return std::nullopt;
  }
  solve.drops_by = word_of_kept(solve.drops_by);
  solve.spoils_by = word_of_kept(solve.spoils_by);
  return solve;
}

}  // namespace totebench::studies
