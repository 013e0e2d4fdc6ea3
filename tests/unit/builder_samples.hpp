// Totes the builder's tests share: sizes of an ordinary shopping bag, library materials.
#pragma once

#include <string>
#include <vector>

#include "tests/support/source_folder.hpp"
#include "totebench/scenes/build.hpp"

namespace totebench::samples {

inline const materials::MaterialLibrary& library() {
  static const materials::MaterialLibrary loaded =
      materials::MaterialLibrary::load(test::source_folder() / "materials/library");
  return loaded;
}

inline scenes::Scene boxed() {
  scenes::Scene scene;
  scene.bag.shape = scenes::BagShape::kBoxed;
  scene.bag.width_m = 0.38;
  scene.bag.height_m = 0.36;
  scene.bag.depth_m = 0.15;
  scene.bag.seam_allowance_m = 0.010;
  scene.bag.hem_m = 0.030;
  scene.layers["upper"] = {{"cotton_duck_10oz"}};
  scene.seams.thread = "spun_polyester_tex40";
  scene.seams.stitch_length_m = 0.0025;
  scenes::Strap strap;
  strap.material = "web_cotton_38";
  strap.width_m = 0.036;
  strap.length_m = 0.62;
  strap.spacing_m = 0.15;
  strap.overlap_m = 0.060;
  strap.attachment.pattern = scenes::AttachmentPattern::kBoxCross;
  strap.attachment.length_m = 0.036;
  strap.attachment.top_offset_m = 0.012;
  strap.attachment.stitch_length_m = 0.003;
  strap.attachment.thread = "spun_polyester_tex60";
  scene.straps = {strap};
  scene.contents.mass_kg = 7.5;
  scene.support.kind = scenes::SupportKind::kHand;
  scene.support.grip_width_m = 0.09;
  scene.support.diameter_m = 0.025;
  scene.mesh.size_m = 0.030;
  return scene;
}

inline scenes::Scene gusset_with_pocket() {
  scenes::Scene scene = boxed();
  scene.bag.shape = scenes::BagShape::kGusset;
  scene.base = {scenes::BaseKind::kPocket, "hdpe_sheet", 0.002, 0.006, 0.012};
  return scene;
}

inline scenes::Scene rounded() {
  scenes::Scene scene = boxed();
  scene.bag.shape = scenes::BagShape::kRounded;
  scene.bag.width_m = 0.46;
  scene.bag.depth_m = 0;
  scene.bag.corner_radius_m = 0.11;
  scene.bag.upper_height_m = 0.12;
  scene.bag.lengthwise_seams = 2;
  return scene;
}

// Canvas with a base that keeps its shape: on the coarse mesh it hangs in a second.
inline scenes::Scene small_bag() {
  scenes::Scene scene = boxed();
  scene.bag.width_m = 0.26;
  scene.bag.height_m = 0.24;
  scene.bag.depth_m = 0.10;
  scene.straps[0].spacing_m = 0.10;
  scene.straps[0].length_m = 0.46;
  scene.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 0.002, 0.004, 0};
  return scene;
}

inline scenes::Scene sack() {
  scenes::Scene scene = boxed();
  scene.bag.shape = scenes::BagShape::kSack;
  scene.bag.depth_m = 0;
  return scene;
}

inline scenes::Scene shoulder(scenes::Scene scene) {
  scene.straps[0].style = scenes::StrapStyle::kShoulderStrap;
  scene.straps[0].length_m = 0.95;
  return scene;
}

struct Named {
  const char* name;
  scenes::Scene scene;
};

inline std::vector<Named> all() {
  scenes::Scene hook = boxed();
  hook.support.kind = scenes::SupportKind::kHook;
  hook.base = {scenes::BaseKind::kStitched, "hdpe_sheet", 0.002, 0.004, 0};
  hook.feet = {5, 0.03, 0.03, 0.004};
  scenes::Scene seams = boxed();
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
