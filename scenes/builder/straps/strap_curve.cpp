#include "scenes/builder/straps/strap_curve.hpp"

#include <Eigen/Dense>
#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace totebench::scenes {
namespace {

using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;

constexpr int kSteps = 60;  // of the integration along the curve
constexpr int kKnots = 13;  // of each rate, linear between them
constexpr int kMostCorrections = 200;
constexpr double kEndTolerance = 1e-12;
constexpr double kStill = 1e-10;  // rad: a correction that changes no rate by more is the last
// Slopes are differences over this either side, rad: coarse, so that round-off does not move the
// curve (an error of 1e-7 in a slope only costs corrections).
constexpr double kNudge = 1e-3;

// Between which knots share q of the curve lies, and how far from the first.
struct Between {
  int knot;
  double t;
};
Between between(double q) {
  const double place = q * (kKnots - 1);
  const int knot = std::min(static_cast<int>(place), kKnots - 2);
  return {knot, place - knot};
}

// Rates (times length) at share q of the curve. rates: twist, bend, side at each knot.
Vector3d rates_at(const VectorXd& rates, double q) {
  const auto [knot, t] = between(q);
  return (1 - t) * rates.segment<3>(3 * knot) + t * rates.segment<3>(3 * (knot + 1));
}

// One step on, turning by `turn` (in the frame's own axes) at constant rates.
RibbonFrame step_on(const RibbonFrame& last, const Vector3d& turn, double step_m) {
  const double angle = turn.norm();
  const Vector3d axis = angle > 0 ? Vector3d(turn / angle) : Vector3d::UnitX();
  RibbonFrame next;
  next.axes = last.axes * Eigen::AngleAxisd(angle, axis).toRotationMatrix();
  const Vector3d middle = last.axes * (Eigen::AngleAxisd(0.5 * angle, axis) * Vector3d::UnitX());
  // Chord of the arc turned through.
  const double bend = (turn - turn.x() * Vector3d::UnitX()).norm();
  const double chord = bend > 1e-9 ? std::sin(bend / 2) / (bend / 2) : 1.0;
  next.centre = last.centre + step_m * chord * middle;
  return next;
}

double middle_of(int step) { return (step + 0.5) / kSteps; }  // share of the curve

std::vector<RibbonFrame> integrate(const RibbonFrame& start, const VectorXd& rates,
                                   double length_m) {
  std::vector<RibbonFrame> frames{start};
  for (int i = 0; i < kSteps; ++i) {
    frames.push_back(
        step_on(frames.back(), rates_at(rates, middle_of(i)) / kSteps, length_m / kSteps));
  }
  return frames;
}

// What is wrong at the end: x and y over length, and the rotation vector to the wanted frame.
Eigen::Matrix<double, 5, 1> misfit(const RibbonFrame& reached, const RibbonFrame& wanted,
                                   double length_m) {
  const Eigen::AngleAxisd turn(Matrix3d(wanted.axes.transpose() * reached.axes));
  Eigen::Matrix<double, 5, 1> r;
  r << (reached.centre - wanted.centre).head<2>() / length_m, turn.angle() * turn.axis();
  return r;
}

// Slope of the misfit by each rate. A step that turns a little more moves the rest of the curve as
// a rigid body.
MatrixXd misfit_slope(const std::vector<RibbonFrame>& frames, const VectorXd& rates,
                      const RibbonFrame& wanted, double length_m) {
  const RibbonFrame& end = frames.back();
  MatrixXd slope = MatrixXd::Zero(5, rates.size());
  for (int i = 0; i < kSteps; ++i) {
    const RibbonFrame& after = frames[i + 1];
    const Matrix3d axes_on = after.axes.transpose() * end.axes;
    const Vector3d way_on = after.axes.transpose() * (end.centre - after.centre);
    const auto [knot, t] = between(middle_of(i));
    const Vector3d turn = rates_at(rates, middle_of(i)) / kSteps;
    for (int k = 0; k < 3; ++k) {
      const auto nudged = [&](double by) {
        const RibbonFrame there =
            step_on(frames[i], turn + by * Vector3d::Unit(k), length_m / kSteps);
        return misfit({there.centre + there.axes * way_on, there.axes * axes_on}, wanted, length_m);
      };
      const Eigen::Matrix<double, 5, 1> by_rate =
          (nudged(kNudge) - nudged(-kNudge)) / (2 * kNudge * kSteps);
      slope.col(3 * knot + k) += (1 - t) * by_rate;
      slope.col(3 * (knot + 1) + k) += t * by_rate;
    }
  }
  return slope;
}

}  // namespace

