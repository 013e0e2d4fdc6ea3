// A push that sets in softly at zero and grows evenly beyond, of a border or a floor.
#pragma once

namespace totebench::solver {

// With e > 0 what is beyond the onset, s > 0 the length over which it is soft and k the stiffness:
//   energy  k e^3 / (6 s)  up to s,  then  k/2 (e - s/2)^2 + k s^2 / 24
// convex and twice differentiable; nothing for e <= 0.
struct SoftOnset {
  double energy = 0;
  double force = 0;      // its derivative by e
  double stiffness = 0;  // and that of the force
};
[[nodiscard]] inline SoftOnset soft_onset(double k, double s, double e) {
  if (e <= 0) return {};
  if (e < s) return {k * e * e * e / (6 * s), k * e * e / (2 * s), k * e / s};
  const double even = e - 0.5 * s;
  return {0.5 * k * even * even + k * s * s / 24, k * even, k};
}

}  // namespace totebench::solver
