// One bag under a rising load, followed until something in it reaches its strength.
#pragma once

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "totebench/scenes/findings.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::studies {

// Demand on the finest mesh over demand on the coarse one, by mode; 1 where a mode is not listed.
using MeshCorrection = std::map<std::string, double>;

// Modes that drop the load, modes that spoil the bag, or both.
enum class FailureClass { kDropsLoad, kSpoilsBag, kAny };

[[nodiscard]] bool belongs(const scenes::Utilisation& use, FailureClass of);

// The most used up of a class after correction; nullptr when the list has none.
[[nodiscard]] const scenes::Utilisation* most_used(const std::vector<scenes::Utilisation>& list,
                                                   FailureClass of,
                                                   const MeshCorrection& correction);
[[nodiscard]] double corrected(const scenes::Utilisation& use, const MeshCorrection& correction);

struct FirstFailure {
  bool found = false;
  double load_factor = 0;  // of the set load, where the ratio below is 1; else the largest held
  scenes::Utilisation governing;  // there
  std::string why_not;            // when not found
  scenes::Utilisation nearest;    // then: nearest to its strength at the largest load held
  bool at_jump = false;   // the shape jumps there, and what it jumps to is beyond its strength
  bool at_limit = false;  // not found as far as bags are loaded at all
};

[[nodiscard]] FirstFailure not_reached(double held_load_factor, std::string why);

class Climb {
 public:
  // `state`: in equilibrium at load factor `at_factor` (or near it, for another bag of the same
  // mesh). Contents that press like a heap keep their volume and grow denser with the load.
  Climb(const scenes::Scene& scene, scenes::Tote tote, solver::State state, double at_factor);

  // Equilibrium at a load factor, in smaller steps where one does not succeed, from the last one.
  // nullptr when it cannot be reached; the climb then stands at the nearest one that was.
  const std::vector<scenes::Utilisation>* to(double load_factor);

  // Solves at loads that close in on ratio 1: interpolation in log load and log ratio between the
  // last two equilibria (`slope_hint` stands in for it at first) and, once bracketed, always up
  // from the largest load held. Within `tolerance` of ratio 1 the local slope does the rest. Where
  // the shape jumps past ratio 1 the failure is at the load before the jump. Ends at that load.
  // Where no equilibrium is found the search ends within a tenth of the largest load held.
  // `first_try` is the load to begin with; 0 = where the climb is.
  [[nodiscard]] FirstFailure first_failure(FailureClass of, const MeshCorrection& correction,
                                           double tolerance, double slope_hint = 1,
                                           double first_try = 0);

  // No load above this is looked at; `why` ends a search that gets there.
  void set_limit(double load_factor, std::string why) {
    limit_ = load_factor;
    why_limited_ = std::move(why);
  }
  // How hard each equilibrium is tried for.
  void set_effort(double residual_tolerance, int max_iterations) {
    residual_tolerance_ = residual_tolerance;
    max_iterations_ = max_iterations;
  }
  void set_stop(std::function<bool()> keep_going) { keep_going_ = std::move(keep_going); }
  [[nodiscard]] bool stopped() const { return stopped_; }
  [[nodiscard]] double load_factor() const { return factor_; }
  [[nodiscard]] const solver::State& state() const { return state_; }
  [[nodiscard]] double energy_J() const { return energy_J_; }  // potential, of the last equilibrium
  [[nodiscard]] const scenes::Tote& tote() const { return tote_; }
  // Tries of first_failure() start from a state of another bag of the same mesh where it gives one
  // closer below the load than what the climb holds itself.
  struct Start {
    double load_factor = 0;
    const solver::State* state = nullptr;
  };
  void set_starts(std::function<Start(double load_factor)> starts) { starts_ = std::move(starts); }
  // Solves again at the load it stands at, for a bag restarted from another's state.
  const std::vector<scenes::Utilisation>* again();
  // From here on without one of the model's stitches: it holds nothing any more.
  void release_stitch(int stitch);
  // Go on from another equilibrium of the same model.
  void restart(solver::State state, double at_factor);

 private:
  solver::SolveReport solve(double load_factor, solver::State& state);

  const scenes::Scene& scene_;
  scenes::Tote tote_;
  solver::State state_;
  double factor_;
  double density_;
  double energy_J_ = 0;
  std::vector<scenes::Utilisation> used_;
  bool used_known_ = false;
  std::function<bool()> keep_going_;
  std::function<Start(double)> starts_;
  bool stopped_ = false;
  double limit_ = 400;
  std::string why_limited_ = "nothing failed below 400 times the set load";
  double residual_tolerance_ = solver::SolveOptions().residual_tolerance;
  int max_iterations_ = 200;  // a smaller step of the load is cheaper than more of them
  double out_of_reach_ = 0;   // the nearest load not reached, by the last step that failed
};

}  // namespace totebench::studies
