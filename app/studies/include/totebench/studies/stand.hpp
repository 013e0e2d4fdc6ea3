// Does the bag stand by itself, empty and loaded? The study behind `totebench stand`.
//
// The bag is put on a level table, its straps laid aside: their sewn ends stay, the rest weighs on
// the rim where the strap leaves it. With friction and contact, as it hangs:
//
//   its own weight rising by doubling, from kLeastOwnWeights of it to kMostOwnWeights times, on the
//   coarse mesh
//   -> one that stands under it: carried to each finer mesh
//      one that does not: as it comes to lie                                              -> empty
//   -> the contents put in; a bag that does not stand is held open meanwhile             -> loaded
//
// A bag stands while no part of the opening's edge is lower than kStandingShare of the pattern's
// height. A weight under which only a lower shape is found, or none, ends the climb, and is closed
// in on until it is known to a fifth. What is found is one stable way to stand: a push can bring
// the bag to another.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "totebench/scenes/standing_shape.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench::studies {

inline constexpr double kStandingShare = 0.75;
inline constexpr double kLeastOwnWeights = 1.0 / 16;
inline constexpr double kMostOwnWeights = 4;

// One state of the bag on the table.
struct Stood {
  solver::State state;
  solver::SolveReport report;
  scenes::StandingShape shape;         // where it came to rest
  scenes::StandingShape coarse_shape;  // likewise, on the coarse mesh
  bool up = false;                     // at rest, and standing as above
  [[nodiscard]] bool at_rest() const {
    return report.status == solver::SolveStatus::kConverged && report.stable;
  }
};

struct Standing {
  scenes::Tote tote;        // on the mesh of the states: the finest on which both came to rest
  scenes::Tote empty_tote;  // the same without contents, its own weight as payload
  solver::State as_placed;  // of empty_tote: as the pattern has it, nothing pulling on it
  Stood empty;              // of empty_tote, under its own weight
  Stood loaded;             // of tote
  double stood_under = 0;   // times its own weight: the most under which it stood, coarse mesh
  // The least, likewise, under which it did not; empty where it stood under all that was tried.
  std::optional<double> down_under;
  double columns_m = 0;  // scenes::standing_height_m of its walls
  bool interrupted = false;
  HangEffort effort;
};

// Why this bag cannot be asked: it has no base to stand on. "" for others.
[[nodiscard]] std::string why_not_stood(const scenes::Scene& scene);

// `library`, `level` and what is thrown as for hang_tote(). The scene's support is not used.
[[nodiscard]] Standing stand_tote(const scenes::Scene& scene,
                                  const materials::MaterialLibrary& library,
                                  const OnHangProgress& on_progress,
                                  std::optional<int> level = std::nullopt);

// How tall a bag like this one could be and still stand empty by itself: its own height times the
// cube root of how many times its own weight it stood under, on the coarse mesh. (A bag of the same
// make and s times the size is bent by its weight as this one is by s^3 times its own.) As little
// as kLeastOwnWeights and at most kMostOwnWeights of it are told apart; 0 for a bag with no base.
[[nodiscard]] double height_it_stands_to_m(const scenes::Scene& scene,
                                           const materials::MaterialLibrary& library,
                                           const OnHangProgress& on_progress);

}  // namespace totebench::studies
