// The sheet in the bottom of a bag, and the feet under it.
#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

#include "scenes/check/tote_rules.hpp"
#include "totebench/materials/stack.hpp"
#include "totebench/scenes/base_shape.hpp"

namespace totebench::scenes {
namespace {

constexpr double kSmallestSheet_m = 0.010;

void check_sheet_size(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  const BaseSheet& sheet = tote.scene.base;
  const double smaller = std::min(base_width_m(bag), bag.depth_m) - 2 * sheet.clearance_m;
  if (smaller <= kSmallestSheet_m) {
    tote.report.error(
        "/base/clearance",
        fmt::format("a clearance of {} on each side leaves {} of a base {} by {}",
                    tote.len(sheet.clearance_m),
                    smaller > 0 ? fmt::format("a strip of {}", tote.len(smaller)) : "nothing",
                    tote.len(base_width_m(bag)), tote.len(bag.depth_m)),
        "clearance is a few millimetres");
  } else if (sheet.corner_radius_m > smaller / 2) {
    tote.report.error("/base/corner_radius",
                      fmt::format("a radius of {} does not fit a sheet {} wide",
                                  tote.len(sheet.corner_radius_m), tote.len(smaller)),
                      fmt::format("at most {}", tote.at_most(smaller / 2)));
  }
}

void check_sheet_material(const ToteUnderCheck& tote) {
  const BaseSheet& sheet = tote.scene.base;
  const std::string usual = "hdpe_sheet, pp_sheet and chipboard_2mm are usual";
  const materials::Material* material = tote.library.find(sheet.material);
  if (material == nullptr) return;
  const std::string& category = material->category;
  if (category == "strap") {
    tote.report.error("/base/material", fmt::format("{} is a strap, not a sheet", sheet.material),
                      usual);
    return;
  }
  if (category == "fabric" || category == "interfacing") {
    tote.report.warning("/base/material",
                        fmt::format("{} is too soft to serve as a base", sheet.material), usual);
  }
  try {
    (void)materials::ply_section(*material, sheet.thickness_m);
  } catch (const std::invalid_argument& error) {
    tote.report.error("/base/material",
                      fmt::format("no sheet can be made of this: {}", error.what()), usual);
  }
}

}  // namespace

void check_base(const ToteUnderCheck& tote) {
  if (tote.scene.base.kind == BaseKind::kNone) return;
  if (!has_flat_base(tote.scene.bag)) {
    tote.report.error("/base/kind", "this shape of bag has no flat base to put a sheet in",
                      "use the shape \"boxed\" or \"gusset\", or set base.kind to \"none\"");
    return;
  }
  check_sheet_size(tote);
  check_sheet_material(tote);
}

void check_feet(const ToteUnderCheck& tote) {
  const Bag& bag = tote.scene.bag;
  const Feet& feet = tote.scene.feet;
  if (feet.count == 0) return;
  if (feet.count != 4 && feet.count != 5) {
    tote.report.error("/feet/count", fmt::format("{} feet cannot be placed", feet.count),
                      "use 4 (one in each corner), 5 (and one in the middle) or 0");
  }
  if (!has_flat_base(bag)) {
    tote.report.error("/feet/count", "this shape of bag has no base to put feet under",
                      "use the shape \"boxed\" or \"gusset\", or set feet.count to 0");
    return;
  }
  if (tote.scene.base.kind == BaseKind::kNone) {
    tote.report.error("/feet/count",
                      "feet need a stiff base behind them, and base.kind is \"none\"",
                      "add a base sheet, or set feet.count to 0");
  }
  const double narrower = std::min(base_width_m(bag), bag.depth_m);
  if (2 * feet.inset_m >= narrower) {
    tote.report.error("/feet/inset",
                      fmt::format("feet {} from each edge pass each other on a base {} {}",
                                  tote.len(feet.inset_m), tote.len(narrower),
                                  bag.depth_m < base_width_m(bag) ? "deep" : "wide"),
                      "1 in is usual");
  } else if (feet.patch_m > 2 * feet.inset_m) {
    tote.report.error("/feet/patch",
                      fmt::format("a reinforcement of {} reaches past the edge of the base, {} "
                                  "from the foot",
                                  tote.len(feet.patch_m), tote.len(feet.inset_m)),
                      "make patch at most twice inset");
  }
}

}  // namespace totebench::scenes
