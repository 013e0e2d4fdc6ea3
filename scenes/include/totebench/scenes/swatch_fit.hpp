// From the measurements on a cloth to a material: every strip test is run on the solver and fitted.
//
// Bands. value: from the mean reading. low and high: from the lowest and the highest reading, each
// with ruler and scale off by their whole error, all in the direction that makes the result low or
// high. Several tests of one property: mean of their values, lowest low, highest high.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "totebench/scenes/swatch.hpp"

namespace totebench::scenes {

struct Band {
  double value = 0, low = 0, high = 0;
};

struct StripFit {
  StripTestKind kind = StripTestKind::kOverhang;
  std::string what;      // "overhang, warp, right side up"
  std::string property;  // "bending_rigidity_warp"
  int n_readings = 0;
  double reading_m = 0;     // mean
  double pull_N_per_m = 0;  // stretch: what it was pulled with
  double formula = 0;       // stiffness by the formula of the books (coupon.hpp), SI
  Band fit;                 // by the solver; of a strip: B or K
  int triangles = 0;
  bool found = false;
};

struct SwatchFit {
  std::vector<StripFit> strips;       // in the order of the file's kinds
  materials::Material material;       // complete; what was not measured is marked so
  std::vector<std::string> measured;  // its properties that were
  std::vector<std::string> remarks;   // sentences about what to mind
  bool complete = false;              // every strip was fitted
};

// Runs pieces of work that need nothing of each other, in any order or side by side.
using RunAll = std::function<void(const std::vector<std::function<void()>>&)>;

// `swatch` must have been read without errors with `library`.
[[nodiscard]] SwatchFit fit_swatch(const Swatch& swatch, const materials::MaterialLibrary& library,
                                   const RunAll& run);

// "overhang", as in the swatch file.
[[nodiscard]] const char* test_name(StripTestKind kind);

inline constexpr const char* kOwnSource = "own swatch";

}  // namespace totebench::scenes
