// How well the data are known that a rating hangs on: the worst grade among
//   the strength of the part that governs (each number of it: Utilisation::grade), and
//   what the loads of the typical bag follow from, as the builder reads it: mass and stiffness of
//   every layer, of the straps and the base sheet, the give of the strap's thread, and the slip of
//   quilted joints where there are any.
// Numbers that the scene itself gives (a thickness, a material of its own) count by their own grade
// or not at all. No weight is given to how much each matters: one bad number is enough.
#pragma once

#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/findings.hpp"
#include "totebench/scenes/scene.hpp"

namespace totebench::studies {

struct DataGrade {
  std::string grade;            // "" where nothing governs
  std::vector<std::string> of;  // "bending rigidity of batting_needled_cotton": all of that grade
};

// `library` is library_of(scene, ...).
[[nodiscard]] DataGrade data_grade(const scenes::Scene& scene,
                                   const materials::MaterialLibrary& library,
                                   const scenes::Utilisation& governing);

}  // namespace totebench::studies
