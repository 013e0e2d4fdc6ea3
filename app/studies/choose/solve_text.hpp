// A solved build as a line of text and back, to the last bit.
#pragma once

#include <optional>
#include <string>

#include "totebench/studies/choose_build.hpp"

namespace totebench::studies {

// What a solve belongs to: the build's scene and data, the load asked of it, the mesh.
[[nodiscard]] std::string solve_key(const ChooseBuild& build,
                                    const materials::MaterialLibrary& library,
                                    const RequiredLoad& load, int level);

[[nodiscard]] std::string solve_text(const BuildSolve& solve);
[[nodiscard]] std::optional<BuildSolve> solve_of(const std::string& text);

}  // namespace totebench::studies
