// Several bags hung one after the other and laid side by side: the study behind `compare`.
#pragma once

#include <string>
#include <vector>

#include "totebench/scenes/figure.hpp"
#include "totebench/studies/hang.hpp"
#include "totebench/studies/likely_range.hpp"

namespace totebench::studies {

// What one bag has that another has not, in words for people.
struct BagDifference {
  std::vector<std::string> added;    // "stiff nonwoven sew-in stabilizer 1 mm"
  std::vector<std::string> removed;  // the same
  std::vector<std::string> changed;  // "bag.depth 6 in instead of 5 in"
  [[nodiscard]] bool none() const { return added.empty() && removed.empty() && changed.empty(); }
};

// Layers, base sheet and every other key of the scenes, except names, notes, mesh and expectations.
// The library must know the materials of both.
[[nodiscard]] BagDifference difference(const scenes::Scene& from, const scenes::Scene& to,
                                       const materials::MaterialLibrary& library,
                                       const std::string& units);

// "adding a and b, leaving out c"; "" when there is no difference.
[[nodiscard]] std::string difference_text(const BagDifference& difference);

struct ComparedBag {
  scenes::Scene scene;
  HangResult result;
  BagDifference from_first;
};

struct Comparison {
  std::vector<ComparedBag> bags;
  [[nodiscard]] bool all_converged() const;
};

// Where nine in ten differences b - a of a figure lie, SI. A number of the library that both bags
// draw on is the same in both and moves the difference by what it moves b less what it moves a; all
// are added in squares as in likely_range(). On top comes by how much the difference moved from the
// coarse meshes, where both bags have the figure on one. Without DataScatter of both, or for a
// figure that does not have its range from the materials, it speaks of the meshes alone.
[[nodiscard]] Range difference_range(const HangResult& a, const HangResult& b,
                                     const scenes::Figure& figure);

// Can a figure of two bags at rest be told apart? Not where their difference may as well be none
// (difference_range), nor where it is less than what a second shape of either bag changes (bottom
// sag and strap drop).
[[nodiscard]] bool can_be_told_apart(const HangResult& a, const HangResult& b,
                                     const scenes::Figure& figure);

// Hangs every scene, `with_ranges` with its DataScatter. Stops early when `on_progress` returns
// false; the bags after that are missing.
[[nodiscard]] Comparison compare_totes(const std::vector<scenes::Scene>& scenes,
                                       const materials::MaterialLibrary& library,
                                       const std::string& units, const OnHangProgress& on_progress,
                                       bool with_ranges = false);

}  // namespace totebench::studies
