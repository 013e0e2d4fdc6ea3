// The lightest or cheapest build within limits: the study behind `totebench choose`.
//
//   read_builds -> every build as a scene, its mass and price (no solve)
//   search_builds -> coarse solves side by side, full solves to confirm (choose_search.hpp)
//   hang_tote of the chosen (or of the nearest miss), for the report
#pragma once

#include <string>
#include <vector>

#include "totebench/scenes/reader.hpp"
#include "totebench/studies/choose_build.hpp"
#include "totebench/studies/kept_work.hpp"

namespace totebench::studies {

struct ChooseResult {
  scenes::ChooseSpec spec;
  RequiredLoad load;
  std::vector<ChooseBuild> builds;       // as numbered by scenes::combination()
  std::vector<BuildSolve> coarse, full;  // per build; no figures = not solved
  SearchResult search;
  HangResult hang;  // of shown(), on the full mesh
  bool interrupted = false;
  double seconds = 0;
  // The chosen build, else the one that misses the limits by least; -1 = no build came to rest.
  [[nodiscard]] int shown() const { return search.chosen >= 0 ? search.chosen : search.nearest; }
  [[nodiscard]] int n_possible() const;
  [[nodiscard]] int n_solved(bool in_full) const;
};

// Limits in the order of kChooseFigures; infinity where there is none.
[[nodiscard]] Figures figure_limits(const scenes::ChooseLimits& limits);

// "stabilizer 1 mm nonwoven, base 2 mm"
[[nodiscard]] std::string build_name(const scenes::ChooseSpec& spec, const std::vector<int>& picks);

// `scene` has "choose", `build` is of the same reading, `library` the program's with the scene's
// own materials. Finished solves are kept until a run ends. The result
// does not depend on the number of threads.
[[nodiscard]] ChooseResult choose_build(const scenes::Scene& scene, const scenes::ReadBuild& build,
                                        const materials::MaterialLibrary& library,
                                        const KeptWork& kept, const OnHangProgress& on_progress);

}  // namespace totebench::studies
