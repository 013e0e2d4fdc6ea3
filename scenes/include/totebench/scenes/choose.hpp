// What `totebench choose` may choose between, what it is to look for, and within which limits.
#pragma once

#include <limits>
#include <string>
#include <vector>

namespace totebench::scenes {

inline constexpr double kNotGiven = std::numeric_limits<double>::quiet_NaN();

// One way to make a part of the bag.
struct Alternative {
  std::string name;
  std::string change;  // JSON text: a change of the scene's own keys (scenes/format/change.hpp)
  double price = kNotGiven;  // in the person's own currency
};

// A choice that can be made whatever is chosen elsewhere.
struct Option {
  std::string name;
  std::vector<Alternative> alternatives;  // the first is the one to begin with
};

// The most (of what it carries and how tall it stands: the least) that a build may show; NaN = no
// such limit.
struct ChooseLimits {
  double bottom_sag_m = kNotGiven;
  double overall_lengthening_m = kNotGiven;
  double strap_drop_m = kNotGiven;  // loaded
  double carries_kg = kNotGiven;    // times the design factor before the load is dropped
  double mass_kg = kNotGiven;       // of the empty bag
  double standing_height_m =
      kNotGiven;             // that an empty bag must stand to by itself, as its study has it
  double price = kNotGiven;  // of what is chosen
};

enum class ChooseAim { kLightest, kCheapest };

struct ChooseSpec {
  ChooseAim aim = ChooseAim::kLightest;
  std::vector<Option> options;
  ChooseLimits limits;
};

// More builds than this would take hours to tell apart.
inline constexpr int kMostBuilds = 500;

}  // namespace totebench::scenes
