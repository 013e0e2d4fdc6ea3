#include "app/present/text_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

namespace totebench::app {

std::string table_text(const TextTable& rows, std::size_t words) {
  std::vector<std::size_t> width;
  for (const auto& row : rows) {
    if (row.size() > width.size()) width.resize(row.size(), 0);
    for (std::size_t c = 0; c < row.size(); ++c) width[c] = std::max(width[c], row[c].size());
  }
  std::string text;
  for (const auto& row : rows) {
    std::string line = "  ";
    for (std::size_t c = 0; c < row.size(); ++c) {
      if (c > 0) line += "   ";
      line += c == 0 || c == words ? fmt::format("{:<{}}", row[c], width[c])
                                   : fmt::format("{:>{}}", row[c], width[c]);
    }
    text += line.substr(0, line.find_last_not_of(' ') + 1) + "\n";
  }
  return text;
}

std::string capital(std::string text) {
  if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

std::string cautions_text(const std::vector<std::string>& cautions) {
  std::string text;
  for (const std::string& caution : cautions) text += "  - " + caution + "\n";
  return text.empty() ? text : "\nCautions:\n" + text;
}

}  // namespace totebench::app
