// Tables and lists for the terminal.
#pragma once

#include <string>
#include <vector>

namespace totebench::app {

using TextTable = std::vector<std::vector<std::string>>;  // rows of cells; rows may be short

// Columns padded to their widest cell; the first to the left, the others to the right, but for one
// of words (its number, 0 = none).
[[nodiscard]] std::string table_text(const TextTable& rows, std::size_t words = 0);

// With its first letter as a capital.
[[nodiscard]] std::string capital(std::string text);

// A line each under a heading; empty when there is nothing.
[[nodiscard]] std::string cautions_text(const std::vector<std::string>& cautions);

}  // namespace totebench::app
