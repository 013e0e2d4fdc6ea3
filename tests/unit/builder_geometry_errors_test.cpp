// Shapes no bag can have are refused with a sentence a person can act on.
#include <gtest/gtest.h>

#include <functional>
#include <limits>
#include <string>

#include "builder_samples.hpp"

namespace totebench {
namespace {

struct Bad {
  const char* name;
  std::function<void(scenes::Scene&)> spoil;
  const char* expected;  // part of the message
};

std::vector<Bad> bad_scenes() {
  return {
      {"no width", [](scenes::Scene& s) { s.bag.width_m = 0; }, "width and a height"},
      {"no depth", [](scenes::Scene& s) { s.bag.depth_m = 0; }, "depth above zero"},
      {"hem as deep as the bag", [](scenes::Scene& s) { s.bag.hem_m = 0.4; },
       "a hem of 40 cm does not fit"},
      {"upper section too high", [](scenes::Scene& s) { s.bag.upper_height_m = 0.5; },
       "upper section"},
      {"seam in the hem", [](scenes::Scene& s) { s.bag.upper_height_m = 0.02; },
       "reaches down to the crosswise seam"},
      {"no strap", [](scenes::Scene& s) { s.straps.clear(); }, "exactly one strap"},
      {"strap wider than the bag", [](scenes::Scene& s) { s.straps[0].width_m = 0.4; },
       "wider than the bag"},
      {"strap ends beyond the sides", [](scenes::Scene& s) { s.straps[0].spacing_m = 0.36; },
       "lie outside the bag"},
      {"strap ends on each other", [](scenes::Scene& s) { s.straps[0].spacing_m = 0.03; },
       "lie on each other"},
      {"box below the strap's end",
       [](scenes::Scene& s) { s.straps[0].attachment.length_m = 0.07; },
       "longer than the overlap (6 cm)"},
      {"no stitch length", [](scenes::Scene& s) { s.straps[0].attachment.stitch_length_m = 0; },
       "stitch length above zero"},
      {"stitch longer than the box",
       [](scenes::Scene& s) { s.straps[0].attachment.stitch_length_m = 0.1; },
       "longer than the stitching (3.6 cm)"},
      {"strap too short for the hand",
       [](scenes::Scene& s) {
         s.straps[0].width_m = 0.05;
         s.straps[0].length_m = 0.188;
       },
       "too short to be held: 9 cm of it lie in the hand"},
      {"strap too short to reach",
       [](scenes::Scene& s) {
         s.straps[0].spacing_m = 0.33;
         s.straps[0].length_m = 0.22;
       },
       "cannot reach between its ends"},
      {"base sheet larger than the base",
       [](scenes::Scene& s) {
         s.base = {scenes::BaseKind::kPocket, "hdpe_sheet", 0.002, -0.01, 0};
       },
       "larger than the bag's base"},
      {"clearance leaves nothing",
       [](scenes::Scene& s) {
         s.base = {scenes::BaseKind::kPocket, "hdpe_sheet", 0.002, 0.075, 0};
       },
       "leaves nothing of a base"},
      {"unknown material", [](scenes::Scene& s) { s.layers["upper"] = {{"moonsilk"}}; },
       "moonsilk"},
      {"no layers", [](scenes::Scene& s) { s.layers.clear(); }, "no layers"},
      {"unknown strap material", [](scenes::Scene& s) { s.straps[0].material = "rope"; }, "rope"},
      {"three feet",
       [](scenes::Scene& s) {
         s.feet = {3, 0.03, 0.03, 0.004};
       },
       "3 feet cannot be placed"},
      {"feet off the base",
       [](scenes::Scene& s) {
         s.feet = {4, 0.2, 0.02, 0};
       },
       "pass each other on a base"},
      {"no grip", [](scenes::Scene& s) { s.support.grip_width_m = 0; }, "grip width"},
      {"no mesh size", [](scenes::Scene& s) { s.mesh.size_m = 0; }, "mesh size"},
      {"width not a number",
       [](scenes::Scene& s) { s.bag.width_m = std::numeric_limits<double>::quiet_NaN(); },
       "width and a height"},
  };
}

TEST(ToteGeometry, ImpossibleSizes_AreRefusedWithTheirReason) {
  for (const Bad& bad : bad_scenes()) {
    scenes::Scene scene = samples::boxed();
    bad.spoil(scene);
    try {
      (void)scenes::build_tote(scene, samples::library(), 0);
      ADD_FAILURE() << bad.name << " was built";
    } catch (const std::invalid_argument& error) {
      EXPECT_NE(std::string(error.what()).find(bad.expected), std::string::npos)
          << bad.name << ": " << error.what();
    }
  }
}

TEST(ToteGeometry, BaseSheetInAFlatBag_IsRefused) {
  scenes::Scene scene = samples::sack();
  scene.base = {scenes::BaseKind::kPocket, "hdpe_sheet", 0.002, 0.005, 0};
  EXPECT_THROW((void)scenes::build_tote(scene, samples::library(), 0), std::invalid_argument);
}

TEST(ToteGeometry, SeveralFaults_AreToldTogether) {
  scenes::Scene scene = samples::boxed();
  scene.straps[0].spacing_m = 0.5;
  scene.base = {scenes::BaseKind::kPocket, "hdpe_sheet", 0.002, 0.075, 0};
  try {
    (void)scenes::build_tote(scene, samples::library(), 0);
    FAIL();
  } catch (const std::invalid_argument& error) {
    const std::string text = error.what();
    EXPECT_NE(text.find("lie outside the bag"), std::string::npos);
    EXPECT_NE(text.find("leaves nothing of a base"), std::string::npos);
  }
}

}  // namespace
}  // namespace totebench
