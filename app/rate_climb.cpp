#include "app/rate_climb.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "scenes/utilisation.hpp"

namespace totebench {
namespace {

constexpr double kLargestStep = 1.7;  // load over the last load
constexpr int kMostHalvings = 3;      // of the way to a load that is not reached
constexpr int kMostSolves = 24;       // looking for one failure
constexpr double kClose = 1.01;      // loads held and failed at this ratio mark a jump between them
constexpr double kLeastSlope = 0.4;  // of log ratio by log load, for the next guess
constexpr double kLargestSlope = 3;

bool belongs(const Utilisation& use, FailureClass of) {
  return of == FailureClass::kAny || use.drops_load == (of == FailureClass::kDropsLoad);
}

}  // namespace

double corrected(const Utilisation& use, const MeshCorrection& correction) {
  const auto found = correction.find(use.mode);
  return found == correction.end() ? use.ratio : use.ratio * found->second;
}

const Utilisation* most_used(const std::vector<Utilisation>& list, FailureClass of,
                             const MeshCorrection& correction) {
  const Utilisation* most = nullptr;
  for (const Utilisation& use : list) {
    if (!belongs(use, of)) continue;
    if (most == nullptr || corrected(use, correction) > corrected(*most, correction)) most = &use;
  }
  return most;
}

Climb::Climb(const Scene& scene, Tote tote, State state, double at_factor)
    : scene_(scene),
      tote_(std::move(tote)),
      state_(std::move(state)),
      factor_(at_factor),
      density_(tote_.model.fill.bulk_density_kg_per_m3) {}

void Climb::restart(State state, double at_factor) {
  state_ = std::move(state);
  factor_ = at_factor;
  used_known_ = false;
}

bool Climb::solve(double load_factor, State& state) {
  ++solves_;
  if (tote_.model.fill.active() && load_factor > 1) {
    tote_.model.fill.bulk_density_kg_per_m3 = density_ * load_factor;
  } else {
    tote_.model.fill.bulk_density_kg_per_m3 = density_;
  }
  SolveOptions options;
  options.residual_tolerance = residual_tolerance_;
  options.max_iterations = max_iterations_;
  options.on_progress = [this](const Progress&) { return !keep_going_ || keep_going_(); };
  const SolveReport report = find_equilibrium(tote_.model, load_factor, state, options);
  if (report.status == SolveStatus::kInterrupted) stopped_ = true;
  if (report.status == SolveStatus::kConverged) potential_J_ = report.energy_J;
  return report.status == SolveStatus::kConverged;
}

const std::vector<Utilisation>* Climb::again() {
  State trial = state_;
  if (!solve(factor_, trial)) return nullptr;
  state_ = std::move(trial);
  used_ = utilisations(scene_, tote_, state_);
  used_known_ = true;
  return &used_;
}

const std::vector<Utilisation>* Climb::to(double load_factor) {
  if (used_known_ && load_factor == factor_) return &used_;
  const State from = state_;
  const double begin = factor_;
  int halvings = 0;
  double step = load_factor - factor_;
  while (true) {
    State trial = state_;
    const double next = std::abs(load_factor - factor_) <= std::abs(step) * (1 + 1e-12)
                            ? load_factor
                            : factor_ + step;
    if (solve(next, trial)) {
      state_ = std::move(trial);
      factor_ = next;
      if (next == load_factor) break;
    } else if (stopped_ || ++halvings > kMostHalvings) {
      state_ = from;
      factor_ = begin;
      used_known_ = false;
      return nullptr;
    } else {
      step = 0.5 * (next - factor_);
    }
  }
  used_ = utilisations(scene_, tote_, state_);
  used_known_ = true;
  return &used_;
}

FirstFailure Climb::first_failure(FailureClass of, const MeshCorrection& correction,
                                  double tolerance, double slope_hint) {
  FirstFailure result;
  struct Held {  // the largest load below failure: every next try climbs from there
    double load = 0;
    State state;
  } held;
  double too_much = std::numeric_limits<double>::infinity();  // least load seen to fail
  double out_of_reach = too_much;                             // least load without equilibrium
  double load = std::max(factor_, 1e-3);
  double last_load = 0;
  double last_ratio = 0;
  double slope = slope_hint;
  const auto give_up = [&](std::string why) {
    result.load_factor = held.load;
    result.why_not = std::move(why);
    return result;
  };
  for (int i = 0; i < kMostSolves; ++i) {
    const std::vector<Utilisation>* used = to(load);
    if (used == nullptr) {
      if (stopped_) return give_up("stopped on request");
      out_of_reach = std::min(out_of_reach, load);
      if (!(held.load > 0) || out_of_reach < kClose * held.load) {
        return give_up("no equilibrium was found above this load");
      }
      restart(held.state, held.load);
      load = std::sqrt(held.load * out_of_reach);
      continue;
    }
    const Utilisation* most = most_used(*used, of, correction);
    if (most == nullptr) return give_up("no strength is known that this bag could reach");
    const double ratio = corrected(*most, correction);
    if (last_load > 0 && std::abs(std::log(load / last_load)) > 1e-9) {
      slope = std::clamp(std::log(ratio / last_ratio) / std::log(load / last_load), kLeastSlope,
                         kLargestSlope);
    }
    last_load = load;
    last_ratio = ratio;
    if (std::abs(ratio - 1) <= tolerance) {
      result.found = true;
      result.governing = *most;
      result.governing.ratio = ratio;
      result.load_factor = load * std::pow(1 / ratio, 1 / slope);
      return result;
    }
    if (ratio < 1 && load > held.load) held = {load, state_};
    if (ratio > 1) {
      too_much = std::min(too_much, load);
      result.governing = *most;
      result.governing.ratio = ratio;
    }
    if (held.load > 0 && too_much < kClose * held.load) {
      // The shape jumps between the two loads, and what it jumps to is beyond its strength.
      result.found = true;
      result.load_factor = held.load;
      return result;
    }
    load *= std::clamp(std::pow(1 / ratio, 1 / slope), 1 / kLargestStep, kLargestStep);
    const double bound = std::min(too_much, out_of_reach);
    if (held.load > 0 && std::isfinite(bound)) {
      const double room = std::log(bound / held.load);
      load = std::clamp(load, held.load * std::exp(0.1 * room), held.load * std::exp(0.9 * room));
    }
    if (ratio > 1 && held.load > 0) restart(held.state, held.load);
    if (load > limit_) {
      if (held.load >= limit_ * (1 - 1e-9)) return give_up(why_limited_);
      load = limit_;
    }
  }
  return give_up("the load at failure could not be closed in on");
}

}  // namespace totebench
