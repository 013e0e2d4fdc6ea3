// Which bags a comparison is of, where they come from scenes without file names.
#pragma once

#include <vector>

#include "totebench/scenes/reader.hpp"

namespace totebench::app {

// Every scene with its variants, of names that tell them apart. Throws std::invalid_argument where
// one is a sheet or there are fewer than two.
[[nodiscard]] std::vector<scenes::Scene> bags_to_compare(std::vector<scenes::ReadResult> read);

}  // namespace totebench::app
