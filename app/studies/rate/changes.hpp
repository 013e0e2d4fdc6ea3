// What would raise a bag's rating: changes a person could sew, each one built and solved anew.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "app/studies/rate/sampling.hpp"

namespace totebench::studies {

struct ChangedScene {
  std::string what;
  int cost_rank = 0;
  std::vector<std::string> acts_on;  // modes (Utilisation::mode) of the parts it changes
  scenes::Scene scene;
};

// Changes that apply to a scene, cheapest first. The order of cost is a judgement: another thread;
// more stitching; a larger box; a backing patch; a thicker base sheet; a wider strap.
[[nodiscard]] std::vector<ChangedScene> possible_changes(const scenes::Scene& scene,
                                                         const materials::MaterialLibrary& library);

// Each change solved anew: on the coarse mesh with the unchanged bag's mesh corrections where that
// mesh stays the same, else on the finest mesh of its own. A change's rating is the unchanged one's
// by the ratio of their failure loads. `rating` and `typical` are of the unchanged bag, `key`
// stands for all that they come from. Finished changes are kept.
[[nodiscard]] std::vector<Change> try_changes(const scenes::Scene& scene,
                                              const materials::MaterialLibrary& library,
                                              const TypicalBag& typical, const Rating& rating,
                                              const KeptWork& kept, const std::string& key,
                                              const std::function<bool()>& keep_going);

}  // namespace totebench::studies
