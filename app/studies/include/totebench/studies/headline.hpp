// The findings a maker asks for first, in the order in which they are told.
#pragma once

#include <array>
#include <string>

#include "totebench/scenes/findings.hpp"
#include "totebench/scenes/unit_text.hpp"

namespace totebench::studies {

struct Headline {
  const char* name;  // "bottom sag"
  const char* key;   // in findings.json
  double (*value)(const scenes::Findings& found);
  scenes::ShownUnit (*unit)(const std::string& units);
  const char* meaning;
};

// Places in kHeadlines: first the lengths, then forces.
enum HeadlinePlace : std::size_t {
  kHeadlineSag,
  kHeadlineLengthening,
  kHeadlineDropEmpty,
  kHeadlineDropLoaded,
  kHeadlineStrapLonger,
  kHeadlineStitch,
  kHeadlinePanelForce
};
inline constexpr std::size_t kHeadlineLengths = kHeadlineStitch;
inline constexpr std::array<Headline, 7> kHeadlines = {{
    {"bottom sag", "bottom_sag_m", [](const scenes::Findings& found) { return found.bottom_sag_m; },
     scenes::length_unit, "how much further the base dips below its own outline than when empty"},
    {"overall lengthening", "overall_lengthening_m",
     [](const scenes::Findings& found) { return found.overall_lengthening_m; }, scenes::length_unit,
     "how much lower the lowest point hangs than when empty"},
    {"strap drop, empty", "strap_drop_empty_m",
     [](const scenes::Findings& found) { return found.strap_drop_empty_m; }, scenes::length_unit,
     "underside of the strap at the hold point to the bag's top edge"},
    {"strap drop, loaded", "strap_drop_loaded_m",
     [](const scenes::Findings& found) { return found.strap_drop_loaded_m; }, scenes::length_unit,
     ""},
    {"strap drop, longer by", "strap_drop_lengthening_m",
     [](const scenes::Findings& found) { return found.strap_drop_lengthening_m; },
     scenes::length_unit, ""},
    {"hardest pulled stitch", "peak_stitch_N",
     [](const scenes::Findings& found) {
       const scenes::StrapSeamFinding* seam = scenes::hardest_pulled(found);
       return seam == nullptr ? 0.0 : seam->peak_stitch_N;
     },
     scenes::force_unit, "of all strap ends"},
    {"peak force in a panel", "peak_panel_force_N_per_m",
     [](const scenes::Findings& found) { return found.peak_panel_force_N_per_m; },
     scenes::line_force_unit, ""},
}};

}  // namespace totebench::studies
