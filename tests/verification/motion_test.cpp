// Motion in time against closed forms.
//   dynamic load factors: Biggs, Introduction to Structural Dynamics (1964), sections 2.3 and 2.5
//   (from memory; the formulas follow from the one-degree oscillator and are written out below)
// Inputs     steps of 1/50, 1/100 and 1/200 of the period; the size in the book is the time step
// Not covered  several modes at once (regression test of a bag that is carried)
#include "totebench/solver/motion.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "book_picture.hpp"
#include "motion_case.hpp"
#include "totebench/solver/mass.hpp"
#include "totebench/solver/vibration.hpp"

namespace totebench::verification {
namespace {

Source oscillator(const std::string& formula, const std::string& why) {
  return {"motion", formula, why};
}
const char* const kSampling =
    "the largest of the sampled moments; the strap stiffens by its strain";

// ---- a mass on a hanging strap ----

constexpr double kStrapLength_m = 0.5;
constexpr double kStrapWidth_m = 0.04;
constexpr double kStretch_N_per_m = 2e7;
constexpr double kMass_kg = 5;
const double kG = solver::Model().gravity_m_per_s2;

// A nearly massless strap, held at the top, with a mass along its lower edge. Its stretch under
// the mass is 6e-5 of its length: a linear spring.
solver::Model mass_on_a_strap() {
  solver::Model model;
  model.mesh = rectangle({0, 0, -kStrapLength_m}, {kStrapWidth_m, 0, 0}, 4, 1);
  model.sections = {plain(kStretch_N_per_m, 1, 0, 1e-3)};
  model.payload_force_N = solver::edge_load(model.mesh, kFreeEdge,
                                            Eigen::Vector3d(0, 0, -kMass_kg * kG / kStrapWidth_m));
  hold_where(model, [](const Eigen::Vector3d& p) { return p.z() > -1e-9; });
  return model;
}

double strap_stiffness_N_per_m() { return kStretch_N_per_m * kStrapWidth_m / kStrapLength_m; }
double strap_period_s() { return 2 * kPi * std::sqrt(kMass_kg / strap_stiffness_N_per_m()); }
double static_stretch_m() { return kMass_kg * kG / strap_stiffness_N_per_m(); }

// Largest stretch over the static one within three periods, while the load rises as
// `share(t / period)`. The support is jerked upwards to `meeting_m_per_s` over the first two steps,
// which to the mass is the speed at which it meets the strap's end; the first step bears half of
// the weight, so that weight and speed set in at the same moment between the two.
double dynamic_factor(int n_per_period, const std::function<double(double)>& share,
                      double damping_ratio, double meeting_m_per_s = 0) {
  const solver::Model model = mass_on_a_strap();
  const double period = strap_period_s();
  solver::State state = solver::start_state(model);
  EXPECT_EQ(find_equilibrium(model, 0, state).status, solver::SolveStatus::kConverged);
  const double damping = damping_ratio * period / kPi;  // ratio = pi f damping
  solver::Motion motion(model, state, solver::nodal_masses(model, state),
                        {0, Eigen::Vector3d::Zero()}, damping);
  const double h = period / n_per_period;
  const int n = meeting_m_per_s > 0 ? n_per_period / 2 : 3 * n_per_period;  // before it rebounds
  double most = 0;
  for (int i = 1; i <= n; ++i) {
    const Eigen::Vector3d jerk(0, 0, i == 1 ? meeting_m_per_s / h : 0);
    const double half = i == 1 && meeting_m_per_s > 0 ? 0.5 : 1;
    const solver::MotionReport report =
        motion.advance(h, {half * share(static_cast<double>(i) / n_per_period), jerk});
    EXPECT_EQ(report.status, solver::SolveStatus::kConverged);
    // The force in the strap: its stretch tells it, the support also feels the mass being weighed.
    most =
        std::max(most, -motion.state().x(2, model.mesh.labelled_edges.back().a) - kStrapLength_m);
  }
  return most / static_stretch_m();
}

// One row: the factor at three time steps.
void expect_factor(const Source& source, const std::string& what, double expected, double tolerance,
                   const std::function<double(double)>& share, double damping_ratio = 0,
                   double meeting_m_per_s = 0) {
  Refinement row(source, what, expected);
  for (const int n : {50, 100, 200}) {
    row.add(strap_period_s() / n, 0, dynamic_factor(n, share, damping_ratio, meeting_m_per_s));
  }
  row.expect_within(tolerance);
}

double at_once(double) { return 1; }

TEST(Motion, SuddenLoad_DoublesTheStretch) {
  expect_factor(oscillator("Biggs (1964), section 2.3 (from memory): 2", kSampling),
                "load put on at once, peak over static", 2, 1e-3, at_once);
}

TEST(Motion, SuddenLoad_WithDamping) {
  const double zeta = 0.1;
  expect_factor(oscillator("oscillator: 1 + exp(-pi zeta / sqrt(1 - zeta^2))", kSampling),
                "load put on at once, a tenth of critical damping",
                1 + std::exp(-kPi * zeta / std::sqrt(1 - zeta * zeta)), 1.5e-3, at_once, zeta);
}

// 1 + |sin(pi r)| / (pi r) with r the rise time over the period.
TEST(Motion, RampedLoad_FollowsTheRampFormula) {
  const Source source = oscillator(
      "Biggs (1964), section 2.5 (from memory): 1 + |sin(pi r)| / (pi r), r rise time over period",
      kSampling);
  for (const auto& [r, text] : {std::pair{0.25, "0.25"}, {0.5, "0.5"}, {1.5, "1.5"}}) {
    expect_factor(source, std::string("load rising over ") + text + " periods",
                  1 + std::abs(std::sin(kPi * r)) / (kPi * r), 1.5e-3,
                  [r = r](double t) { return std::min(1.0, t / r); });
  }
}

// A mass that falls freely by h before its strap draws taut: 1 + sqrt(1 + 2 h / stretch).
TEST(Motion, DroppedLoad_FollowsTheImpactFormula) {
  const Source source =
      oscillator("energy: 1 + sqrt(1 + 2 h / static stretch)",
                 "the meeting takes one time step; the strap stiffens by its strain");
  for (const auto& [ratio, text] : {std::pair{1.0, "once"}, {5.0, "5 times"}, {50.0, "50 times"}}) {
    expect_factor(source, std::string("dropped from ") + text + " the static stretch",
                  1 + std::sqrt(1 + 2 * ratio), 3e-3, at_once, 0,
                  std::sqrt(2 * kG * ratio * static_stretch_m()));
  }
}

TEST(Motion, BounceFrequency_IsThatOfTheStaticStretch) {
  const solver::Model model = mass_on_a_strap();
  solver::State state = solver::start_state(model);
  ASSERT_EQ(find_equilibrium(model, 1, state).status, solver::SolveStatus::kConverged);
  const auto modes = solver::lowest_modes(model, state, 1, solver::nodal_masses(model, state), 9);
  const auto bounce = std::max_element(modes.begin(), modes.end(),
                                       [](const solver::Mode& a, const solver::Mode& b) {
                                         return a.mass_share.z() < b.mass_share.z();
                                       });
  const Source source = {"vibrations", "oscillator: sqrt(g / static stretch) / 2 pi",
                         "the strap stiffens by its strain of 6e-5"};
  expect_value(source, "bounce of a mass on a strap (Hz)", bounce->frequency_Hz,
               std::sqrt(kG / static_stretch_m()) / (2 * kPi), 5e-4);
  EXPECT_GT(bounce->mass_share.z(), 0.99);
}

// Vertical shaking at a third of the bounce frequency, from rest: the relative motion is that of
// the undamped oscillator, x = -(A / (w0^2 - w^2)) (sin w t - (w / w0) sin w0 t).
TEST(Motion, ShakenSupport_AmplifiesLikeTheOscillator) {
  const double w0 = 2 * kPi / strap_period_s(), w = w0 / 3, amplitude = 0.3;
  const auto exact = [&](double t) {
    return -amplitude / (w0 * w0 - w * w) * (std::sin(w * t) - w / w0 * std::sin(w0 * t));
  };
  const double end_s = 2.125 * strap_period_s();
  Refinement place(oscillator("undamped oscillator, shaken at a third of its frequency",
                              "the phase error of the time steps"),
                   "shaken strap, place after 2 1/8 periods (um)", 1e6 * exact(end_s));
  for (const int n : {40, 80, 160}) {
    const solver::Model model = mass_on_a_strap();
    solver::State state = solver::start_state(model);
    ASSERT_EQ(find_equilibrium(model, 1, state).status, solver::SolveStatus::kConverged);
    const int end = model.mesh.labelled_edges.back().a;
    const double rest_z = state.x(2, end);
    solver::Motion motion(model, state, solver::nodal_masses(model, state),
                          {1, Eigen::Vector3d::Zero()}, 0, 1e-8);
    const double h = strap_period_s() / n;
    double worst = 0, largest = 0;
    for (int i = 1; i <= 17 * n / 8; ++i) {
      const solver::MotionReport report =
          motion.advance(h, {1, Eigen::Vector3d(0, 0, amplitude * std::sin(w * i * h))});
      ASSERT_EQ(report.status, solver::SolveStatus::kConverged);
      const double z = motion.state().x(2, end) - rest_z;
      worst = std::max(worst, std::abs(z - exact(i * h)));
      largest = std::max(largest, std::abs(exact(i * h)));
      if (8 * i == 17 * n) place.add(h, 0, 1e6 * z);
      EXPECT_NEAR(report.support_force_N.x(), 0, 1e-6 * kMass_kg * kG);
    }
    if (n == 160) {
      EXPECT_LT(worst, 5e-3 * largest);  // phase error
    }
  }
  place.expect_within(5e-3);
}

// ---- a floor ----

// A stiff free plate without weight that a floor comes up to at a speed v: a mass on a spring k A,
// which it meets with m v^2 / 2. With the onset of the spring over s (solver/terms/floor_term.hpp)
// energy gives the deepest p:
//   m v^2 / 2 = A (k/2 (p - s/2)^2 + k s^2 / 24),  largest force k A (p - s/2),
// and it leaves with v, seen from the floor, all energy returned.
TEST(Motion, PlateMetByAFloor_TakesTheForceOfTheImpactAndBouncesOff) {
  const double a = 0.2, mass = 6, v = 0.5, k = 2e6, s = 5e-4;
  solver::Model model;
  model.mesh = rectangle({a, 0, 0}, {0, a, 0}, 2, 2);
  model.sections = {plain(1e8, 1e4, 0, 0.5 * mass / (a * a))};
  model.payload_force_N = solver::own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  std::vector<int> all(model.mesh.triangles.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<int>(i);
  model.floor = {all, k, s};
  const solver::State state = solver::start_state(model);
  const Eigen::VectorXd masses = solver::nodal_masses(model, state);
  ASSERT_NEAR(masses.sum(), mass, 1e-9);  // the sheet's own and its payload's
  const double area = a * a;
  const double exact = k * area * std::sqrt(2 * (0.5 * mass * v * v / area - k * s * s / 24) / k);
  const double period = 2 * kPi * std::sqrt(mass / (k * area));
  const Source source = oscillator("energy of an elastic impact on a floor",
                                   "time steps; the largest of the sampled moments");
  Refinement force(source, "plate met by a floor, largest force (N)", exact);
  Refinement back(source, "plate met by a floor, energy it leaves with (J)",
                  0.5 * mass * 4 * v * v);
  for (const int n : {50, 100, 200}) {
    solver::Motion motion(model, state, masses, {0, Eigen::Vector3d::Zero()}, 0, 1e-8);
    const double h = period / n;
    double most = 0;
    solver::MotionReport report;
    for (int i = 1; i <= 3 * n / 4; ++i) {
      report = motion.advance(h, {0, Eigen::Vector3d::Zero(), -1e-3 + v * i * h});
      ASSERT_EQ(report.status, solver::SolveStatus::kConverged) << i;
      most = std::max(most, report.floor_force_N);
      EXPECT_NEAR(report.support_force_N.norm(), 0, 1e-4 * exact) << "nothing else holds it";
    }
    EXPECT_EQ(report.floor_force_N, 0);
    force.add(h, 0, most);
    back.add(h, 0, report.kinetic_J);
  }
  force.expect_within(2e-3);  // 100 samples over the contact
  back.expect_within(5e-3);
}

// ---- large swings ----

// A hanging cloth strip, kicked sideways by its support and then left to swing.
struct Swing {
  double energy_drift = 0;  // largest change of the total energy after the kick, over the kinetic
  Eigen::Vector3d tip = Eigen::Vector3d::Zero();  // at the end
};
Swing swing(double h, bool picture = false) {
  solver::Model model;
  const double l = 0.3;
  model.mesh = rectangle({0, 0, -l}, {0.05, 0, 0}, 8, 1);
  model.sections = {plain(2e3, 2e-3, 0, 0.3)};
  model.permanent_force_N = solver::own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  hold_where(model, [](const Eigen::Vector3d& p) { return p.z() > -1e-9; });
  solver::State state = solver::start_state(model);
  EXPECT_EQ(find_equilibrium(model, 1, state).status, solver::SolveStatus::kConverged);
  solver::Motion motion(model, state, solver::nodal_masses(model, state),
                        {1, Eigen::Vector3d::Zero()}, 0, 1e-9);
  const double kick_s = 0.16, end_s = 0.4;
  Swing result;
  double at_kick = 0, kinetic = 0;
  const int n = static_cast<int>(std::lround(end_s / h));
  for (int i = 1; i <= n; ++i) {
    const double t = i * h;
    const double share = t < kick_s ? std::pow(std::sin(kPi * t / kick_s), 2) : 0;
    const solver::MotionReport report = motion.advance(h, {1, Eigen::Vector3d(0, -8 * share, 0)});
    EXPECT_EQ(report.status, solver::SolveStatus::kConverged);
    if (t < kick_s - 0.5 * h) continue;
    const double total = report.kinetic_J + report.potential_J;
    if (at_kick == 0) at_kick = total;
    kinetic = std::max(kinetic, report.kinetic_J);
    result.energy_drift = std::max(result.energy_drift, std::abs(total - at_kick));
    if (picture && 2 * i == n) draw("motion", model, motion.state(), {20, 15, 1});
  }
  result.energy_drift /= kinetic;
  result.tip = motion.state().x.col(model.mesh.labelled_edges.back().a);
  return result;
}

// Average acceleration is of second order: halving the step quarters the change of the end place
// and of the energy that drifts.
TEST(Motion, LargeSwing_KeepsItsEnergyAndConvergesWithTheSquareOfTheStep) {
  const Swing coarse = swing(4e-3), middle = swing(2e-3), fine = swing(1e-3, true);
  EXPECT_GT(std::abs(fine.tip.y()), 0.03);  // it does swing far
  const Source newmark = oscillator("Newmark (1959), average acceleration: second order",
                                    "steps of 4, 2 and 1 ms are not yet small");
  expect_value(newmark, "swinging strip, order of its place in time",
               std::log2((coarse.tip - middle.tip).norm() / (middle.tip - fine.tip).norm()), 2,
               0.15);
  expect_value(newmark, "swinging strip, order of its energy's drift",
               std::log2(middle.energy_drift / fine.energy_drift), 2, 0.2);
  EXPECT_LT(fine.energy_drift, 5e-3);
}

}  // namespace
}  // namespace totebench::verification
