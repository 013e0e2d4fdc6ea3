#include "ccx_run.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>

namespace totebench::verification {

bool ccx_is_there() {
  return std::getenv("CI") == nullptr && std::system("command -v ccx > /dev/null 2>&1") == 0;
}

std::filesystem::path run_ccx(const std::string& name, const std::string& deck) {
  const std::filesystem::path folder = std::filesystem::path(TOTEBENCH_BOOK_DIR) / "ccx_run";
  std::filesystem::create_directories(folder);
  std::filesystem::path table = folder / (name + ".dat");
  std::filesystem::remove(table);
  std::ofstream(folder / (name + ".inp")) << deck;
  const std::string command =
      fmt::format("cd '{}' && ccx '{}' > '{}.log' 2>&1", folder.string(), name, name);
  EXPECT_EQ(std::system(command.c_str()), 0) << "see " << folder / (name + ".log");
  return table;
}

}  // namespace totebench::verification