StrapCurve::StrapCurve(const RibbonFrame& start, const RibbonFrame& end, double length_m)
    : length_m_(length_m) {
  const double away = (end.centre - start.centre).head<2>().norm();
  if (!(length_m > 0) || away >= length_m) {
    throw std::invalid_argument(
        "the strap is too short to reach from its ends to where it is held");
  }
  VectorXd weight(3 * kKnots);
  for (int k = 0; k < kKnots; ++k) {
    const double share = k == 0 || k == kKnots - 1 ? 0.5 : 1.0;
    weight.segment<3>(3 * k) = share * Vector3d(kTwistWeight, 1.0, kSideWeight);
  }
  // First guess: the twist that takes the width direction over, spread evenly.
  VectorXd rates = VectorXd::Zero(3 * kKnots);
  const Vector3d width_end = start.axes.transpose() * end.axes.col(1);
  const double twist = std::atan2(width_end.z(), width_end.y());
  for (int k = 0; k < kKnots; ++k) rates[3 * k] = twist;

  // Gauss-Newton on the end conditions, each step the one that leaves the least weighted rates:
  // minimise (rates + d)^T W (rates + d) subject to J d = -misfit.
  const auto end_of = [&](const VectorXd& r) {
    return misfit(integrate(start, r, length_m).back(), end, length_m);
  };
  Eigen::Matrix<double, 5, 1> wrong = end_of(rates);
  double change = 1;
  double penalty = 0;
  for (int round = 0; round < kMostCorrections && (wrong.norm() > kEndTolerance || change > kStill);
       ++round) {
    const MatrixXd jacobian = misfit_slope(integrate(start, rates, length_m), rates, end, length_m);
    // d = -rates + W^-1 J^T (J W^-1 J^T)^-1 (J rates - misfit)
    const MatrixXd spread = weight.cwiseInverse().asDiagonal() * jacobian.transpose();
    const MatrixXd gram = jacobian * spread;
    const VectorXd multiplier = gram.ldlt().solve(jacobian * rates - wrong);
    const VectorXd step = spread * multiplier - rates;
    // Take as much of the step as lowers the sum of cost and weighted misfit, and no more than
    // turns any rate by a radian: beyond that the linear model means nothing.
    penalty = std::max(penalty, 2 * multiplier.cwiseAbs().maxCoeff());
    const auto merit = [&](const VectorXd& r, const Eigen::Matrix<double, 5, 1>& off) {
      return 0.5 * r.dot(weight.cwiseProduct(r)) + penalty * off.lpNorm<1>();
    };
    const double before = merit(rates, wrong);
    double share = std::min(1.0, 1.0 / std::max(step.cwiseAbs().maxCoeff(), 1e-300));
    VectorXd trial = rates + share * step;
    for (int cut = 0; cut < 12 && merit(trial, end_of(trial)) > before * (1 + 1e-14); ++cut) {
      share *= 0.5;
      trial = rates + share * step;
    }
    rates = trial;
    change = share * step.cwiseAbs().maxCoeff();
    wrong = end_of(rates);
  }
  if (!(wrong.norm() < 1e-9)) {
    throw std::invalid_argument(
        "no strap of this length fits between its ends and where it is held; "
        "make it longer or set its ends closer");
  }
  frames_ = integrate(start, rates, length_m);
}

RibbonFrame StrapCurve::at(double s_m) const {
  const double place = std::clamp(s_m / length_m_, 0.0, 1.0) * kSteps;
  const int i = std::min(static_cast<int>(place), kSteps - 1);
  const double t = place - i;
  RibbonFrame frame;
  // Cubic through both ends with their tangents; the frame turns evenly between them.
  const RibbonFrame& a = frames_[i];
  const RibbonFrame& b = frames_[i + 1];
  const double h = length_m_ / kSteps;
  frame.centre = (1 + 2 * t) * (1 - t) * (1 - t) * a.centre +
                 t * (1 - t) * (1 - t) * h * a.axes.col(0) + t * t * (3 - 2 * t) * b.centre +
                 t * t * (t - 1) * h * b.axes.col(0);
  frame.axes = Eigen::Quaterniond(a.axes).slerp(t, Eigen::Quaterniond(b.axes)).toRotationMatrix();
  return frame;
}

}  // namespace totebench::scenes
