// What would move the headlines of a hanging bag, beside the scatter of its materials.
#pragma once

#include <string>

#include "app/present/text_table.hpp"
#include "totebench/studies/hang.hpp"

namespace totebench::app {

// A row for each circumstance, most easily chosen first: by how much it moves each headline. Empty
// where they were not computed or nothing moves.
[[nodiscard]] TextTable circumstance_rows(const studies::HangResult& result,
                                          const std::string& units);

// What moves the sag most, a sentence. Empty where the table is, or where nothing moves that.
[[nodiscard]] std::string circumstance_sentence(const studies::HangResult& result,
                                                const std::string& units);

}  // namespace totebench::app
