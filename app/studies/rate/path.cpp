#include "app/studies/rate/path.hpp"

#include <algorithm>
#include <cmath>

#include "totebench/scenes/utilisation.hpp"

namespace totebench::studies {
namespace {

constexpr double kWellPassed = 2;  // ratio of demand to strength at which a path may end

bool well_passed(const std::vector<scenes::Utilisation>& used) {
  for (const FailureClass of : {FailureClass::kDropsLoad, FailureClass::kSpoilsBag}) {
    const scenes::Utilisation* most = most_used(used, of, {});
    if (most != nullptr && most->ratio < kWellPassed) return false;
  }
  return true;
}

// Largest ratio of a class if the demands were those of the step and the strength the tote's.
double ratio_with_strength_of(const scenes::Scene& scene, const scenes::Tote& tote,
                              const LoadPath::Step& step, FailureClass of,
                              const MeshCorrection& correction) {
  double most = 0;
  for (const scenes::Utilisation& its : scenes::utilisations(scene, tote, step.state)) {
    if (!belongs(its, of)) continue;
    for (const scenes::Utilisation& typical : step.used) {
      if (typical.mode != its.mode) continue;
      most = std::max(most, corrected(typical, correction) * typical.capacity / its.capacity);
    }
  }
  return most;
}

}  // namespace

const LoadPath::Step* LoadPath::below(double load_factor) const {
  const Step* found = nullptr;
  for (const Step& step : steps) {
    if (step.load_factor <= load_factor) found = &step;
  }
  return found;
}

std::function<Climb::Start(double)> starts_on(const LoadPath& path) {
  return [&path](double load_factor) {
    const LoadPath::Step* step = path.below(load_factor);
    return step == nullptr ? Climb::Start() : Climb::Start{step->load_factor, &step->state};
  };
}

std::vector<LoadPath::Step> path_of(Climb& climb, double limit) {
  std::vector<LoadPath::Step> steps;
  for (double load = climb.load_factor(); load <= limit; load *= kPathStep) {
    const std::vector<scenes::Utilisation>* used = climb.to(load);
    if (used == nullptr) break;
    steps.push_back({load, climb.state(), *used});
    if (well_passed(*used)) break;
  }
  return steps;
}

double guessed_failure(const LoadPath& path, const scenes::Scene& scene, const scenes::Tote& tote,
                       FailureClass of, const MeshCorrection& correction, double& slope) {
  double last_load = 0;
  double last_ratio = 0;
  for (const LoadPath::Step& step : path.steps) {
    const double ratio = ratio_with_strength_of(scene, tote, step, of, correction);
    if (last_load > 0 && last_ratio > 0 && ratio > last_ratio) {
      slope = std::log(ratio / last_ratio) / std::log(step.load_factor / last_load);
      if (ratio >= 1) return last_load * std::pow(1 / last_ratio, 1 / slope);
    } else if (ratio >= 1) {
      return step.load_factor;
    }
    last_load = step.load_factor;
    last_ratio = ratio;
  }
  return last_load;
}

}  // namespace totebench::studies
