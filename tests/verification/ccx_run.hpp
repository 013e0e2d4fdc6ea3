// Runs the general-purpose program CalculiX (ccx), where it is installed.
#pragma once

#include <filesystem>
#include <string>

namespace totebench::verification {

[[nodiscard]] bool ccx_is_there();  // and this is not continuous integration

// Hands it an input deck in its open format and returns where it left the table of results. Fails
// the running test when it gives up. `name` is of its files, below the build folder.
[[nodiscard]] std::filesystem::path run_ccx(const std::string& name, const std::string& deck);

}  // namespace totebench::verification
