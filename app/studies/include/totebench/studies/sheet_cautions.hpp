// What to bear in mind with the figures of a sheet under its load.
#pragma once

#include <string>
#include <vector>

#include "totebench/studies/hang.hpp"

namespace totebench::studies {

// Of its jumps, an end that is not stable, and compression that its mesh cannot show; all of
// `result` but its cautions must be there.
[[nodiscard]] std::vector<std::string> sheet_cautions(const SheetHangResult& result);

}  // namespace totebench::studies
