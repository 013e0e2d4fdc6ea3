#include "book_compare.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <vector>

namespace totebench::verification {
namespace {

// Words and numbers of a line. A number is digits with sign, point and exponent.
std::vector<std::string> tokens(const std::string& line) {
  std::vector<std::string> parts;
  std::size_t i = 0;
  const auto digit = [&](std::size_t k) {
    return k < line.size() && std::isdigit(static_cast<unsigned char>(line[k])) != 0;
  };
  while (i < line.size()) {
    std::size_t end = i;
    if (digit(i) || ((line[i] == '+' || line[i] == '-') && digit(i + 1))) {
      ++end;
      while (digit(end) || (end < line.size() && line[end] == '.')) ++end;
      if (end < line.size() && line[end] == 'e') {
        std::size_t power = end + 1;
        if (power < line.size() && (line[power] == '+' || line[power] == '-')) ++power;
        if (digit(power)) {
          end = power;
          while (digit(end)) ++end;
        }
      }
    } else {
      ++end;
    }
    parts.push_back(line.substr(i, end - i));
    i = end;
  }
  return parts;
}

// One unit in the last digit printed.
double last_digit(const std::string& text) {
  const std::size_t e = text.find('e');
  const std::size_t point = text.find('.');
  const std::string mantissa = text.substr(0, e);
  const double decimals =
      point == std::string::npos ? 0 : static_cast<double>(mantissa.size() - point - 1);
  const double power = e == std::string::npos ? 0 : std::stod(text.substr(e + 1));
  return std::pow(10, power - decimals);
}

}  // namespace

bool same_line(const std::string& a, const std::string& b) {
  const std::vector<std::string> left = tokens(a);
  const std::vector<std::string> right = tokens(b);
  if (left.size() != right.size()) return false;
  for (std::size_t i = 0; i < left.size(); ++i) {
    if (left[i] == right[i]) continue;
    const bool numbers = std::isdigit(static_cast<unsigned char>(left[i].back())) != 0 &&
                         std::isdigit(static_cast<unsigned char>(right[i].back())) != 0;
    if (!numbers) return false;
    const double unit = std::max(last_digit(left[i]), last_digit(right[i]));
    if (std::abs(std::stod(left[i]) - std::stod(right[i])) > 1.01 * unit) return false;
  }
  return true;
}

}  // namespace totebench::verification
