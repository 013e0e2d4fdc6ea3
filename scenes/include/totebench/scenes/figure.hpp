// The figures of a hanging tote. One line of kFigures says what a figure is called, in which unit
// it is, what it means and where it is told; findings.json and its schema, the headlines, their
// likely ranges, comparisons and the `expect` block of a scene all follow from it.
#pragma once

#include <array>
#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>

#include "totebench/scenes/findings.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {

using FigureValue = double (*)(const Findings& found);  // SI

enum FigureTold : unsigned {
  kToldInFile = 1,      // a key of findings.json itself; else it stands in a part of it
  kToldFirst = 2,       // a headline
  kToldCompared = 4,    // of several bags side by side, as every headline is
  kToldWhereThere = 8,  // 0 says that the bag has nothing of the kind
};

// What the likely range of a figure comes from.
enum class LikelyFrom {
  kNotKnown,
  kMaterials,  // scatter of the material data, followed on the coarse mesh
  kStitches    // the give of the stitches, on the mesh that is refined at the seams
};

struct Figure {
  const char* name;        // "bottom sag"
  const char* key;         // in findings.json
  const char* expect_key;  // in a scene's `expect`; null = not to be expected
  Dimension dimension;
  FigureValue value;
  const char* meaning;
  unsigned told;  // sum of FigureTold
  LikelyFrom likely_from = LikelyFrom::kNotKnown;
  std::string Findings::*where = nullptr;  // the place it belongs to

  [[nodiscard]] constexpr bool is_told(FigureTold place) const { return (told & place) != 0; }
  [[nodiscard]] constexpr bool headline() const { return is_told(kToldFirst); }
};

template <double Findings::*kMember>
[[nodiscard]] double member_of(const Findings& found) {
  return found.*kMember;
}

inline constexpr auto kFigures = std::to_array<Figure>({
    {"bottom sag", "bottom_sag_m", "bottom_sag", Dimension::kLength,
     member_of<&Findings::bottom_sag_m>,
     "how much further the base dips below the mean height of its own outline than when empty; "
     "without a base, how much lower the bag's lowest point hangs; below zero where the load draws "
     "flat what dipped more when empty, or spreads the walls and so lifts the bottom",
     kToldInFile | kToldFirst, LikelyFrom::kMaterials},
    {"overall lengthening", "overall_lengthening_m", "overall_lengthening", Dimension::kLength,
     member_of<&Findings::overall_lengthening_m>,
     "how much lower the lowest point hangs below the hold than when empty",
     kToldInFile | kToldFirst, LikelyFrom::kMaterials},
    {"strap drop, empty", "strap_drop_empty_m", "strap_drop_empty", Dimension::kLength,
     member_of<&Findings::strap_drop_empty_m>,
     "underside of the strap at the hold point straight down to the level of the opening where the "
     "strap is sewn on, mean of the straps",
     kToldInFile | kToldFirst, LikelyFrom::kMaterials},
    {"strap drop, loaded", "strap_drop_loaded_m", "strap_drop_loaded", Dimension::kLength,
     member_of<&Findings::strap_drop_loaded_m>, "the same of the loaded bag",
     kToldInFile | kToldFirst, LikelyFrom::kMaterials},
    {"strap drop, longer by", "strap_drop_lengthening_m", "strap_drop_lengthening",
     Dimension::kLength, member_of<&Findings::strap_drop_lengthening_m>,
     "strap drop, loaded less empty", kToldInFile | kToldFirst, LikelyFrom::kMaterials},
    {"hardest pulled stitch", "peak_stitch_N", "peak_stitch", Dimension::kForce, peak_stitch_N,
     "largest force on one stitch of any strap end", kToldInFile | kToldFirst | kToldWhereThere,
     LikelyFrom::kStitches},
    {"peak along a strap seam", "peak_N_per_m", "peak_strap_seam", Dimension::kForcePerLength,
     peak_along_strap_seam_N_per_m, "largest line force on the stitching of any strap end",
     kToldCompared | kToldWhereThere},
    {"peak force in a panel", "peak_panel_force_N_per_m", "peak_panel_force",
     Dimension::kForcePerLength, member_of<&Findings::peak_panel_force_N_per_m>,
     "hardest pull in the cloth, whichever way it runs", kToldInFile | kToldFirst,
     LikelyFrom::kNotKnown, &Findings::peak_panel_where},
    {"bending stress in the base sheet", "base_sheet_stress_Pa", "base_sheet_stress",
     Dimension::kPressure, member_of<&Findings::base_sheet_stress_Pa>,
     "largest bending stress in the base sheet; 0 without one",
     kToldInFile | kToldCompared | kToldWhereThere},
    {"friction the strap needs on the hook", "hook_friction_needed", nullptr, Dimension::kNone,
     member_of<&Findings::hook_friction_needed>,
     "coefficient with which the straps stay where they lie on the hook; 0 when held by hand",
     kToldInFile | kToldWhereThere},
    {"filled to", "fill_level_m", "fill_level", Dimension::kLength,
     member_of<&Findings::fill_level_m>,
     "depth of loose contents above the lowest point; 0 without them",
     kToldInFile | kToldWhereThere},
    {"mass of the bag", "bag_mass_kg", nullptr, Dimension::kMass, member_of<&Findings::bag_mass_kg>,
     "the empty bag", kToldCompared},
});

// The figure with this value; throws std::logic_error where there is none.
[[nodiscard]] constexpr const Figure& figure_of(FigureValue value) {
  for (const Figure& figure : kFigures) {
    if (figure.value == value) return figure;
  }
  throw std::logic_error("no figure has this value");
}
template <double Findings::*kMember>
[[nodiscard]] constexpr const Figure& figure_of() {
  return figure_of(member_of<kMember>);
}

// Place of one of kFigures in it.
[[nodiscard]] constexpr std::size_t place_of(const Figure& figure) {
  return static_cast<std::size_t>(&figure - kFigures.data());
}

// What a key of an `expect` block asks of a tote; null where it is none.
[[nodiscard]] constexpr const Figure* expected_figure(std::string_view expect_key) {
  for (const Figure& figure : kFigures) {
    if (figure.expect_key != nullptr && figure.expect_key == expect_key) return &figure;
  }
  return nullptr;
}

}  // namespace totebench::scenes
