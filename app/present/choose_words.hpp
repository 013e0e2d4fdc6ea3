// Names and texts that the choice's report, tables and page share.
#pragma once

#include <string>
#include <vector>

#include "totebench/studies/choose.hpp"

namespace totebench::app {

// The value of a line of kChooseFigures in the units of the person who reads; "-" where it is not
// known, "none known" for a strength against lasting damage that no part of a build has.
[[nodiscard]] std::string figure_text(std::size_t figure, double value, const std::string& units);

[[nodiscard]] inline bool lightest(const studies::ChooseResult& r) {
  return r.spec.aim == scenes::ChooseAim::kLightest;
}
[[nodiscard]] inline std::size_t aim_figure(const studies::ChooseResult& r) {
  return lightest(r) ? studies::kFigureMass : studies::kFigurePrice;
}
[[nodiscard]] inline const char* less_word(const studies::ChooseResult& r) {
  return lightest(r) ? "lighter" : "cheaper";
}
[[nodiscard]] inline const studies::ChooseBuild& build_of(const studies::ChooseResult& r, int i) {
  return r.builds[static_cast<std::size_t>(i)];
}
[[nodiscard]] inline const studies::FoundBuild& found_of(const studies::ChooseResult& r, int i) {
  return r.search.builds[static_cast<std::size_t>(i)];
}
[[nodiscard]] inline double cost_of(const studies::ChooseResult& r, int i) {
  return lightest(r) ? build_of(r, i).mass_kg : build_of(r, i).price;
}

// The height to which a bag of a build's make stands by itself, "or more" where no weight that was
// tried brought it down; "-" where it is not known.
[[nodiscard]] std::string stands_text(const studies::ChooseResult& r, int build,
                                      const std::string& units);

// Every build that was solved, in the order of its number in table and chart: the front as it goes
// down, then the others by what they cost.
[[nodiscard]] std::vector<int> numbered_builds(const studies::ChooseResult& r);

// Names of the limits that a build misses, ", " between them; "no rest" where it found none.
[[nodiscard]] std::string missed_limits(const studies::ChooseResult& r, int build);

// Builds of less cost than the chosen; all that can be made where none is chosen.
[[nodiscard]] int n_less(const studies::ChooseResult& r);

}  // namespace totebench::app
