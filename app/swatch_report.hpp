// What `totebench swatch` says and writes about a fitted cloth.
#pragma once

#include <string>

#include "scenes/swatch_fit.hpp"
#include "viz/report.hpp"

namespace totebench {

// The answer in a sentence, the properties, each test by formula and by solver, and how a scene
// uses the material. `file` is the name of the material file.
[[nodiscard]] std::string swatch_report(const Swatch& swatch, const SwatchFit& fit,
                                        const MaterialLibrary& library, const std::string& units,
                                        const std::string& file);

[[nodiscard]] Page swatch_page(const Swatch& swatch, const SwatchFit& fit,
                               const MaterialLibrary& library, const std::string& units,
                               const std::string& file);

// The same for another program, in SI.
[[nodiscard]] std::string swatch_json(const Swatch& swatch, const SwatchFit& fit);

// The material as a file in the library's format.
[[nodiscard]] std::string swatch_material_file(const Swatch& swatch, const SwatchFit& fit);

// How a scene names the material and uses it, as JSON text.
[[nodiscard]] std::string use_in_scene(const SwatchFit& fit, const std::string& file);

}  // namespace totebench
