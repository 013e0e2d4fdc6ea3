// Totes the builder's tests share: sizes of an ordinary shopping bag, library materials.
#pragma once

#include <string>
#include <vector>

#include "scenes/build.hpp"

namespace totebench::samples {

inline const MaterialLibrary& library() {
  static const MaterialLibrary loaded =
      MaterialLibrary::load(std::string(TOTEBENCH_SOURCE_DIR) + "/materials/library");
  return loaded;
}

inline Scene boxed() {
  Scene scene;
  scene.bag.shape = BagShape::kBoxed;
  scene.bag.width_m = 0.38;
  scene.bag.height_m = 0.36;
  scene.bag.depth_m = 0.15;
  scene.bag.seam_allowance_m = 0.010;
  scene.bag.hem_m = 0.030;
  scene.layers["upper"] = {{"cotton_duck_10oz"}};
  scene.seams.thread = "spun_polyester_tex40";
  scene.seams.stitch_length_m = 0.0025;
  Strap strap;
  strap.material = "web_cotton_38";
  strap.width_m = 0.036;
  strap.length_m = 0.62;
  strap.spacing_m = 0.15;
  strap.overlap_m = 0.060;
  strap.attachment.pattern = AttachmentPattern::kBoxCross;
  strap.attachment.length_m = 0.036;
  strap.attachment.top_offset_m = 0.012;
  strap.attachment.stitch_length_m = 0.003;
  strap.attachment.thread = "spun_polyester_tex60";
  scene.straps = {strap};
  scene.contents.mass_kg = 7.5;
  scene.support.kind = SupportKind::kHand;
  scene.support.grip_width_m = 0.09;
  scene.support.diameter_m = 0.025;
  scene.mesh.size_m = 0.030;
  return scene;
}

inline Scene gusset_with_pocket() {
  Scene scene = boxed();
  scene.bag.shape = BagShape::kGusset;
  scene.base = {BaseKind::kPocket, "hdpe_sheet", 0.002, 0.006, 0.012};
  return scene;
}

inline Scene rounded() {
  Scene scene = boxed();
  scene.bag.shape = BagShape::kRounded;
  scene.bag.width_m = 0.46;
  scene.bag.depth_m = 0;
  scene.bag.corner_radius_m = 0.11;
  scene.bag.upper_height_m = 0.12;
  scene.bag.lengthwise_seams = 2;
  return scene;
}

// Canvas with a base that keeps its shape: on the coarse mesh it hangs in a second.
inline Scene small_bag() {
  Scene scene = boxed();
  scene.bag.width_m = 0.26;
  scene.bag.height_m = 0.24;
  scene.bag.depth_m = 0.10;
  scene.straps[0].spacing_m = 0.10;
  scene.straps[0].length_m = 0.46;
  scene.base = {BaseKind::kStitched, "hdpe_sheet", 0.002, 0.004, 0};
  return scene;
}

inline Scene sack() {
  Scene scene = boxed();
  scene.bag.shape = BagShape::kSack;
  scene.bag.depth_m = 0;
  return scene;
}

inline Scene shoulder(Scene scene) {
  scene.straps[0].style = StrapStyle::kShoulderStrap;
  scene.straps[0].length_m = 0.95;
  return scene;
}

struct Named {
  const char* name;
  Scene scene;
};

inline std::vector<Named> all() {
  Scene hook = boxed();
  hook.support.kind = SupportKind::kHook;
  hook.base = {BaseKind::kStitched, "hdpe_sheet", 0.002, 0.004, 0};
  hook.feet = {5, 0.03, 0.03, 0.004};
  Scene seams = boxed();
  seams.bag.upper_height_m = 0.11;
  seams.bag.lengthwise_seams = 1;
  seams.straps[0].attachment.patch = true;
  return {{"boxed", boxed()},
          {"boxed on a hook, stitched base, feet", hook},
          {"boxed with seams and patches", seams},
          {"gusset with pocket", gusset_with_pocket()},
          {"rounded", rounded()},
          {"sack", sack()},
          {"boxed with shoulder strap", shoulder(boxed())},
          {"gusset with shoulder strap", shoulder(gusset_with_pocket())},
          {"rounded with shoulder strap", shoulder(rounded())},
          {"sack with shoulder strap", shoulder(sack())}};
}

}  // namespace totebench::samples
