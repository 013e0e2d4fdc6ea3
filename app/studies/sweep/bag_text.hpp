// A hung bag of a sweep as a line of text and back, to the last bit.
#pragma once

#include <string>

#include "totebench/studies/sweep.hpp"

namespace totebench::studies {

// Of what hanging it found: all but its values.
[[nodiscard]] std::string bag_text(const SweptBag& bag);
// Puts this into `bag`; false, with nothing put in, where the text is no such line.
[[nodiscard]] bool take_bag(const std::string& text, SweptBag& bag);

}  // namespace totebench::studies
