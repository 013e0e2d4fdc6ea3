// Moves of a figure by independent numbers, added in squares: those down and those up apart
// ([JCGM100], 5.1.2, as in totebench/studies/data_scatter.hpp).
#pragma once

#include <algorithm>
#include <cmath>

namespace totebench::studies {

class MovesInSquares {
 public:
  // How far one number moves it at either end of its range.
  void add(double at_low, double at_high) {
    const auto [least, most] = std::minmax({0.0, at_low, at_high});
    down_ += least * least;
    up_ += most * most;
  }
  [[nodiscard]] double down() const { return std::sqrt(down_); }
  [[nodiscard]] double up() const { return std::sqrt(up_); }

 private:
  double down_ = 0, up_ = 0;
};

}  // namespace totebench::studies
