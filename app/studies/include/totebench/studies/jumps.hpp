// What must be told of a shape that jumped while the load rose.
#pragma once

#include <string>
#include <vector>

#include "totebench/solver/continuation.hpp"

namespace totebench::studies {

// One sentence a jump, in shares of the load.
[[nodiscard]] std::vector<std::string> jump_cautions(const std::vector<solver::Jump>& jumps);

}  // namespace totebench::studies
