// What people who sew call things, and which materials of the library that is: words of the trade,
// no brands.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "totebench/materials/library.hpp"

namespace totebench::materials {

// Materials and threads that all the words fit, in the library's order: as an id, as a part of id,
// name or category, or as a word of the trade ("canvas", "fusible fleece", "stabiliser",
// "webbing"). Capitals, hyphens and a plural s make no difference. Empty where none does.
[[nodiscard]] std::vector<std::string> materials_called(const MaterialLibrary& library,
                                                        std::string_view words);

}  // namespace totebench::materials
