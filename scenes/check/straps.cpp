// Straps: where they are sewn on, what they are made of, what holds them.
#include "scenes/builder/straps/straps.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "scenes/builder/mesh/pattern_mesh.hpp"
#include "scenes/builder/tote/tote_sections.hpp"
#include "scenes/check/tote_rules.hpp"
#include "totebench/materials/stack.hpp"
#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/build.hpp"

namespace totebench::scenes {
namespace {

constexpr double kRoomForAHand = 1.3;      // of the distance between a strap's ends
constexpr double kStrapShareOfFlat = 0.5;  // of a flat bag's width, for a strap on its side seam
constexpr double kOverlapShare = 0.9;      // of the straight wall

double ends_apart_m(const Scene& scene) {
  const Strap& strap = scene.straps.front();
  return strap.style == StrapStyle::kTwoHandles ? strap.spacing_m : scene.bag.width_m / 2;
}

void check_handle_ends(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  const Strap& strap = tote.scene.straps.front();
  const double widest = (bag.width_m - 3 * kStrapMargin_m) / 2;
  const double most = bag.width_m - strap.width_m - 2 * kStrapMargin_m;
  if (strap.width_m >= bag.width_m) {
    tote.report.error("/straps/width",
                      fmt::format("the strap ({}) is wider than the bag ({})",
                                  tote.len(strap.width_m), tote.len(bag.width_m)),
                      "straps of 1 in to 1 1/2 in are usual");
  } else if (strap.width_m > widest) {
    tote.report.error("/straps/width",
                      fmt::format("two strap ends of {} do not fit beside each other on a front {} "
                                  "wide",
                                  tote.len(strap.width_m), tote.len(bag.width_m)),
                      fmt::format("at most {}", tote.at_most(widest)));
  } else if (strap.spacing_m > most) {
    const bool outside = strap.spacing_m + strap.width_m > bag.width_m;
    tote.report.error(
        "/straps/spacing",
        fmt::format(
            "the strap ends lie {}: {} apart, {} wide, on a front {} wide",
            outside ? "outside the bag"
                    : fmt::format("nearer than {} to the bag's sides", tote.len(kStrapMargin_m)),
            tote.len(strap.spacing_m), tote.len(strap.width_m), tote.len(bag.width_m)),
        fmt::format("spacing is from centre to centre; at most {}", tote.at_most(most)));
  } else if (strap.spacing_m < strap.width_m + kStrapMargin_m) {
    tote.report.error(
        "/straps/spacing",
        fmt::format("the two ends of a handle {}: {} apart, {} wide",
                    strap.spacing_m < strap.width_m
                        ? "lie on each other"
                        : fmt::format("are nearer than {} to each other", tote.len(kStrapMargin_m)),
                    tote.len(strap.spacing_m), tote.len(strap.width_m)),
        fmt::format("spacing is from centre to centre and must be more than the strap's width; "
                    "at least {}",
                    tote.at_least(strap.width_m + kStrapMargin_m)));
  }
}

void check_shoulder_ends(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  const Strap& strap = tote.scene.straps.front();
  const bool sides = has_flat_base(bag);
  const double widest = sides ? bag.depth_m - 2 * kStrapMargin_m : kStrapShareOfFlat * bag.width_m;
  if (!(strap.width_m > widest)) return;
  tote.report.error(
      "/straps/width",
      sides ? fmt::format("the shoulder strap ({}) is wider than the sides it is sewn to ({}) less "
                          "{} at either edge",
                          tote.len(strap.width_m), tote.len(bag.depth_m), tote.len(kStrapMargin_m))
            : fmt::format("the shoulder strap ({}) is too wide for a flat bag {} wide",
                          tote.len(strap.width_m), tote.len(bag.width_m)),
      sides
          ? fmt::format("make the strap narrower than bag.depth; at most {}", tote.at_most(widest))
          : fmt::format("at most {}", tote.at_most(widest)));
}

void check_overlap(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  const Strap& strap = tote.scene.straps.front();
  const bool round = bag.shape == BagShape::kRounded;
  const double straight = round ? bag.height_m - bag.corner_radius_m : bag.height_m;
  const bool to_base = strap.attachment.pattern == AttachmentPattern::kToBase;
  if (!(to_base ? strap.overlap_m > straight : strap.overlap_m >= kOverlapShare * straight)) return;
  const double most = to_base ? straight : 0.99 * kOverlapShare * straight;
  // An overlap that is not given follows from the fastening.
  const char* at = tote.report.given("/straps/overlap") ? "/straps/overlap"
                   : to_base                            ? "/straps/attachment/pattern"
                                                        : "/straps/attachment/length";
  tote.report.error(
      at,
      fmt::format("the strap overlaps the panel by {}, but the wall is {} high{}",
                  tote.len(strap.overlap_m), tote.len(straight),
                  round ? " above its round corners" : ""),
      fmt::format("overlap is the length lying on the panel at each end, usually 1 in to 4 in; at "
                  "most {} here",
                  tote.at_most(most)));
}

void check_strap_material(const ToteUnderCheck& tote) {
  const Strap& strap = tote.scene.straps.front();
  const std::string at = "/straps/material";
  const materials::Material* material = tote.library.find(strap.material);
  if (material == nullptr || !(strap.width_m > 0)) return;
  const bool webbing = material->category == "strap";
  if (webbing && strap.plies > 1) {
    tote.report.error(
        "/straps/plies",
        fmt::format("{} is a finished strap and cannot have {} plies", strap.material, strap.plies),
        "take out plies, or name a cloth to be folded as the material");
    return;
  }
  if (!webbing && material->category != "fabric") {
    tote.report.warning(at,
                        fmt::format("{} is sold as {}, not as a strap or a cloth", strap.material,
                                    material->category),
                        "webbing, leather or folded cloth are usual");
  }
  if (material->category == "fabric" && strap.plies == 1) {
    tote.report.warning(at, "a strap of one ply of cloth", "folded straps have \"plies\": 4");
  }
  const materials::Quantity* width = webbing ? material->find("width") : nullptr;
  if (width != nullptr && width->value > 0 && std::abs(strap.width_m / width->value - 1) > 0.3) {
    tote.report.warning("/straps/width",
                        fmt::format("the numbers of {} were found at a width of {}", strap.material,
                                    tote.len(width->value)),
                        "they are scaled to this width");
  }
  try {
    (void)materials::strap_section(tote.library, *material, strap.width_m, std::max(1, strap.plies),
                                   strap.thickness_m);
  } catch (const std::invalid_argument& error) {
    tote.report.error(at, fmt::format("no strap can be made of this: {}", error.what()),
                      "choose webbing, leather or a cloth");
  }
}

double strap_thickness_m(const ToteUnderCheck& tote) {
  return strap_section_of(tote.scene, tote.library).section.thickness_m;
}

bool can_be_laid(const ToteUnderCheck& tote, double length_m) {
  Scene scene = tote.scene;
  scene.straps.front().length_m = length_m;
  try {
    (void)make_ribbons(scene, make_pattern(scene, scene.mesh.size_m), strap_thickness_m(tote));
  } catch (const std::invalid_argument&) {
    return false;
  }
  return true;
}

// Within 1 %; nothing when even twenty times the length given would not do.
std::optional<double> shortest_that_reaches(const ToteUnderCheck& tote) {
  double low = tote.scene.straps.front().length_m;
  double high = 1.3 * low;
  while (!can_be_laid(tote, high)) {
    if (high > 20 * tote.scene.straps.front().length_m) return std::nullopt;
    low = high;
    high *= 1.3;
  }
  while (high > 1.01 * low) {
    const double middle = 0.5 * (low + high);
    (can_be_laid(tote, middle) ? high : low) = middle;
  }
  return high;
}

}  // namespace

void check_straps(const ToteUnderCheck& tote) {
  const Strap& strap = tote.scene.straps.front();
  if (strap.style == StrapStyle::kTwoHandles) {
    check_handle_ends(tote);
  } else {
    check_shoulder_ends(tote);
  }
  const double apart = ends_apart_m(tote.scene);
  if (strap.length_m <= apart) {
    tote.report.error("/straps/length",
                      fmt::format("a strap {} long cannot reach between its ends, {} apart",
                                  tote.len(strap.length_m), tote.len(apart)),
                      "length is the visible length, about twice the strap drop plus the spacing");
  } else if (strap.length_m < kRoomForAHand * apart) {
    tote.report.warning("/straps/length", "there is hardly room for a hand under so short a strap",
                        "length is about twice the strap drop plus the spacing");
  }
  check_overlap(tote);
  check_strap_material(tote);
}

void check_support(const ToteUnderCheck& tote) {
  const Support& support = tote.scene.support;
  if (support.kind == SupportKind::kTable) return;
  const Strap& strap = tote.scene.straps.front();
  const bool hook = support.kind == SupportKind::kHook;
  const double size = hook ? support.diameter_m : support.grip_width_m;
  if (size >= strap.length_m / 2) {
    tote.report.error(
        hook ? "/support/diameter" : "/support/grip_width",
        hook ? fmt::format("a peg of {} does not fit under a strap {} long", tote.len(size),
                           tote.len(strap.length_m))
             : fmt::format("a grip of {} does not fit a strap {} long", tote.len(size),
                           tote.len(strap.length_m)),
        hook ? "10 mm to 40 mm is usual" : "make the strap longer or the grip narrower");
    return;
  }
  if (tote.report.has_errors()) return;
  // Each leg between hold and panel is longer than the strap is wide.
  const double held = held_length_m(support, strap_thickness_m(tote));
  const double leg = (strap.length_m - held) / 2;
  if (!(leg <= strap.width_m)) return;
  tote.report.error(
      "/straps/length",
      fmt::format("the strap ({}) is too short to be held: {} of it {} and leave {} on each side, "
                  "less than its width",
                  tote.len(strap.length_m), tote.len(held),
                  hook ? "lie on the peg" : "lie in the hand", tote.at_most(leg)),
      fmt::format("make the strap {} or longer, or the {} smaller",
                  tote.at_least(1.01 * (held + 2 * strap.width_m)), hook ? "peg" : "grip"));
}

void check_reach(const ToteUnderCheck& tote) {
  const Strap& strap = tote.scene.straps.front();
  if (tote.report.has_errors() || can_be_laid(tote, strap.length_m)) return;
  const std::optional<double> enough = shortest_that_reaches(tote);
  tote.report.error(
      "/straps/length",
      fmt::format("a strap {} long does not reach from its ends, {} apart, around {}",
                  tote.len(strap.length_m), tote.len(ends_apart_m(tote.scene)),
                  tote.scene.support.kind == SupportKind::kHook
                      ? fmt::format("a peg of {}", tote.len(tote.scene.support.diameter_m))
                      : fmt::format("a grip of {}", tote.len(tote.scene.support.grip_width_m))),
      (enough ? fmt::format("make the strap {} or longer, or set", tote.at_least(*enough))
              : std::string("make the strap much longer, or set")) +
          " its ends nearer to each other");
}

void check_triangles_on_pieces(const ToteUnderCheck& tote) {
  if (tote.report.has_errors()) return;
  const double coarsest = tote.scene.mesh.size_m * std::pow(2.0, finest_level(tote.scene));
  try {
    Pattern pattern = make_pattern(tote.scene, coarsest);
    add_footprint_lines(make_ribbons(tote.scene, pattern, strap_thickness_m(tote)), pattern);
    (void)mesh_pattern(pattern, coarsest);
  } catch (const std::invalid_argument& error) {
    tote.report.error(
        "/bag/pieces", fmt::format("the pieces cannot be meshed: {}", error.what()),
        "edges that nearly touch and small slanted steps do no good to a seam either");
  }
}

}  // namespace totebench::scenes
