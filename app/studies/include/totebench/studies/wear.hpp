// What a year of carrying does to a bag: the study behind `totebench wear`.
//
//   carry (walking, picked up)      -> peaks over hanging still
//   hang (new)                      -> shares of the strengths used up hanging still
//   both, with S-N lines            -> uses until each mode wears through
//   new loaded bag, aged materials  -> shape after a day, a month, a year of this use
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "totebench/studies/carry.hpp"

namespace totebench::studies {

inline constexpr double kMostUses = 1e6;       // beyond it the S-N lines say nothing
inline constexpr double kSoftenedShare = 0.5;  // of a stabilizer's bending rigidity

// One way to wear through. Shares are of the static strength at its typical value; the band of the
// uses takes every strength and slope at the weak (strong) end of its data.
struct WearMode {
  std::string mode;  // as in totebench/scenes/utilisation.hpp
  std::string what;
  double share_still = 0;
  double share_walking = 0;  // at the peak of a step
  double share_lifted = 0;   // at the peak of being picked up
  double uses = 0;
  double uses_low = 0;
  double uses_high = 0;
  std::string grade;  // the weaker of strength's and slope's
};

struct AgedShape {
  std::string after;  // "a month"
  double days = 0;
  double loaded_s = 0;  // in all, hanging loaded
  bool converged = false;
  double bottom_sag_m = 0;  // from where the new bag hung empty
  double strap_drop_m = 0;
};

enum class Verdict { kEndures, kFails, kNotDecided };

struct WearResult {
  HangResult fresh;
  CarryResult carried;
  double walking_factor = 0;         // peak support force over the weight
  double walking_stitch_factor = 0;  // peak stitch force over the same hanging still
  double lifted_factor = 0;
  double lifted_stitch_factor = 0;
  double steps_a_use = 0;
  std::vector<WearMode> modes;    // first to go first
  bool every_mode_known = false;  // strengths and S-N lines for all that could end a carry test
  std::vector<AgedShape> shapes;
  std::optional<double> softened_sag_m;  // with limp stabilizers; nothing without any
  std::optional<Verdict> carry_test;     // only where the scene's use asks for one
  std::string not_found;                 // what ended the study early: "hanging new", ...
  [[nodiscard]] bool whole() const;      // everything above was found
};

// `modes` stays empty where the bag finds no stable rest or was not carried to the end. Throws like
// hang_tote.
[[nodiscard]] WearResult wear_tote(const scenes::Scene& scene,
                                   const materials::MaterialLibrary& library,
                                   const OnHangProgress& on_progress);

// Whether a bag endures `uses` when its first mode wears through after `low` to `high`.
[[nodiscard]] Verdict verdict_of(double uses, double low, double high);

}  // namespace totebench::studies
