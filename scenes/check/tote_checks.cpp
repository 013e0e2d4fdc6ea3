#include "scenes/check/tote_checks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>
#include <string>
#include <vector>

#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

// Cloth left between a strap's end and the next edge, and between two ends.
constexpr double kStrapMargin_m = 0.004;

class Checker {
 public:
  explicit Checker(const Scene& scene) : scene_(scene) {}

  void run() {
    bag();
    if (wrong_.empty()) {  // the rest compares with a bag that has sizes
      straps();
      base();
      support_and_contents();
    }
    if (wrong_.empty()) return;
    std::string all;
    for (const std::string& sentence : wrong_) all += (all.empty() ? "" : " ") + sentence;
    throw std::invalid_argument(all);
  }

 private:
  template <class... Args>
  void require(bool holds, fmt::format_string<Args...> text, Args... args) {
    if (!holds) wrong_.push_back(fmt::vformat(text, fmt::make_format_args(args...)));
  }

  [[nodiscard]] bool flat() const {
    return scene_.bag.shape == BagShape::kRounded || scene_.bag.shape == BagShape::kSack;
  }

  void bag() {
    const Bag& b = scene_.bag;
    require(b.width_m > 0 && b.height_m > 0, "The bag needs a width and a height above zero.");
    if (!wrong_.empty()) return;
    if (!flat()) require(b.depth_m > 0, "A bag with a base needs a depth above zero.");
    require(b.depth_m >= 0, "The bag's depth is below zero.");
    if (flat()) {
      require(b.depth_m / 2 < 0.9 * b.height_m,
              "Half the bag's depth ({:.0f} mm) leaves nothing of its height ({:.0f} mm).",
              in_mm(b.depth_m / 2), in_mm(b.height_m));
    }
    require(b.hem_m >= 0 && b.hem_m < b.height_m, "The hem ({:.0f} mm) is as deep as the bag.",
            in_mm(b.hem_m));
    require(b.upper_height_m >= 0 && b.upper_height_m < b.height_m,
            "The upper section ({:.0f} mm) must be lower than the bag ({:.0f} mm).",
            in_mm(b.upper_height_m), in_mm(b.height_m));
    require(b.upper_height_m == 0 || b.upper_height_m > b.hem_m,
            "The crosswise seam ({:.0f} mm down) lies in the hem ({:.0f} mm deep).",
            in_mm(b.upper_height_m), in_mm(b.hem_m));
    require(b.lengthwise_seams >= 0 && b.lengthwise_seams <= 20,
            "Between 0 and 20 lengthwise seams can be set, not {}.", b.lengthwise_seams);
    require(b.seam_allowance_m >= 0, "The seam allowance is below zero.");
    if (b.shape == BagShape::kRounded) {
      require(
          b.corner_radius_m > 0 && b.corner_radius_m <= 0.48 * b.width_m &&
              b.corner_radius_m <= 0.95 * (b.height_m - b.hem_m),
          "The corner radius ({:.0f} mm) must be above zero and fit into half the width and the "
          "height below the hem.",
          in_mm(b.corner_radius_m));
    }
  }

