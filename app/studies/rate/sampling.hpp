// Bags drawn from the scatter of the data, each solved for the loads at which it fails, beside
// first-order sensitivities of the typical bag.
#pragma once

#include <functional>
#include <string>

#include "app/studies/rate/path.hpp"
#include "totebench/studies/rate.hpp"

namespace totebench::studies {

// The bag with the library's typical values.
struct TypicalBag {
  scenes::Tote coarse;
  LoadPath path;              // on the coarse mesh
  MeshCorrection correction;  // of demands on the coarse mesh
  double drops_at = 0;        // load factors of its failures on the finest mesh; 0 = not reached
  double spoilt_at = 0;
  [[nodiscard]] double fails_at(FailureClass of) const {
    return of == FailureClass::kDropsLoad ? drops_at : spoilt_at;
  }
};

// Tells a stage and what share of it is done (0 = not known); false to stop. May be called from
// several threads.
using OnStage = std::function<bool(const std::string& stage, double share_done)>;

// Fills inputs, bags, bags_failed and the spreads of `rating`, whose failures are known already.
// Finished samples are kept in options.kept. The result does not depend on the number of
// threads.
void sample_bags(const scenes::Scene& scene, const materials::MaterialLibrary& library,
                 const RateOptions& options, const TypicalBag& typical, const OnStage& on_stage,
                 Rating& rating);

}  // namespace totebench::studies
