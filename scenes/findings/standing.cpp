#include "totebench/scenes/standing.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>

#include "scenes/builder/tote/tote_sections.hpp"
#include "totebench/materials/stack.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/units.hpp"

namespace totebench::scenes {
namespace {

constexpr double kGreenhill = 7.837;
constexpr double kEuler = M_PI * M_PI / 4;

double strap_weight_N(const Scene& scene, const materials::MaterialLibrary& library) {
  const double areal = strap_section_of(scene, library).section.areal_mass_kg_per_m2;
  double length = 0;
  for (const Strap& strap : scene.straps) {
    const int ribbons = strap.style == StrapStyle::kTwoHandles ? 2 : 1;
    length += ribbons * (strap.length_m + 2 * strap.overlap_m);
  }
  return kStandardGravity * areal * scene.straps.front().width_m * length;
}

}  // namespace

double standing_height_m(double rigidity_N_m, double own_weight_Pa, double top_load_N_per_m) {
  const double cubic = own_weight_Pa / (kGreenhill * rigidity_N_m);
  const double square = top_load_N_per_m / (kEuler * rigidity_N_m);
  if (!(cubic > 0) && !(square > 0)) return std::numeric_limits<double>::infinity();
  // Rising in h: halving between nothing and either load's own height.
  double low = 0;
  double high =
      std::min(cubic > 0 ? std::cbrt(1 / cubic) : 1e9, square > 0 ? std::sqrt(1 / square) : 1e9);
  for (int i = 0; i < 60; ++i) {
    const double h = 0.5 * (low + high);
    (cubic * h * h * h + square * h * h < 1 ? low : high) = h;
  }
  return 0.5 * (low + high);
}

double standing_height_m(const Scene& scene, const materials::MaterialLibrary& library) {
  const double top =
      strap_weight_N(scene, library) / (2 * (base_width_m(scene.bag) + scene.bag.depth_m));
  double least = std::numeric_limits<double>::infinity();
  for (const int region : {kRegionUpper, kRegionLower}) {
    const materials::StackSection wall =
        materials::stack_section(library, plies_of(layers_of(scene, region), library));
    const Eigen::Matrix3d compliance = wall.free_bending_rigidity().inverse();
    const double rigidity = 1 / std::max(compliance(0, 0), compliance(1, 1));
    least = std::min(
        least, standing_height_m(rigidity, kStandardGravity * wall.areal_mass_kg_per_m2, top));
  }
  return least;
}

}  // namespace totebench::scenes
