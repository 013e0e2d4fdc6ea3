// Words of a line of kept work, which has no empty ones.
#pragma once

#include <string>

namespace totebench::studies {

[[nodiscard]] inline std::string kept_word(const std::string& word) {
  return word.empty() ? "-" : word;
}
[[nodiscard]] inline std::string word_of_kept(const std::string& kept) {
  return kept == "-" ? "" : kept;
}

}  // namespace totebench::studies
