// What fails first, at what load, how sure that is, and what mass may be trusted to the bag: the
// study behind `totebench rate`.
//
//   hang_tote -> finest mesh: load raised by solving until a mode reaches its strength
//             -> coarse mesh: the same load path, and how the demands differ, mode by mode
//             -> coarse mesh, demands so corrected, starts on that path: sampled bags (with
//                first-order sensitivities beside them); changed bags
#pragma once

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "totebench/studies/data_grade.hpp"
#include "totebench/studies/hang.hpp"
#include "totebench/studies/kept_work.hpp"
#include "totebench/studies/rate_climb.hpp"
#include "totebench/studies/rate_scatter.hpp"

namespace totebench::studies {

// Changes are told from none by more than the meshes leave uncertain.
inline constexpr double kWorthwhile = 1.05;
// Where a shape jumps depends on the steps it is loaded in as well (demo.json: 101 to 112 lb).
inline constexpr double kWorthwhileAtJump = 1.15;

struct RateOptions {
  double design_factor = 5;
  int samples = 200;
  unsigned seed = 1;
  bool changes = true;  // look for what would raise the rating
  KeptWork kept;        // finished samples and changes
};

// One sampled bag: load factors at which it would drop its load and at which it would be spoilt;
// 0 where none was found.
struct SampledBag {
  double drops = 0;
  double spoilt = 0;
  std::string drops_by;  // mode
  std::string spoilt_by;
};

// Scatter of one failure load, as sampled and to first order. Loads in kg of contents.
struct Spread {
  SampleBand sampled_kg;
  FirstOrder first_order;     // slopes in kg per unit of the input
  double first_order_kg = 0;  // standard deviation of the governing mode's load
  std::vector<std::pair<std::string, int>> governed_by;  // mode and number of bags, most first
};

struct Change {
  std::string what;   // "a box half as long again (57 mm)"
  int cost_rank = 0;  // 1 is the cheapest
  bool solved = false;
  std::string why_not;
  FirstFailure drops, spoilt;
  double rated_kg = 0;                    // not rounded
  std::vector<std::string> acts_on = {};  // modes
};

struct Rating {
  double set_mass_kg = 0;
  FirstFailure drops;  // finest mesh, mean data
  FirstFailure spoilt;
  Spread drops_spread, spoilt_spread;
  std::vector<ScatterInput> inputs;
  std::vector<SampledBag> bags;
  int bags_failed = 0;  // samples for which no failure load was found
  // A rating is given only where the load was raised until the bag dropped it, or as far as bags
  // are loaded at all, and the scatter was not lost with more than one bag in twenty.
  [[nodiscard]] bool well_founded() const {
    return can_be_given() && 20 * bags_failed <= static_cast<int>(bags.size());
  }
  [[nodiscard]] bool can_be_given() const { return drops.found || drops.at_limit; }
  double design_factor = 5;
  double shock_factor = 2;
  double drops_rating_kg = 0;   // low end of the band over the design factor
  double spoilt_rating_kg = 0;  // low end of the band over the shock factor
  double rated_kg = 0;          // the lesser, rounded down; 0 = none
  bool spoiling_governs = false;
  std::vector<Change> changes;  // cheapest first
  [[nodiscard]] const FirstFailure& limiting() const { return spoiling_governs ? spoilt : drops; }
  [[nodiscard]] double worthwhile() const {
    return limiting().at_jump ? kWorthwhileAtJump : kWorthwhile;
  }
  // Whether a change is made to the part that limits the rating. Any other that seems to raise it
  // shows what the meshes leave uncertain.
  [[nodiscard]] bool touches_limit(const Change& change) const {
    return std::count(change.acts_on.begin(), change.acts_on.end(), limiting().governing.mode) > 0;
  }
  // Index into changes: the cheapest that is worthwhile() and touches what limits.
  int advised = -1;
  std::string weakest_grade;  // of the data behind the governing capacity
  DataGrade data;             // of those and of what the loads of the typical bag follow from
  std::string factor_grade;   // of what that capacity's load was divided by; "" = set by the scene
};

struct Comfort {
  bool on_shoulder = false;  // the strap lies on a shoulder, for which no limit is known
  double low_Pa = 0;         // handles side by side in the hand
  double high_Pa = 0;        // handles on top of each other
  double limit_Pa = 0;
  double load_constant_kg = 0;
  double one_hand_kg = 0;
  double one_hand_share = 0;   // of the load constant, for one hand
  double body_mass_share = 0;  // gait changes above this share of the carrier's mass
};

struct RateResult {
  HangResult hang;
  Rating rating;
  Comfort at_set_load, at_rated_load;
  bool interrupted = false;
  double seconds = 0;
  [[nodiscard]] bool rated() const { return rating.rated_kg > 0 && !interrupted; }
};

// `library` is library_of(scene, ...). Throws std::invalid_argument on impossible geometry or a
// design factor below 1.
[[nodiscard]] RateResult rate_tote(const scenes::Scene& scene,
                                   const materials::MaterialLibrary& library,
                                   const RateOptions& options, const OnHangProgress& on_progress);

// No bag is loaded beyond this: far more than a hand can hold.
inline constexpr double kLargestMass_kg = 500;

// Down to steps of 0.5 kg (0.1 kg below 2 kg).
[[nodiscard]] inline double rounded_down_kg(double kg) {
  const double step = kg < 2 ? 0.1 : 0.5;
  return std::max(0.0, std::floor(kg / step + 1e-9) * step);
}

}  // namespace totebench::studies
