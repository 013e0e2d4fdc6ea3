// Writes materials as a file in the library's own format.
#pragma once

#include <string>
#include <vector>

#include "totebench/materials/library.hpp"

namespace totebench::materials {

// `sources` are those the file itself has to name. Numbers are written in the units the library's
// files use, with six digits. Throws std::invalid_argument for a unit those files do not know.
[[nodiscard]] std::string library_file_json(const std::string& about,
                                            const std::vector<Material>& materials,
                                            const std::vector<Source>& sources);

// Value and unit as written there: 8.5e-5 "N m" is 85 "uN.m". Throws likewise.
struct WrittenUnit {
  double per_SI = 1;
  std::string name;
};
[[nodiscard]] WrittenUnit library_unit(const std::string& si_unit);

}  // namespace totebench::materials