  void straps() {
    const Bag& b = scene_.bag;
    if (scene_.straps.size() != 1) {
      wrong_.emplace_back(
          "The bag needs exactly one strap entry (its style says how many ribbons).");
      return;
    }
    const Strap& s = scene_.straps.front();
    const bool handles = s.style == StrapStyle::kTwoHandles;
    require(s.width_m > 0 && s.length_m > 0 && s.overlap_m > 0,
            "A strap needs a width, a length and an overlap on the panel above zero.");
    if (!wrong_.empty()) return;
    if (handles) {
      require(s.spacing_m + s.width_m <= b.width_m - 2 * kStrapMargin_m,
              "Strap ends {:.0f} mm apart and {:.0f} mm wide do not fit on a bag {:.0f} mm wide.",
              in_mm(s.spacing_m), in_mm(s.width_m), in_mm(b.width_m));
      require(s.spacing_m >= s.width_m + kStrapMargin_m,
              "The two ends of a handle touch or lie on each other: they are {:.0f} mm apart, "
              "centre to "
              "centre, and {:.0f} mm wide.",
              in_mm(s.spacing_m), in_mm(s.width_m));
    } else if (flat()) {
      require(s.width_m < 0.5 * b.width_m, "The strap ({:.0f} mm) is too wide for the bag.",
              in_mm(s.width_m));
    } else {
      require(s.width_m <= b.depth_m - 2 * kStrapMargin_m,
              "A shoulder strap {:.0f} mm wide does not fit on sides {:.0f} mm deep.",
              in_mm(s.width_m), in_mm(b.depth_m));
    }
    const double straight =
        b.shape == BagShape::kRounded ? b.height_m - b.corner_radius_m : b.height_m;
    const bool to_base = s.attachment.pattern == AttachmentPattern::kToBase;
    require(s.overlap_m < 0.9 * straight || (to_base && s.overlap_m <= straight),
            "The strap overlaps the panel by {:.0f} mm, more than the panel has.",
            in_mm(s.overlap_m));
    const Attachment& a = s.attachment;
    require(a.stitch_length_m > 0, "The strap's stitching needs a stitch length above zero.");
    require(
        a.top_offset_m >= 0 && a.top_offset_m + a.length_m <= s.overlap_m + 1e-9,
        "The stitched part of the strap reaches {:.0f} mm below the opening, but the strap ends "
        "{:.0f} mm below it.",
        in_mm(a.top_offset_m + a.length_m), in_mm(s.overlap_m));
    if (a.pattern == AttachmentPattern::kRows) {
      require(a.rows >= 1, "The strap is stitched on with no row of stitches.");
      require(a.rows <= 1 || a.length_m > 0,
              "Several rows of stitches need a length to spread over.");
    } else {
      require(a.length_m > 0, "The stitched box of the strap needs a length above zero.");
    }
  }

  void base() {
    const Bag& b = scene_.bag;
    const BaseSheet& sheet = scene_.base;
    if (sheet.kind != BaseKind::kNone) {
      if (flat()) {
        wrong_.emplace_back("A bag that is flat when empty has no base to put a base sheet on.");
        return;
      }
      const double side = std::min(b.width_m, b.depth_m) - 2 * sheet.clearance_m;
      require(sheet.clearance_m >= 0,
              "The base sheet is larger than the bag's base (clearance {:.1f} mm).",
              in_mm(sheet.clearance_m));
      require(side > 0.01, "The base sheet's clearance ({:.1f} mm) leaves no sheet.",
              in_mm(sheet.clearance_m));
      require(sheet.corner_radius_m >= 0 && sheet.corner_radius_m <= side / 2,
              "The base sheet's corner radius ({:.0f} mm) is more than half its side.",
              in_mm(sheet.corner_radius_m));
    }
    const Feet& feet = scene_.feet;
    require(feet.count == 0 || feet.count == 4 || feet.count == 5,
            "A bag has 0, 4 or 5 feet, not {}.", feet.count);
    if (feet.count > 0) {
      require(!flat(), "A bag that is flat when empty has no base to put feet on.");
      require(flat() || (feet.inset_m > 0 && 2 * feet.inset_m < std::min(b.width_m, b.depth_m)),
              "Feet set in {:.0f} mm from the edges do not fit on the base.", in_mm(feet.inset_m));
    }
  }

  void support_and_contents() {
    const Support& s = scene_.support;
    require(s.kind != SupportKind::kHook || s.diameter_m > 0,
            "The hook needs a diameter above zero.");
    require(s.kind != SupportKind::kHand || s.grip_width_m > 0,
            "The hand needs a grip width above zero.");
    const Contents& c = scene_.contents;
    require(c.mass_kg >= 0, "The contents weigh less than nothing.");
    require(c.kind != ContentsKind::kLoose || c.mass_kg == 0 || c.bulk_density_kg_per_m3 > 0,
            "Loose contents need a bulk density above zero.");
  }

  const Scene& scene_;
  std::vector<std::string> wrong_;
};

}  // namespace

void check_tote_geometry(const Scene& scene) { Checker(scene).run(); }

}  // namespace totebench::scenes
