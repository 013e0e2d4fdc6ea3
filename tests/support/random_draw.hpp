// Random numbers that are the same everywhere: distributions of the standard library are not.
#pragma once

#include <initializer_list>
#include <random>
#include <vector>

namespace totebench::test {

class Random {
 public:
  explicit Random(unsigned seed) : engine_(seed) {}

  double between(double low, double high) {
    return low + (high - low) * (static_cast<double>(engine_()) / 4294967296.0);
  }
  // low .. high, both included
  int whole(int low, int high) { return static_cast<int>(between(low, high + 1)); }
  bool one_in(int n) { return whole(1, n) == 1; }
  template <class T>
  T one_of(std::initializer_list<T> choices) {
    const std::vector<T> list(choices);
    return list[static_cast<std::size_t>(whole(0, static_cast<int>(list.size()) - 1))];
  }
  // One of `n` values of an enumeration that counts from 0.
  template <class T>
  T kind(int n) {
    return static_cast<T>(whole(0, n - 1));
  }
  // Exactly `limit`, a hair to either side of it, or some per cent.
  double near(double limit) {
    const double off = one_of({0.0, 1e-9, -1e-9, 1e-4, -1e-4, 0.01, -0.01, 0.1, -0.1, 0.3, -0.3});
    return limit * (1 + off);
  }

 private:
  std::mt19937 engine_;
};

}  // namespace totebench::test
