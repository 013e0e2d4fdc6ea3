#include "scenes/check/refuse.hpp"

#include <stdexcept>
#include <string>

#include "scenes/check/scene.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/build.hpp"

namespace totebench::scenes {
namespace {

// The reader's key tables see to these: the first that does not hold. All comparisons are false for
// NaN.
std::string size_fault(const Scene& scene) {
  std::string fault;
  const auto require = [&fault](bool holds, const char* sentence) {
    if (!holds && fault.empty()) fault = sentence;
  };
  require(scene.mesh.size_m > 0, "the mesh size must be above zero");
  if (scene.kind != SceneKind::kTote) return fault;
  const Bag& bag = scene.bag;
  require(bag.width_m > 0 && bag.height_m > 0, "the bag needs a width and a height above zero");
  require(!has_flat_base(bag) || bag.depth_m > 0, "a bag with a base needs a depth above zero");
  // A flat bag's depth says how much of it is loaded.
  require(has_flat_base(bag) || (bag.depth_m >= 0 && bag.depth_m / 2 < 0.9 * bag.height_m),
          "half the bag's depth leaves nothing of its height");
  require(bag.shape != BagShape::kRounded || bag.corner_radius_m > 0,
          "the corner radius must be above zero");
  require(bag.hem_m >= 0 && bag.upper_height_m >= 0 && bag.seam_allowance_m >= 0 &&
              bag.lengthwise_seams >= 0,
          "hem, upper height, seam allowance and lengthwise seams cannot be below zero");
  require(scene.straps.size() == 1,
          "the bag needs exactly one strap entry (its style says how many ribbons)");
  if (!fault.empty()) return fault;
  const Strap& strap = scene.straps.front();
  require(strap.width_m > 0 && strap.length_m > 0 && strap.overlap_m > 0,
          "a strap needs a width, a length and an overlap on the panel above zero");
  require(strap.style != StrapStyle::kTwoHandles || strap.spacing_m > 0,
          "two handles need a spacing of their ends");
  const Attachment& a = strap.attachment;
  require(a.stitch_length_m > 0, "the strap's stitching needs a stitch length above zero");
  require(a.rows >= 1 && a.length_m >= 0 && a.top_offset_m >= 0,
          "the strap's stitching needs a row, a length and an offset from the opening");
  const Support& support = scene.support;
  require(support.kind != SupportKind::kHook || support.diameter_m > 0,
          "the hook needs a diameter above zero");
  require(support.kind != SupportKind::kHand || support.grip_width_m > 0,
          "the hand needs a grip width above zero");
  require(scene.base.kind == BaseKind::kNone ||
              (scene.base.clearance_m >= 0 && scene.base.corner_radius_m >= 0),
          "the base sheet is larger than the bag's base, or its corners are turned inside out");
  require(scene.feet.count == 0 || scene.feet.inset_m > 0, "feet need an inset above zero");
  const Contents& contents = scene.contents;
  require(contents.mass_kg >= 0, "the contents weigh less than nothing");
  require(contents.kind != ContentsKind::kItems || contents.mass_kg > 0,
          "items weigh more than nothing");
  require(contents.kind != ContentsKind::kLoose || contents.mass_kg == 0 ||
              contents.bulk_density_kg_per_m3 > 0,
          "loose contents need a bulk density above zero");
  return fault;
}

}  // namespace

std::string faults_of(const Scene& scene, const materials::MaterialLibrary& library) {
  if (std::string fault = size_fault(scene); !fault.empty()) return fault;
  SceneReport report;
  if (scene.kind == SceneKind::kTote) {
    check_tote(scene, library, report);
  } else {
    check_sheet(scene, library, report);
  }
  std::string all;
  for (const Diagnostic& d : report.take()) {
    if (d.severity != Severity::kError) continue;
    all += (all.empty() ? "" : ". ") + d.message + ": " + d.hint;
  }
  return all;
}

void refuse_faulty(const Scene& scene, const materials::MaterialLibrary& library) {
  const std::string faults = faults_of(scene, library);
  if (!faults.empty()) throw std::invalid_argument(faults);
}

}  // namespace totebench::scenes
