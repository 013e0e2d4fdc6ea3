// What `totebench sweep` is to vary, over which values, in which design.
#pragma once

#include <string>
#include <vector>

namespace totebench::scenes {

// A key of the scene that differs from bag to bag, over levels that are listed or over a range.
struct Factor {
  std::string key;       // dotted, entries of lists by number from 1: "layers.upper.2.material"
  std::string levels;    // JSON text of a list; empty = a range
  std::string from, to;  // JSON texts; empty = levels
};

enum class SweepDesign { kFullFactorial, kLatinHypercube };

struct SweepSpec {
  std::vector<Factor> factors;
  SweepDesign design = SweepDesign::kFullFactorial;
  int bags = 0;  // 0 = not said
  unsigned seed = 1;
  std::string across, up;  // Figure::key of what the picture shows
};

// A full factorial of more bags than this is hung only where the scene says how many they are.
inline constexpr int kMostUnasked = 200;
inline constexpr int kMostSwept = 1000000;

}  // namespace totebench::scenes
