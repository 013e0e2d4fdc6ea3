// A sampled bag as a line of text and back, to the last bit.
#pragma once

#include <optional>
#include <string>

#include "totebench/studies/rate.hpp"

namespace totebench::studies {

[[nodiscard]] std::string sample_text(const SampledBag& bag);
[[nodiscard]] std::optional<SampledBag> sample_of(const std::string& text);

}  // namespace totebench::studies
