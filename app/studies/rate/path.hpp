// The typical bag followed from a light to a heavy load on the coarse mesh. Other bags of that mesh
// start from it: under the same load their shapes differ little, and coming from below they stay
// with the shape a bag takes as it is filled (unloading may end in another).
#pragma once

#include <functional>
#include <vector>

#include "totebench/studies/rate_climb.hpp"

namespace totebench::studies {

struct LoadPath {
  struct Step {
    double load_factor = 0;
    solver::State state;
    std::vector<scenes::Utilisation> used;
  };
  std::vector<Step> steps;  // load rising

  // The last step at no more than this load; nullptr when all are above.
  [[nodiscard]] const Step* below(double load_factor) const;
};

// Starts of a climb on this path, which has to outlive it.
[[nodiscard]] std::function<Climb::Start(double)> starts_on(const LoadPath& path);

// Equilibria of the climb's bag from where it is up to `limit`, each load kPathStep times the last;
// ends where both kinds of failure are well passed or no equilibrium is found.
[[nodiscard]] std::vector<LoadPath::Step> path_of(Climb& climb, double limit);
inline constexpr double kPathStep = 1.2;

// Load factor at which the path's demands, corrected, would use up the strength of `tote` (a bag of
// the same mesh); interpolated in log load and log ratio. A guess to begin a search with; 0 when
// nothing is known. `slope` becomes d log ratio / d log load there.
[[nodiscard]] double guessed_failure(const LoadPath& path, const scenes::Scene& scene,
                                     const scenes::Tote& tote, FailureClass of,
                                     const MeshCorrection& correction, double& slope);

}  // namespace totebench::studies
