// A strip that starts bent: a ring of it hung up at one place.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "sheet_case.hpp"

namespace totebench::verification {
namespace {

struct Ring {
  double height = 0, width = 0;  // over the length of the strip
};

// Half a ring of length 1 from the place it hangs at, by shooting for the curvature there and the
// horizontal force, so that it ends level below its start:
//   theta'' = -gamma (1/2 - s) cos(theta) + f sin(theta),  theta(0) = 0,  theta(1/2) = pi,
//   x' = cos(theta),  x(1/2) = 0,  gamma = w L^3 / B.
Ring hanging_ring(double gamma) {
  using Y = std::array<double, 4>;  // theta, theta', x, height
  double widest = 0;
  const auto shoot = [&](double curvature, double f) {
    constexpr int kParts = 4000;
    const double h = 0.5 / kParts;
    const auto rate = [&](double s, const Y& y) {
      return Y{y[1], -gamma * (0.5 - s) * std::cos(y[0]) + f * std::sin(y[0]), std::cos(y[0]),
               std::sin(y[0])};
    };
    const auto moved = [](Y y, const Y& by, double share) {
      for (int c = 0; c < 4; ++c) y[c] += share * by[c];
      return y;
    };
    Y y{0, curvature, 0, 0};
    widest = 0;
    for (int i = 0; i < kParts; ++i) {  // classical Runge-Kutta
      const double s = i * h;
      const Y k1 = rate(s, y);
      const Y k2 = rate(s + h / 2, moved(y, k1, h / 2));
      const Y k3 = rate(s + h / 2, moved(y, k2, h / 2));
      const Y k4 = rate(s + h, moved(y, k3, h));
      for (int c = 0; c < 4; ++c) y[c] += h / 6 * (k1[c] + 2 * k2[c] + 2 * k3[c] + k4[c]);
      widest = std::max(widest, y[2]);
    }
    return y;
  };
  Eigen::Vector2d unknown(2 * kPi, 0);
  const auto miss = [&](const Eigen::Vector2d& u) {
    const Y end = shoot(u[0], u[1]);
    return Eigen::Vector2d(end[0] - kPi, end[2]);
  };
  // Newton's method at each of some weights up to the one asked for.
  constexpr int kWeights = 20, kSteps = 8;
  const double whole = gamma;
  for (int i = 0; i < kWeights * kSteps; ++i) {
    gamma = whole * (i / kSteps + 1) / kWeights;
    const Eigen::Vector2d off = miss(unknown);
    Eigen::Matrix2d by;
    for (int c = 0; c < 2; ++c) {
      const Eigen::Vector2d step = 1e-6 * Eigen::Vector2d::Unit(c);
      by.col(c) = (miss(unknown + step) - miss(unknown - step)) / 2e-6;
    }
    unknown -= by.inverse() * off;
  }
  const Y end = shoot(unknown[0], unknown[1]);
  return {end[3], 2 * widest};
}

// VERIFICATION  HangingRing
// Reference   plane elastica under its own weight, by shooting (above); apart from it, by another
//             method: height 0.32126, 0.34395, width 0.31557, 0.29265 at gamma = 10, 100
// Inputs      strip L = 0.3 m by 2 cm, D = 1e-4 N m, nu = 0, start_bend -360 deg: the two ends lie
//             together, level and clamped, the rest below them
// Expected    height and width of the ring
// Tolerance   0.1 %
TEST(HangingRing, IsTheElasticaOfItsWeight) {
  EXPECT_NEAR(hanging_ring(10).height, 0.32126, 1e-5);
  EXPECT_NEAR(hanging_ring(10).width, 0.31557, 1e-5);
  EXPECT_NEAR(hanging_ring(100).height, 0.34395, 1e-5);
  EXPECT_NEAR(hanging_ring(100).width, 0.29265, 1e-5);
  const Source source = {"strips", "plane elastica of a closed ring hung at one place, by shooting",
                         "0.1 %: the strip stretches by less than 1e-5"};
  const double L = 0.3, D = 1e-4;
  for (const double gamma : {10.0, 100.0}) {
    const std::string name = "hanging ring, w L3/D = " + std::to_string(static_cast<int>(gamma));
    const Ring ring = hanging_ring(gamma);
    Refinement height(source, name + ", height over L", ring.height);
    Refinement width(source, "the same, width over L", ring.width);
    for (const double size : {0.02, 0.01}) {
      scenes::Scene scene =
          flat_sheet(L, 0.02, section_of(1e5, D, 0, gamma * D / (L * L * L) / kGravity), size);
      scene.sheet.start_bend_rad = -2 * kPi;
      hold_edge(scene, "x0", {}, true);
      hold_edge(scene, "x1", {}, true);
      hold_edge(scene, "y0", {false, true, false});
      hold_edge(scene, "y1", {false, true, false});
      add_weight(scene);
      const double weight = gamma * D / (L * L * L) * L * 0.02;
      const Solved solved = solve(scene, {0, 0, -weight}, 2);
      if (HasFatalFailure()) return;
      const Eigen::Matrix3Xd& x = solved.state.x;
      height.add(size, solved.triangles(), (x.row(2).maxCoeff() - x.row(2).minCoeff()) / L);
      width.add(size, solved.triangles(), (x.row(0).maxCoeff() - x.row(0).minCoeff()) / L);
    }
    height.expect_within(0.001);
    width.expect_within(0.001);
  }
}

}  // namespace
}  // namespace totebench::verification
