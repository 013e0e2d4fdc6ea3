// How contents lie in a bag: weight and place of an even load on a part of the base.
#include <gtest/gtest.h>

#include <cmath>

#include "builder_samples.hpp"

namespace totebench {
namespace {

using scenes::ContentsPlace;

struct Load {
  Eigen::Vector3d force_N = Eigen::Vector3d::Zero();
  Eigen::Vector2d centre_m = Eigen::Vector2d::Zero();
  Eigen::Vector2d square_m2 = Eigen::Vector2d::Zero();  // mean squares of x and y about the middle
};

Load load_on(scenes::Scene scene, ContentsPlace place) {
  scene.contents.place = place;
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 2);
  const solver::Model& model = tote.model;
  Load load;
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    const Eigen::Vector3d force = model.payload_force_N.col(i);
    const Eigen::Vector2d at = model.mesh.position.col(i).head<2>();
    load.force_N += force;
    load.centre_m += force.z() * at;
    load.square_m2 += force.z() * at.cwiseAbs2();
  }
  load.centre_m /= load.force_N.z();
  load.square_m2 /= load.force_N.z();
  return load;
}

// A base of w = 38 cm by d = 15 cm with its middle at 0. Loads on rectangles of a by b have their
// centre in their middle and mean squares of a^2 / 12 and b^2 / 12 about it. The edge of a load is
// seen to an eighth of an edge of the mesh, 4 mm here: that much in a length, and in a square twice
// that times the half length.
TEST(ContentsPlace, LoadsThePartOfTheBaseItNames) {
  const scenes::Scene scene = samples::boxed();
  const double w = scene.bag.width_m, d = scene.bag.depth_m, seen = 0.004;
  struct LoadedPart {
    ContentsPlace place;
    Eigen::Vector2d size, centre;
  };
  for (const LoadedPart& c : {LoadedPart{ContentsPlace::kAllOver, {w, d}, {0, 0}},
                              LoadedPart{ContentsPlace::kMiddle, {w / 2, d / 2}, {0, 0}},
                              LoadedPart{ContentsPlace::kOneEnd, {w / 2, d}, {w / 4, 0}}}) {
    SCOPED_TRACE(static_cast<int>(c.place));
    const Load load = load_on(scene, c.place);
    EXPECT_NEAR(load.force_N.z(), -7.5 * 9.80665, 1e-9);
    EXPECT_NEAR(load.force_N.head<2>().norm(), 0, 1e-12);
    for (const int axis : {0, 1}) {
      EXPECT_NEAR(load.centre_m[axis], c.centre[axis], seen);
      EXPECT_NEAR(load.square_m2[axis],
                  c.size[axis] * c.size[axis] / 12 + c.centre[axis] * c.centre[axis],
                  seen * c.size[axis]);
    }
  }
}

}  // namespace
}  // namespace totebench
