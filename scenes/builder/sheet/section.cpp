#include "scenes/builder/sheet/section.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "scenes/builder/tote/tote_sections.hpp"
#include "totebench/materials/stack.hpp"

namespace totebench::scenes {
namespace {

// Plate of one isotropic material: A = E h / (1 - nu^2) [1 nu 0; nu 1 0; 0 0 (1 - nu)/2],
// D = A h^2 / 12 (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 2nd ed., art. 2).
solver::Section plain_section(const PlainSection& plain) {
  if (!(plain.youngs_modulus_Pa > 0) || !(plain.thickness_m > 0)) {
    throw std::invalid_argument(
        "a plain section needs a Young's modulus and a thickness above zero");
  }
  if (!(plain.poisson_ratio > -1 && plain.poisson_ratio <= 0.5)) {
    throw std::invalid_argument(fmt::format(
        "Poisson's ratio is {:.4g}; it must lie above -1 and not above 0.5", plain.poisson_ratio));
  }
  if (!(plain.areal_mass_kg_per_m2 >= 0)) {
    throw std::invalid_argument("the mass per area of a plain section cannot be negative");
  }
  const materials::PlySection ply = materials::isotropic_ply(
      plain.youngs_modulus_Pa, plain.poisson_ratio, plain.thickness_m, plain.areal_mass_kg_per_m2);
  solver::Section section;
  section.A = ply.A;
  section.D = ply.D;
  section.areal_mass_kg_per_m2 = ply.areal_mass_kg_per_m2;
  section.tension_field = plain.wrinkles == Wrinkles::kFinerThanMesh;
  return section;
}

}  // namespace

solver::Section sheet_section(const SheetScene& sheet, const materials::MaterialLibrary& library,
                              bool face_down) {
  if (sheet.plain.has_value() == !sheet.layers.empty()) {
    throw std::invalid_argument("a sheet needs either layers or a plain section, not both");
  }
  if (sheet.plain) return plain_section(*sheet.plain);

  const materials::StackSection stack =
      materials::stack_section(library, plies_of(sheet.layers, library));
  solver::Section section;
  section.A = stack.A;
  section.B = face_down ? Eigen::Matrix3d(-stack.B) : stack.B;
  section.D = stack.D;
  section.areal_mass_kg_per_m2 = stack.areal_mass_kg_per_m2;
  return section;
}

}  // namespace totebench::scenes
