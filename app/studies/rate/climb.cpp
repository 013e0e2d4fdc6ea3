#include <algorithm>
#include <cmath>
#include <limits>

#include "totebench/scenes/utilisation.hpp"
#include "totebench/solver/continuation.hpp"
#include "totebench/studies/rate_climb.hpp"

namespace totebench::studies {
namespace {

constexpr double kLargestStep = 1.7;  // load over the last load
constexpr double kLeastStep = 0.1;    // of the way to a load: 1/2, 1/4 and 1/8 of it are tried
constexpr int kMostSolves = 24;       // looking for one failure
constexpr int kGuesses = 6;           // by slope, before halving
constexpr double kClosest = 0.01;     // loads held and failed so near mark a jump between them
constexpr double kNoRest = 1.1;       // a load without rest so near the largest held: look no more
constexpr double kEaseOff = 0.6;      // square of the next load tried over one not reached
constexpr double kLeastSlope = 0.4;   // of log ratio by log load, for the next guess
constexpr double kLargestSlope = 3;
constexpr const char* kNoRestFound = "no equilibrium was found above this load";

}  // namespace

bool belongs(const scenes::Utilisation& use, FailureClass of) {
  return of == FailureClass::kAny || use.drops_load == (of == FailureClass::kDropsLoad);
}

double corrected(const scenes::Utilisation& use, const MeshCorrection& correction) {
  const auto found = correction.find(use.mode);
  return found == correction.end() ? use.ratio : use.ratio * found->second;
}

const scenes::Utilisation* most_used(const std::vector<scenes::Utilisation>& list, FailureClass of,
                                     const MeshCorrection& correction) {
  const scenes::Utilisation* most = nullptr;
  for (const scenes::Utilisation& use : list) {
    if (!belongs(use, of)) continue;
    if (most == nullptr || corrected(use, correction) > corrected(*most, correction)) most = &use;
  }
  return most;
}

FirstFailure not_reached(double held_load_factor, std::string why) {
  FirstFailure failure;
  failure.load_factor = held_load_factor;
  failure.why_not = std::move(why);
  return failure;
}

Climb::Climb(const scenes::Scene& scene, scenes::Tote tote, solver::State state, double at_factor)
    : scene_(scene),
      tote_(std::move(tote)),
      state_(std::move(state)),
      factor_(at_factor),
      density_(tote_.model.fill.bulk_density_kg_per_m3) {}

void Climb::restart(solver::State state, double at_factor) {
  state_ = std::move(state);
  factor_ = at_factor;
  used_known_ = false;
}

void Climb::release_stitch(int stitch) {
  tote_.model.stitches[stitch].stiffness_N_per_m = 0;
  used_known_ = false;
}

solver::SolveReport Climb::solve(double load_factor, solver::State& state) {
  if (tote_.model.fill.active() && load_factor > 1) {
    tote_.model.fill.bulk_density_kg_per_m3 = density_ * load_factor;
  } else {
    tote_.model.fill.bulk_density_kg_per_m3 = density_;
  }
  solver::SolveOptions options;
  options.residual_tolerance = residual_tolerance_;
  options.max_iterations = max_iterations_;
  options.on_progress = [this](const solver::Progress&) { return !keep_going_ || keep_going_(); };
  const solver::SolveReport report =
      solver::find_equilibrium(tote_.model, load_factor, state, options);
  if (report.status == solver::SolveStatus::kInterrupted) stopped_ = true;
  if (report.status == solver::SolveStatus::kConverged) energy_J_ = report.energy_J;
  return report;
}

const std::vector<scenes::Utilisation>* Climb::again() {
  used_known_ = false;
  return to(factor_);
}

const std::vector<scenes::Utilisation>* Climb::to(double load_factor) {
  if (load_factor == factor_ && used_known_) return &used_;
  const double whole = std::abs(load_factor - factor_);
  const solver::Continuation way = solver::follow_load(
      [this](double factor, solver::State& state) { return solve(factor, state); }, factor_,
      load_factor, state_,
      {.first = whole, .largest = whole, .least = kLeastStep * whole, .growth = 1},
      [this](double factor, const solver::State&) {
        factor_ = factor;
        used_known_ = false;
      });
  if (way.report.status != solver::SolveStatus::kConverged) {
    out_of_reach_ = way.out_of_reach.value_or(load_factor);
    return nullptr;
  }
  used_ = scenes::utilisations(scene_, tote_, state_);
  used_known_ = true;
  return &used_;
}

FirstFailure Climb::first_failure(FailureClass of, const MeshCorrection& correction,
                                  double tolerance, double slope_hint, double first_try) {
  FirstFailure result;
  struct Held {  // the largest load below failure: every next try climbs from there
    double load = 0;
    solver::State state;
  } held{factor_, state_};
  bool held_solved = false;
  scenes::Utilisation nearest;
  double too_much = std::numeric_limits<double>::infinity();  // least load seen to fail
  double out_of_reach = too_much;                             // least load without equilibrium
  double load = std::clamp(first_try > 0 ? first_try : factor_, 1e-3, limit_);
  double last_load = 0;
  double last_ratio = 0;
  double slope = std::clamp(slope_hint, kLeastSlope, kLargestSlope);
  const double close = 1 + std::max(kClosest, tolerance);
  const auto give_up = [&](std::string why) {
    result.load_factor = held_solved ? held.load : 0;
    result.nearest = nearest;
    result.why_not = std::move(why);
    return result;
  };
  for (int i = 0; i < kMostSolves; ++i) {
    // Always up from the nearest rest below: its own, or another bag's.
    if (factor_ > load) restart(held.state, held.load);
    if (const Start start = starts_ ? starts_(load) : Start(); start.state != nullptr) {
      if (factor_ > load || start.load_factor > factor_) restart(*start.state, start.load_factor);
    }
    const double begin = factor_;
    const std::vector<scenes::Utilisation>* used = to(load);
    if (used == nullptr) {
      if (stopped_) return give_up("stopped on request");
      out_of_reach = std::min(out_of_reach, out_of_reach_);
      if (factor_ > std::max(begin, held.load)) {  // some of the way: go on from there
        load = factor_;
        continue;
      }
      if (held_solved ? out_of_reach < kNoRest * held.load : i + 1 >= kGuesses) {
        return give_up(kNoRestFound);
      }
      load = std::sqrt(std::max(held.load, kEaseOff * load) * out_of_reach);
      continue;
    }
    const scenes::Utilisation* most = most_used(*used, of, correction);
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
    if (ratio < 1 && (!held_solved || load >= held.load)) {
      held = {load, state_};
      held_solved = true;
      nearest = *most;
      nearest.ratio = ratio;
      if (out_of_reach < std::min(too_much, kNoRest * load)) return give_up(kNoRestFound);
    }
    if (ratio > 1) {
      too_much = std::min(too_much, load);
      result.governing = *most;
      result.governing.ratio = ratio;
    }
    if (held_solved && too_much < close * held.load) {
      // The shape jumps between the two loads, and what it jumps to is beyond its strength.
      result.found = result.at_jump = true;
      result.load_factor = held.load;
      restart(std::move(held.state), held.load);
      return result;
    }
    load *= std::clamp(std::pow(1 / ratio, 1 / slope), 1 / kLargestStep, kLargestStep);
    const double bound = std::min(too_much, out_of_reach);
    if (held_solved && std::isfinite(bound)) {
      const double room = std::log(bound / held.load);
      const double least = i < kGuesses ? 0.1 : 0.5;  // a jump is closed in on by halving
      load = std::clamp(load, held.load * std::exp(least * room),
                        held.load * std::exp((1 - least) * room));
    }
    if (load > limit_) {
      if (held_solved && held.load >= limit_ * (1 - 1e-9)) {
        result.at_limit = true;
        return give_up(why_limited_);
      }
      load = limit_;
    }
  }
  return give_up("the load at failure could not be closed in on");
}

}  // namespace totebench::studies
