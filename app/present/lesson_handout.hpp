// One page for a classroom: it asks which bag sags most, shows the comparison, and explains it with
// the plate formula beside the computed sag.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "totebench/studies/compare.hpp"
#include "totebench/viz/report.hpp"

namespace totebench::app {

// The base sheet of a bag on its own, under its own weight and the bag's contents spread over it.
struct BaseAlone {
  double length_m = 0, width_m = 0;
  double pressure_Pa = 0;   // contents and own weight
  double rigidity_N_m = 0;  // D of the plate
  double in_bag_m = 0;      // bottom sag of the bag it is sewn into
  struct Held {
    std::string how;
    double formula_m = 0;   // small deflections
    double computed_m = 0;  // by the solver, large deflections included
  };
  std::vector<Held> held;  // by its short ends, by all four edges
};

// Greatest deflection of a simply supported rectangular plate under even pressure q, sides a and b
// (m), rigidity D (N m): Navier's double series ([TimoshenkoWoinowskyKrieger1959], art. 30),
//   w = 16 q / (pi^6 D) sum sum (-1)^((m+n)/2-1) / (m n (m^2/a^2 + n^2/b^2)^2),  m, n odd.
[[nodiscard]] double navier_deflection(double pressure_Pa, double a_m, double b_m,
                                       double rigidity_N_m);

// Of the first bag with a base sheet that was found at rest; nothing where there is none or the
// sheet alone comes to no rest.
[[nodiscard]] std::optional<BaseAlone> base_alone(const studies::Comparison& comparison,
                                                  const materials::MaterialLibrary& library,
                                                  const studies::OnHangProgress& on_progress);

// Printed, the guesses stand on a page of their own. `picture_png` shows the bags, "" = none.
[[nodiscard]] viz::Page lesson_page(const studies::Comparison& comparison,
                                    const std::optional<BaseAlone>& base, const std::string& units,
                                    const std::string& picture_png);

}  // namespace totebench::app
