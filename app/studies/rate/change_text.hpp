// What was found of a changed bag as a line of text and back, to the last bit.
#pragma once

#include <string>

#include "totebench/studies/rate.hpp"

namespace totebench::studies {

// Of whether it was solved, why not, and its failures.
[[nodiscard]] std::string change_text(const Change& change);
// Puts these into `change`; false, with nothing put in, where the text is no such line.
[[nodiscard]] bool take_change(const std::string& text, Change& change);

}  // namespace totebench::studies
