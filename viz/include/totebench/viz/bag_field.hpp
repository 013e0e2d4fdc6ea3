// What the cloth of a bag can be coloured by, in the units a person reads.
#pragma once

#include <string>
#include <vector>

#include "totebench/scenes/build.hpp"
#include "totebench/solver/equilibrium.hpp"
#include "totebench/viz/tessellate.hpp"

namespace totebench::viz {

enum class BagField { kStrength, kForce, kCurvature, kPressure };

// As in `--colour`: "strength", "force", "curvature", "pressure", in the order of BagField.
[[nodiscard]] const std::vector<std::string>& bag_field_names();
// What is shown unless somebody asks for another: strength, or force where no cloth of the bag has
// a known strength.
[[nodiscard]] BagField usual_field(const scenes::Tote& tote);
// Throws std::invalid_argument for other names.
[[nodiscard]] BagField bag_field_named(const std::string& name);

struct ShownField {
  std::string name;     // in a sentence: "hardest pull in the cloth"
  std::string unit;     // lb/in, %, 1/in, psi
  std::string title;    // of a colour bar, in short lines, with the unit
  std::string means;    // what it tells, in one line for who has never heard of it
  CornerValues values;  // at the corners of each triangle, smooth within each part
  bool known = true;    // false: no strength is known for any of the cloth
};

//   strength   share of the cloth's strength used (cloth_utilisation), %
//   force      larger principal membrane force
//   curvature  larger principal curvature by size, from flat: one over the radius of the bend
//   pressure   of the contents on the cloth (totebench/scenes/contents_pressure.hpp)
// `fields` and `load_factor` belong to `state`.
[[nodiscard]] ShownField shown_field(BagField field, const scenes::Tote& tote,
                                     const solver::State& state, const solver::ShellFields& fields,
                                     double load_factor, const std::string& units);

}  // namespace totebench::viz
