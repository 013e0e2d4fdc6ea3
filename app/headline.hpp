// The lengths a maker asks for first, in the order in which they are told.
#pragma once

#include <array>

#include "scenes/findings.hpp"

namespace totebench {

struct HeadlineLength {
  const char* name;           // "bottom sag"
  const char* key;            // in findings.json
  double Findings::*value_m;  // m
  const char* meaning;
};

inline constexpr std::array<HeadlineLength, 5> kHeadlineLengths = {{
    {"bottom sag", "bottom_sag_m", &Findings::bottom_sag_m,
     "how much further the base dips below its own outline than when empty"},
    {"overall lengthening", "overall_lengthening_m", &Findings::overall_lengthening_m,
     "how much lower the lowest point hangs than when empty"},
    {"strap drop, empty", "strap_drop_empty_m", &Findings::strap_drop_empty_m,
     "underside of the strap at the hold point to the bag's top edge"},
    {"strap drop, loaded", "strap_drop_loaded_m", &Findings::strap_drop_loaded_m, ""},
    {"strap drop, longer by", "strap_drop_lengthening_m", &Findings::strap_drop_lengthening_m, ""},
}};

}  // namespace totebench
