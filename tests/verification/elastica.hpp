// Oracle for strips that bend without stretching: a cantilever, clamped level at s = 0, under a
// dead transverse load, solved as a boundary value problem by shooting.
//   theta'' = -q(s) cos(theta),  theta(0) = 0,  theta'(1) = 0      (lengths over L)
// q = gamma (1 - s) with gamma = w L^3 / B for own weight, q = P L^2 / B for a tip force.
#pragma once

#include <array>
#include <cmath>
#include <functional>

namespace totebench::verification {

struct ElasticaTip {
  double along = 0;   // x_tip / L
  double drop = 0;    // in the direction of the load, over L
  double slope = 0;   // rad
  double moment = 0;  // at the clamp, times L / B
};

[[nodiscard]] inline ElasticaTip elastica_cantilever(const std::function<double(double)>& q) {
  using Y = std::array<double, 4>;  // theta, theta', x, drop
  const auto rate = [&](double s, const Y& y) {
    return Y{y[1], -q(s) * std::cos(y[0]), std::cos(y[0]), std::sin(y[0])};
  };
  const auto shoot = [&](double moment) {
    constexpr int kSteps = 2000;
    const double h = 1.0 / kSteps;
    Y y{0, moment, 0, 0};
    for (int i = 0; i < kSteps; ++i) {  // classical Runge-Kutta
      const double s = i * h;
      const auto moved = [&](const Y& k, double share) {
        Y z = y;
        for (int c = 0; c < 4; ++c) z[c] += share * h * k[c];
        return z;
      };
      const Y k1 = rate(s, y);
      const Y k2 = rate(s + h / 2, moved(k1, 0.5));
      const Y k3 = rate(s + h / 2, moved(k2, 0.5));
      const Y k4 = rate(s + h, moved(k3, 1));
      for (int c = 0; c < 4; ++c) y[c] += h / 6 * (k1[c] + 2 * k2[c] + 2 * k3[c] + k4[c]);
    }
    return y;
  };
  // The free end's curvature rises with the moment at the clamp on the branch that starts at rest.
  double low = 0;
  double high = 0;
  for (int i = 0; i < 100; ++i) high += q((i + 0.5) / 100) / 100;  // more than the level strip's
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (shoot(middle)[1] < 0 ? low : high) = middle;
  }
  const Y end = shoot(0.5 * (low + high));
  return {end[2], end[3], end[0], 0.5 * (low + high)};
}

}  // namespace totebench::verification
