#include "tests/support/source_folder.hpp"

namespace totebench::test {

std::filesystem::path source_folder() { return TOTEBENCH_SOURCE_DIR; }

}  // namespace totebench::test
