// All that `hang` writes into a folder: numbers, then files for viewers, then the report page.
#pragma once

#include <filesystem>
#include <optional>

#include "totebench/studies/hang.hpp"
#include "totebench/viz/bag_field.hpp"
#include "totebench/viz/results.hpp"

namespace totebench::app {

// In the scene's units. The numbers come first: who stops a run while it draws has them all. No
// picture is drawn without a colour, or of a sheet without `picture`.
[[nodiscard]] viz::Written write_hang_files(const scenes::Scene& scene,
                                            const studies::HangResult& result,
                                            const materials::MaterialLibrary& library,
                                            const std::filesystem::path& folder,
                                            std::optional<viz::BagField> colour);
[[nodiscard]] viz::Written write_hang_files(const scenes::Scene& scene,
                                            const studies::SheetHangResult& result,
                                            const materials::MaterialLibrary& library,
                                            const std::filesystem::path& folder, bool picture);

}  // namespace totebench::app
