// The barrier between points and triangles and between edges: closest points against sampling,
// derivatives against central differences, rigid motion, no jump where the closest feature changes.
#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>

#include "solver/contact/barrier.hpp"
#include "tests/unit/contact_samples.hpp"

namespace totebench {
namespace {

using solver::Barrier;
using solver::HessianPart;
using solver::Matrix12d;
using solver::PairKind;
using solver::PairPoints;
using solver::Vector12d;
using test::PairCase;

const double kLimit = solver::parallel_limit(1e-4, 1e-4);  // of edges of a centimetre

Barrier barrier_of(PairKind kind) { return {2e-4, 1e-3, kind == PairKind::kEdgeEdge ? kLimit : 0}; }

PairPoints stepped(const PairPoints& points, int i, double h) {
  PairPoints moved = points;
  moved.data()[i] += h;
  return moved;
}

struct Derivatives {
  double energy = 0;
  Vector12d gradient;
  Matrix12d hessian;
};
Derivatives derivatives(const PairCase& c, const PairPoints& points,
                        HessianPart part = HessianPart::kExact) {
  Derivatives d;
  d.energy =
      solver::barrier_derivatives(c.kind, points, barrier_of(c.kind), part, d.gradient, &d.hessian);
  return d;
}

TEST(ContactClosestPoints, LieInTheFeaturesAndAreNearerThanAnyOther) {
  std::mt19937 random(3);
  for (int n = 0; n < 300; ++n) {
    const PairPoints points = test::random_points(random, 1);
    for (const PairKind kind : {PairKind::kPointTriangle, PairKind::kEdgeEdge}) {
      const bool edges = kind == PairKind::kEdgeEdge;
      const Eigen::Vector4d c = solver::closest_points(kind, points).c;
      EXPECT_NEAR(c.sum(), 0, 1e-14);
      EXPECT_NEAR(c.cwiseAbs().sum(), 2, 1e-13);
      const double distance = (points * c).norm();
      for (double s = 0; s <= 1; s += 1.0 / 32) {
        for (double t = 0; t <= (edges ? 1 : 1 - s); t += 1.0 / 32) {
          const Eigen::Vector4d other =
              edges ? Eigen::Vector4d(1 - s, s, t - 1, -t) : Eigen::Vector4d(1, s + t - 1, -s, -t);
          ASSERT_LE(distance, (points * other).norm() + 1e-14);
        }
      }
    }
  }
}

TEST(ContactClosestPoints, CasesAreWhatTheySay) {
  for (const PairCase& c : test::closest_feature_cases()) {
    EXPECT_EQ(solver::closest_points(c.kind, c.points).n_interior, c.n_interior) << c.name;
    const double d = solver::pair_distance(c.kind, c.points);
    EXPECT_TRUE(d > 0.2e-3 && d < 0.9e-3) << c.name << " " << d;
  }
}

TEST(ContactDistance, DerivativesAreThoseOfDifferences) {
  for (const PairCase& c : test::closest_feature_cases()) {
    const auto at = [&](const PairPoints& points) {
      return solver::distance_derivatives(points, solver::closest_points(c.kind, points));
    };
    const solver::DistanceDerivatives d = at(c.points);
    // The distance of nearly parallel edges curves over lengths far below a step of others.
    const double h = c.name == "nearly parallel" ? 1e-8 : 1e-7;
    for (int i = 0; i < 12; ++i) {
      const auto plus = at(stepped(c.points, i, h));
      const auto minus = at(stepped(c.points, i, -h));
      EXPECT_NEAR(d.gradient[i], (plus.distance - minus.distance) / (2 * h), 1e-7) << c.name;
      const Vector12d column = (plus.gradient - minus.gradient) / (2 * h);
      EXPECT_LT((d.hessian.col(i) - column).norm(), 1e-6 * d.hessian.norm()) << c.name;
    }
  }
}

TEST(ContactBarrier, DerivativesAreThoseOfDifferences) {
  for (const PairCase& c : test::closest_feature_cases()) {
    const Derivatives d = derivatives(c, c.points);
    EXPECT_GT(d.energy, 0) << c.name;
    EXPECT_EQ(d.energy, solver::barrier_energy(c.kind, c.points, barrier_of(c.kind))) << c.name;
    EXPECT_LT((d.hessian - d.hessian.transpose()).norm(), 1e-15 * d.hessian.norm()) << c.name;
    const double h = c.name == "nearly parallel" ? 1e-8 : 1e-7;
    for (int i = 0; i < 12; ++i) {
      const Derivatives plus = derivatives(c, stepped(c.points, i, h));
      const Derivatives minus = derivatives(c, stepped(c.points, i, -h));
      EXPECT_NEAR(d.gradient[i], (plus.energy - minus.energy) / (2 * h), 1e-6 * d.gradient.norm())
          << c.name << " " << i;
      const Vector12d column = (plus.gradient - minus.gradient) / (2 * h);
      EXPECT_LT((d.hessian.col(i) - column).norm(), 1e-6 * d.hessian.norm()) << c.name << " " << i;
    }
  }
}

TEST(ContactBarrier, PositivePartIsTheHessianWithoutEigenvaluesBelowZero) {
  for (const PairCase& c : test::closest_feature_cases()) {
    const Derivatives exact = derivatives(c, c.points);
    const Derivatives convex = derivatives(c, c.points, HessianPart::kPositive);
    EXPECT_EQ(exact.gradient, convex.gradient) << c.name;
    // It and what it leaves out are both without negative eigenvalues, and have none in common:
    // that is the nearest semidefinite matrix [Higham1988].
    const Matrix12d left_out = convex.hessian - exact.hessian;
    const double size = convex.hessian.norm();
    const auto least = [](const Matrix12d& m) {
      return Eigen::SelfAdjointEigenSolver<Matrix12d>(m).eigenvalues()[0];
    };
    EXPECT_GT(least(convex.hessian), -1e-13 * size) << c.name;
    EXPECT_GT(least(left_out), -1e-13 * size) << c.name;
    EXPECT_LT((convex.hessian * left_out).norm(), 1e-13 * size * size) << c.name;
    EXPECT_GT(left_out.norm(), 1e-6 * size) << c.name << ": the barrier is not convex";
  }
}

TEST(ContactBarrier, RigidMotionChangesNothing) {
  const Eigen::Matrix3d turn =
      Eigen::AngleAxisd(1.1, Eigen::Vector3d(1, -2, 0.5).normalized()).toRotationMatrix();
  for (const PairCase& c : test::closest_feature_cases()) {
    const Derivatives d = derivatives(c, c.points);
    const PairPoints moved = (turn * c.points).colwise() + Eigen::Vector3d(0.3, -0.2, 0.1);
    const Derivatives e = derivatives(c, moved);
    EXPECT_NEAR(e.energy, d.energy, 1e-9 * d.energy) << c.name;
    for (int k = 0; k < 4; ++k) {
      EXPECT_LT((e.gradient.segment<3>(3 * k) - turn * d.gradient.segment<3>(3 * k)).norm(),
                1e-8 * d.gradient.norm())
          << c.name;
    }
    // No net force, no net moment.
    Eigen::Vector3d force = Eigen::Vector3d::Zero();
    Eigen::Vector3d moment = Eigen::Vector3d::Zero();
    for (int k = 0; k < 4; ++k) {
      const Eigen::Vector3d g = d.gradient.segment<3>(3 * k);
      force += g;
      moment += Eigen::Vector3d(c.points.col(k)).cross(g);
    }
    EXPECT_LT(force.norm(), 1e-12 * d.gradient.norm()) << c.name;
    EXPECT_LT(moment.norm(), 1e-12 * d.gradient.norm() * 1e-2) << c.name;
  }
}

TEST(ContactBarrier, SetsInSmoothlyAtTheGap) {
  const PairCase face = test::closest_feature_cases().front();
  const double d = solver::pair_distance(face.kind, face.points);
  Vector12d gradient;
  Matrix12d hessian;
  const auto at = [&](double gap) {
    return solver::barrier_derivatives(face.kind, face.points, {1, gap, 0}, HessianPart::kExact,
                                       gradient, &hessian);
  };
  EXPECT_EQ(at(d), 0);
  EXPECT_TRUE(gradient.isZero(0) && hessian.isZero(0));
  at(d * (1 + 1e-4));
  // phi is third order at its end: -(s - 1)^2 ln s = -(s - 1)^3 + ...
  EXPECT_NEAR(at(d * (1 + 1e-4)), 1e-12, 1e-15);
  EXPECT_LT(gradient.norm() * d, 1e-7);
  EXPECT_LT(hessian.norm() * d * d, 2e-3);
}

TEST(ContactBarrier, HasNoEndAsThePairMeets) {
  const Barrier barrier{1, 1e-3, 0};
  PairPoints points = test::closest_feature_cases().front().points;
  const Eigen::Vector3d foot =
      points.col(0) + points * -solver::closest_points(PairKind::kPointTriangle, points).c;
  double last = 0;
  for (double d = 5e-4; d > 1e-12; d /= 10) {
    points.col(0) = foot + Eigen::Vector3d(0, 0, d);
    const double energy = solver::barrier_energy(PairKind::kPointTriangle, points, barrier);
    EXPECT_GT(energy, last + 0.1);
    last = energy;
  }
  const PairPoints touching = PairPoints::Zero();
  EXPECT_EQ(solver::barrier_energy(PairKind::kPointTriangle, touching, barrier), INFINITY);
}

// Energies along a path in small steps: each difference is the mean slope times the step, or there
// is a jump.
void expect_no_jump(PairKind kind, const Barrier& barrier,
                    const std::function<PairPoints(double)>& path) {
  constexpr int kSteps = 20000;
  Vector12d gradient;
  Vector12d before;
  double largest = 0;
  double energy = 0;
  double worst = 0;
  for (int i = 0; i <= kSteps; ++i) {
    const PairPoints points = path(static_cast<double>(i) / kSteps);
    const double next =
        solver::barrier_derivatives(kind, points, barrier, HessianPart::kExact, gradient, nullptr);
    if (i > 0) {
      const PairPoints step = points - path(static_cast<double>(i - 1) / kSteps);
      const double mean = 0.5 * (before + gradient).dot(Eigen::Map<const Vector12d>(step.data()));
      worst = std::max(worst, std::abs(next - energy - mean));
    }
    energy = next;
    before = gradient;
    largest = std::max(largest, energy);
  }
  EXPECT_GT(largest, 0);
  EXPECT_LT(worst, 1e-5 * largest);
}

TEST(ContactBarrier, DoesNotJumpWhereTheClosestFeatureChanges) {
  const PairPoints face = test::closest_feature_cases().front().points;
  const auto across = [&](const Eigen::Vector3d& from_mm, const Eigen::Vector3d& to_mm) {
    return [=](double s) {
      PairPoints points = face;
      points.col(0) = 1e-3 * ((1 - s) * from_mm + s * to_mm);
      return points;
    };
  };
  const Barrier point = barrier_of(PairKind::kPointTriangle);
  // Over an edge, out and in again; over a corner; along an edge and past its end.
  expect_no_jump(PairKind::kPointTriangle, point, across({3, -2, 0.4}, {3, 10, 0.4}));
  expect_no_jump(PairKind::kPointTriangle, point, across({-1, -1, 0.3}, {5, 3, 0.5}));
  expect_no_jump(PairKind::kPointTriangle, point, across({-2, -0.2, 0.3}, {12, 1.2, 0.6}));

  const PairPoints crossing = test::closest_feature_cases()[7].points;
  const auto slid = [&](const Eigen::Vector3d& by_mm) {
    return [=](double s) {
      PairPoints points = crossing;
      points.rightCols<2>().colwise() += 1e-3 * (2 * s - 1) * by_mm;
      return points;
    };
  };
  const Barrier edges = barrier_of(PairKind::kEdgeEdge);
  expect_no_jump(PairKind::kEdgeEdge, edges, slid({9, 0, 0}));
  expect_no_jump(PairKind::kEdgeEdge, edges, slid({0, 9, 0}));
  expect_no_jump(PairKind::kEdgeEdge, edges, slid({7, 8, 0}));
}

TEST(ContactBarrier, EdgesTurnThroughParallelWithoutAJump) {
  const auto turned = [](double tilt_mm) {
    return [=](double s) {
      const double angle = 0.1 * (2 * s - 1);  // through zero
      const Eigen::Vector3d along(std::cos(angle), std::sin(angle), 0);
      PairPoints points;
      points.col(0) = Eigen::Vector3d(-0.005, 0, 0);
      points.col(1) = Eigen::Vector3d(0.005, 0, 0);
      points.col(2) = Eigen::Vector3d(0.001, 1e-4, 5e-4) - 0.005 * along;
      points.col(3) = Eigen::Vector3d(0.001, 1e-4, 5e-4 + 1e-3 * tilt_mm) + 0.005 * along;
      return points;
    };
  };
  expect_no_jump(PairKind::kEdgeEdge, barrier_of(PairKind::kEdgeEdge), turned(0));
  expect_no_jump(PairKind::kEdgeEdge, barrier_of(PairKind::kEdgeEdge), turned(0.05));
}

TEST(ContactBarrier, DegenerateInputGivesNumbers) {
  const auto finite = [](PairKind kind, const PairPoints& points, const std::string& name) {
    Derivatives d;
    d.energy = solver::barrier_derivatives(kind, points, barrier_of(kind), HessianPart::kExact,
                                           d.gradient, &d.hessian);
    EXPECT_TRUE(std::isfinite(d.energy) && d.gradient.allFinite() && d.hessian.allFinite()) << name;
    return d;
  };
  for (const double off : {0.0, 1e-15, 1e-12, 1e-9, 1e-6, 1e-4}) {
    PairPoints parallel;
    parallel << -5e-3, 5e-3, -4e-3, 6e-3,  //
        0, off, 0, 0,                      //
        0, 0, 5e-4, 5e-4;
    const Derivatives d = finite(PairKind::kEdgeEdge, parallel, "parallel");
    // What two edges hold fades with the square of their angle, 2 (off / 1 cm)^2 / 1e-3.
    if (off > 0 && off < 1e-5) {
      EXPECT_NEAR(d.energy / (2 * std::pow(off / 0.01, 2) / 1e-3), 2e-4 * 0.25 * std::log(2), 1e-7);
    }
    EXPECT_LT(d.hessian.norm(), 1e5);

    PairPoints needle;
    needle << 1e-3, -5e-3, 5e-3, 0,  //
        0, 0, off, 0,                //
        5e-4, 0, 0, 0;
    finite(PairKind::kPointTriangle, needle, "needle");
    PairPoints short_edge;
    short_edge << 0, off, -5e-3, 5e-3,  //
        0, 0, 1e-4, 1e-4,               //
        5e-4, 5e-4, 0, 0;
    finite(PairKind::kEdgeEdge, short_edge, "short edge");
  }
  PairPoints points = PairPoints::Zero();
  points(2, 0) = 5e-4;
  finite(PairKind::kPointTriangle, points, "triangle without size");
  points(2, 1) = 5e-4;
  finite(PairKind::kEdgeEdge, points, "edges without length");
}

}  // namespace
}  // namespace totebench
