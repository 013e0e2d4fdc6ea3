// Scenes drawn at random, the same from the same seed on every machine: every shape of bag, base,
// strap, fastening, support and contents, limp to stiff layers, 15 to 60 cm; and coupons.
#pragma once

#include "totebench/scenes/scene.hpp"

namespace totebench::test {

enum class Draw {
  kUsual,  // what people sew; now and then something does not fit
  kEdge    // sizes that just fit, or just do not
};

// Every value filled in; 0.5 to 25 kg. Materials are those of the shipped library.
[[nodiscard]] scenes::Scene random_tote(unsigned seed, Draw draw);

// The same bag with one to twelve ordinary things in it instead, of those that go between its
// walls; perhaps none.
[[nodiscard]] scenes::Scene with_random_items(scenes::Scene scene, unsigned seed);

// Any shape but a file, with layers or a plain section.
[[nodiscard]] scenes::Scene random_sheet(unsigned seed, Draw draw);

}  // namespace totebench::test
