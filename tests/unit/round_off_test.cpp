// Which of many shapes a soft bag comes to does not hang on the last digits of its measures.
#include <gtest/gtest.h>

#include "shipped_library.hpp"
#include "tests/support/source_folder.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench {
namespace {

// quilted-pocket buckles from a shape that is its own mirror image into one that is not. With even
// cloth its sag came out a thousandth more or less with another factorisation.
TEST(RoundOff, DoesNotChooseTheShape) {
  const scenes::ReadResult read =
      scenes::read_scene(test::source_folder() / "scenes/examples/quilted-pocket.json", library());
  ASSERT_TRUE(read.scene);
  const auto hung = [&](double wider) {
    scenes::Scene scene = *read.scene;
    scene.solve.shapes = 0;
    scene.bag.width_m *= wider;
    return studies::hang_tote(scene, library(), nullptr, 0).findings;
  };
  const scenes::Findings as_it_is = hung(1);
  ASSERT_TRUE(as_it_is.converged());
  const scenes::Findings by_a_hair = hung(1 + 1e-14);
  EXPECT_NEAR(by_a_hair.bottom_sag_m, as_it_is.bottom_sag_m, 1e-6 * as_it_is.bottom_sag_m);
}

}  // namespace
}  // namespace totebench
