// Many bags that differ in keys of one scene, each hung: the study behind `totebench sweep`.
//
//   ReadSweep -> every bag's scene, checked -> hang_tote of each that can be made -> its figures
#pragma once

#include <array>
#include <string>
#include <vector>

#include "totebench/materials/library.hpp"
#include "totebench/scenes/figure.hpp"
#include "totebench/scenes/reader.hpp"
#include "totebench/studies/hang.hpp"
#include "totebench/studies/kept_work.hpp"

namespace totebench::studies {

enum class Swept {
  kNotHung,  // the run was stopped before
  kAtRest,
  kNoRest,     // no equilibrium was found
  kImpossible  // it cannot be made
};

struct SweptBag {
  std::vector<scenes::SweptValue> values;  // one a factor
  Swept state = Swept::kNotHung;
  std::string why;  // there is no rest, or it cannot be made
  // Of a bag at rest: one a line of kFigures, SI, and the strength that is used most.
  std::array<double, scenes::kFigures.size()> figures{};
  double strength_used = 0;         // demand over capacity; 0 where no strength is known
  std::string strength_used_where;  // Utilisation::what
  bool drops_load = false;          // it would, if that failed
  [[nodiscard]] bool at_rest() const { return state == Swept::kAtRest; }
};

struct SweepResult {
  scenes::SweepSpec spec;
  std::vector<scenes::SweptFactor> factors;
  std::vector<SweptBag> bags;
  bool coarse = false;
  bool interrupted = false;
  double seconds = 0;
  [[nodiscard]] int count(Swept state) const;
};

struct SweepOptions {
  bool coarse = false;  // on the coarse mesh alone, without other starts
  KeptWork kept;        // finished bags
};

// `sweep` is of the same reading as `spec`, `library` the program's. The result does not depend on
// the number of threads or processes.
[[nodiscard]] SweepResult sweep_totes(const scenes::SweepSpec& spec, const scenes::ReadSweep& sweep,
                                      const materials::MaterialLibrary& library,
                                      const SweepOptions& options,
                                      const OnHangProgress& on_progress);

}  // namespace totebench::studies
