// Where the sources lie that the tests read. In a translation unit of its own, so that the objects
// of all other tests are the same wherever the sources lie.
#pragma once

#include <filesystem>

namespace totebench::test {

[[nodiscard]] std::filesystem::path source_folder();

}  // namespace totebench::test
