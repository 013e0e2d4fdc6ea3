// Where the fastenings of a strap's end lie, for every pattern a scene can name, and what of it
// cannot be sewn. Box, box with cross and rows come from stitch_rows.hpp; here are the others:
//   bartacks     `rows` bars of `tack_stitches` zigzag stitches across the strap, `tack_width_m`
//                high, spread evenly over the length;
//   rivets       `rows` on the strap's centre line, caps within the length;
//   in the hem   two rows across, along the opening and along the hem's inner edge, through panel,
//                strap and turned hem: the thread crosses two joints and shears in both;
//   to the base  along both edges of the strap down to its end, a row across the end (caught in the
//                base seam), and a box with cross over the first `length_m`.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "totebench/scenes/stitch_rows.hpp"

namespace totebench::scenes {

// Points as in StitchRows, each one stitch (or rivet). Throws std::invalid_argument with the reason
// when a point would leave the strap or two fastenings lie on each other.
[[nodiscard]] StitchRows attachment_points(const Strap& strap);

// Distance between fastenings along their line: the stitch length, the mean step of a tack's
// zigzag, or the width of a rivet's cap.
[[nodiscard]] double fastening_spacing_m(const Strap& strap);

// Joints between plies that each fastening crosses: 2 in the hem, else 1. In shear each carries.
[[nodiscard]] int shear_planes(AttachmentPattern pattern);
[[nodiscard]] bool is_stitched(AttachmentPattern pattern);  // false for rivets

// Length of strap lying on the panel that a pattern asks for; 0 when the scene is free to choose.
[[nodiscard]] double overlap_of_pattern(const Strap& strap, const Bag& bag);

// Diameter of a sewing thread from its linear density (g/km), m:
//   d = sqrt(4 tex / (pi rho)),  rho = 850 kg/m3: fibre of 1400 packed to 0.6 (from memory).
[[nodiscard]] double thread_diameter_m(double tex);
// Below five thread diameters the needle, about two and a half diameters thick, cuts away more
// cloth along the line than it leaves, and loops lie on one another (common practice, no source).
[[nodiscard]] double shortest_stitch_m(double tex);

// What is wrong with an attachment: the key under /straps/attachment, the sentence, the cure.
struct AttachmentFault {
  std::string key;
  std::string what;
  std::string cure;
};
// A thread too thick for its stitches, in the strap or in a seam; nothing when it fits.
// Sentences give lengths in `units` (Scene::units).
[[nodiscard]] std::optional<AttachmentFault> thread_fault(double tex, double stitch_length_m,
                                                          const std::string& units = "cm");
// `tex` of the thread (0 = not known).
[[nodiscard]] std::vector<AttachmentFault> attachment_faults(const Strap& strap, const Bag& bag,
                                                             double tex,
                                                             const std::string& units = "cm");

}  // namespace totebench::scenes
