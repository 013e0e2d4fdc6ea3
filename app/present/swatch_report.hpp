// What `totebench swatch` says and writes about a fitted cloth.
#pragma once

#include <string>
#include <vector>

#include "app/present/text_table.hpp"
#include "totebench/scenes/swatch_fit.hpp"
#include "totebench/viz/report.hpp"

namespace totebench::app {

// The answer in a sentence, the properties, each test by formula and by solver, and how a scene
// uses the material. `file` is the name of the material file.
[[nodiscard]] std::string swatch_report(const scenes::Swatch& swatch, const scenes::SwatchFit& fit,
                                        const materials::MaterialLibrary& library,
                                        const std::string& units, const std::string& file);

[[nodiscard]] viz::Page swatch_page(const scenes::Swatch& swatch, const scenes::SwatchFit& fit,
                                    const materials::MaterialLibrary& library,
                                    const std::string& units, const std::string& file);

// "bending_rigidity_warp" as "bending rigidity, warp".
[[nodiscard]] std::string property_name(std::string name);
// What was measured; and each test by formula and by solver.
[[nodiscard]] TextTable properties_table(const scenes::SwatchFit& fit, const std::string& units);
[[nodiscard]] TextTable tests_table(const scenes::SwatchFit& fit, const std::string& units);

// What to mind with them.
[[nodiscard]] std::vector<std::string> swatch_cautions(const scenes::SwatchFit& fit);

// The same for another program, in SI (scenes/swatch.schema.json).
[[nodiscard]] std::string swatch_json(const scenes::Swatch& swatch, const scenes::SwatchFit& fit);

// The material as a file in the library's format.
[[nodiscard]] std::string swatch_material_file(const scenes::Swatch& swatch,
                                               const scenes::SwatchFit& fit);

// How a scene names the material and uses it, as JSON text.
[[nodiscard]] std::string use_in_scene(const scenes::SwatchFit& fit, const std::string& file);

}  // namespace totebench::app
