// Defaults that follow from other values of the scene.
#pragma once

#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

// Replaces every NaN that stands for "follows from the rest", and the regions of cloth left out.
void fill_derived(Scene& scene);

// Cloth of the body and the straps, one layer counted once, m2. NaN when a size is missing.
[[nodiscard]] double tote_area_m2(const Scene& scene);
[[nodiscard]] double sheet_area_m2(const SheetGeometry& geometry);

// Triangles an evenly meshed area comes to.
[[nodiscard]] double triangle_count(double area_m2, double size_m);

// Rough inside volume when the bag is open, m3. A flat sack is taken as the lower half of a pillow
// of twice its height (approximate volume of the paper bag problem, from memory).
[[nodiscard]] double rough_volume_m3(const Bag& bag);

}  // namespace totebench::scenes
