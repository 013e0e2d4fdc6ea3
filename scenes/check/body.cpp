// The body of a bag: sections, hem, corners and seams.
#include <fmt/format.h>

#include <algorithm>

#include "scenes/check/tote_rules.hpp"
#include "totebench/scenes/base_shape.hpp"

namespace totebench::scenes {
namespace {

// A round corner leaves this much of half the bag's width, and of the wall below the hem, straight.
constexpr double kRoundShareOfWidth = 0.48;
constexpr double kRoundShareOfWall = 0.95;

void check_corner_radius(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  const double most =
      std::min(kRoundShareOfWidth * bag.width_m, kRoundShareOfWall * (bag.height_m - bag.hem_m));
  if (!(bag.corner_radius_m > most)) return;
  tote.report.error(
      "/bag/corner_radius",
      fmt::format("the lower corners cannot have a radius of {} on a bag {} wide and {} high",
                  tote.len(bag.corner_radius_m), tote.len(bag.width_m), tote.len(bag.height_m)),
      fmt::format("at most {}: a little less than half the width, and than the height below the "
                  "hem",
                  tote.at_most(most)));
}

void check_hem(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  if (bag.hem_m >= bag.height_m) {
    tote.report.error("/bag/hem",
                      fmt::format("a hem of {} does not fit a bag {} high", tote.len(bag.hem_m),
                                  tote.len(bag.height_m)),
                      "the hem is the turned edge at the opening, usually 1 in");
  } else if (bag.upper_height_m > 0 && bag.hem_m >= bag.upper_height_m) {
    tote.report.error("/bag/hem",
                      fmt::format("the hem ({}) reaches down to the crosswise seam ({} below the "
                                  "opening)",
                                  tote.len(bag.hem_m), tote.len(bag.upper_height_m)),
                      "make hem less than upper_height");
  }
}

void check_seams(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  const double narrowest = has_flat_base(bag) ? std::min(bag.width_m, bag.depth_m) : bag.width_m;
  if (2 * bag.seam_allowance_m >= narrowest) {
    tote.report.error("/bag/seam_allowance",
                      fmt::format("two seam allowances of {} do not fit a panel {} wide",
                                  tote.len(bag.seam_allowance_m), tote.len(narrowest)),
                      "1/4 in to 5/8 in is usual");
  }
  const double strip = bag.width_m / (bag.lengthwise_seams + 1);
  if (bag.lengthwise_seams > 0 && strip < 2 * bag.seam_allowance_m) {
    tote.report.error(
        "/bag/lengthwise_seams",
        fmt::format("{} lengthwise seams leave strips of {}, less than two seam allowances",
                    bag.lengthwise_seams, tote.len(strip)),
        "use fewer lengthwise seams or a smaller seam_allowance");
  }
}

}  // namespace

void check_body(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  if (bag.shape == BagShape::kPieces) check_pieces(tote);
  if (bag.upper_height_m >= bag.height_m) {
    tote.report.error("/bag/upper_height",
                      fmt::format("the upper section ({}) is as high as the whole bag ({})",
                                  tote.len(bag.upper_height_m), tote.len(bag.height_m)),
                      "upper_height is measured from the opening down to the crosswise seam; make "
                      "it less than height");
  }
  if (bag.shape == BagShape::kRounded) check_corner_radius(tote);
  if (has_flat_base(bag) && bag.depth_m > bag.width_m) {
    tote.report.warning("/bag/depth",
                        fmt::format("the bag is deeper ({}) than wide ({})", tote.len(bag.depth_m),
                                    tote.len(bag.width_m)),
                        "were width and depth swapped?");
  }
  check_hem(tote);
  check_seams(tote);
}

}  // namespace totebench::scenes
