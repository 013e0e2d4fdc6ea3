// Motion in time and free vibrations against closed forms.
//   frequencies: Blevins, Formulas for Natural Frequency and Mode Shape (1979), tables 8-1 and 11-4
//   dynamic load factors: Biggs, Introduction to Structural Dynamics (1964), sections 2.3 and 2.5
// (both from memory; the formulas follow from the one-degree oscillator and are written out below).
#include "solver/motion.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "solver/mass.hpp"
#include "solver/vibration.hpp"

namespace totebench {
namespace {

constexpr int kHeldEdge = 1;
constexpr int kFreeEdge = 2;

// A rectangle from the origin along `along` (length) and `across` (width), in 2 n x m triangles.
ShellMesh rectangle(const Eigen::Vector3d& along, const Eigen::Vector3d& across, int n, int m) {
  Eigen::Matrix3Xd p(3, (n + 1) * (m + 1));
  std::vector<std::array<int, 3>> t;
  for (int i = 0; i <= n; ++i) {
    for (int j = 0; j <= m; ++j) {
      p.col(i * (m + 1) + j) = along * i / n + across * j / m;
      if (i == n || j == m) continue;
      const int a = i * (m + 1) + j, b = a + m + 1;
      if ((i + j) % 2 == 0) {
        t.push_back({a, b, b + 1});
        t.push_back({a, b + 1, a + 1});
      } else {
        t.push_back({a, b, a + 1});
        t.push_back({b, b + 1, a + 1});
      }
    }
  }
  ShellMesh mesh = second_order_mesh(p, t);
  for (int j = 0; j < m; ++j) {
    mesh.labelled_edges.push_back({j, j + 1, kHeldEdge});
    mesh.labelled_edges.push_back({n * (m + 1) + j, n * (m + 1) + j + 1, kFreeEdge});
  }
  return mesh;
}

Section plain(double stretch_N_per_m, double bend_N_m, double nu, double mass_kg_per_m2) {
  Eigen::Matrix3d unit;
  unit << 1, nu, 0, nu, 1, 0, 0, 0, (1 - nu) / 2;
  Section s;
  s.A = stretch_N_per_m * unit;
  s.D = bend_N_m * unit;
  s.areal_mass_kg_per_m2 = mass_kg_per_m2;
  return s;
}

void hold_where(Model& model, const std::function<bool(const Eigen::Vector3d&)>& where) {
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    if (!where(model.mesh.position.col(i))) continue;
    for (int c = 0; c < 3; ++c) model.fixed.push_back({i, c});
  }
}

// ---- free vibrations ----

TEST(Vibration, CantileverStrip_HasTheFrequenciesOfTheBeam) {
  // f = (beta l)^2 / (2 pi l^2) sqrt(D / m), beta l = 1.87510407, 4.69409113, 7.85475744 (nu = 0).
  const double l = 0.5, D = 1e-3, m = 0.4;
  Model model;
  model.mesh = rectangle({l, 0, 0}, {0, 0.02, 0}, 24, 1);
  model.sections = {plain(1e4, D, 0, m)};
  model.gravity_m_per_s2 = 0;
  EdgeRule clamp;
  clamp.label = kHeldEdge;
  clamp.clamped = true;
  model.edge_rules = {clamp};
  hold_where(model, [](const Eigen::Vector3d& p) { return p.x() < 1e-9; });
  const State state = start_state(model);
  const auto modes = lowest_modes(model, state, 0, nodal_masses(model, state), 3);
  const double expected[3] = {1.87510407, 4.69409113, 7.85475744};
  for (int k = 0; k < 3; ++k) {
    const double f = expected[k] * expected[k] / (2 * M_PI * l * l) * std::sqrt(D / m);
    // Lumped masses on 24 elements: the third mode has 10 elements to a half wave.
    EXPECT_NEAR(modes[k].frequency_Hz, f, 0.003 * f) << k;
  }
  // Effective mass of a cantilever's first mode: 0.613 of the whole (closed form of its shape).
  EXPECT_NEAR(modes[0].mass_share.z(), 0.613, 0.003);
}

TEST(Vibration, SimplySupportedSquarePlate_HasTheFrequencyOfTheTextbook) {
  // f = pi / a^2 sqrt(D / m) for the lowest mode, 5/2 of it for the next two.
  const double a = 0.3, D = 0.05, m = 1.2;
  Model model;
  model.mesh = rectangle({a, 0, 0}, {0, a, 0}, 10, 10);
  model.sections = {plain(1e6, D, 0.3, m)};
  model.gravity_m_per_s2 = 0;
  hold_where(model, [a](const Eigen::Vector3d& p) {
    return std::min({p.x(), p.y(), a - p.x(), a - p.y()}) < 1e-9;
  });
  const State state = start_state(model);
  const auto modes = lowest_modes(model, state, 0, nodal_masses(model, state), 3);
  const double f = M_PI / (a * a) * std::sqrt(D / m);
  EXPECT_NEAR(modes[0].frequency_Hz, f, 0.005 * f);
  EXPECT_NEAR(modes[1].frequency_Hz, 2.5 * f, 0.01 * 2.5 * f);
  EXPECT_NEAR(modes[2].frequency_Hz, 2.5 * f, 0.01 * 2.5 * f);
}

// ---- a mass on a hanging strap ----

constexpr double kStrapLength_m = 0.5;
constexpr double kStrapWidth_m = 0.04;
constexpr double kStretch_N_per_m = 2e7;
constexpr double kMass_kg = 5;

// A nearly massless strap, held at the top, with a mass along its lower edge. Its stretch under
// the mass is 6e-5 of its length: a linear spring.
Model mass_on_a_strap() {
  Model model;
  model.mesh = rectangle({0, 0, -kStrapLength_m}, {kStrapWidth_m, 0, 0}, 4, 1);
  model.sections = {plain(kStretch_N_per_m, 1, 0, 1e-3)};
  model.payload_force_N =
      edge_load(model.mesh, kFreeEdge,
                Eigen::Vector3d(0, 0, -kMass_kg * model.gravity_m_per_s2 / kStrapWidth_m));
  hold_where(model, [](const Eigen::Vector3d& p) { return p.z() > -1e-9; });
  return model;
}

double strap_stiffness_N_per_m() { return kStretch_N_per_m * kStrapWidth_m / kStrapLength_m; }
double strap_period_s() { return 2 * M_PI * std::sqrt(kMass_kg / strap_stiffness_N_per_m()); }

// Largest support force over the static one while the load rises as `share(t / period)`.
double dynamic_factor(const std::function<double(double)>& share, double damping_ratio) {
  const Model model = mass_on_a_strap();
  const double period = strap_period_s();
  State state = start_state(model);
  EXPECT_EQ(find_equilibrium(model, 0, state).status, SolveStatus::kConverged);
  const double damping = damping_ratio * period / M_PI;  // ratio = pi f damping
  Motion motion(model, state, nodal_masses(model, state), {0, Eigen::Vector3d::Zero()}, damping);
  const int n_per_period = 200;
  double most = 0;
  for (int i = 1; i <= 3 * n_per_period; ++i) {
    const double t = static_cast<double>(i) / n_per_period;
    const MotionReport report =
        motion.advance(period / n_per_period, {share(t), Eigen::Vector3d::Zero()});
    EXPECT_EQ(report.status, SolveStatus::kConverged);
    // The force in the strap: its stretch tells it, the support also feels the mass being weighed.
    most =
        std::max(most, -motion.state().x(2, model.mesh.labelled_edges.back().a) - kStrapLength_m);
  }
  return most / (kMass_kg * model.gravity_m_per_s2 / strap_stiffness_N_per_m());
}

TEST(Motion, SuddenLoad_DoublesTheStretch) {
  // The rise within the first of 200 steps a period and the sampling cost 1e-3 at most.
  EXPECT_NEAR(dynamic_factor([](double) { return 1.0; }, 0), 2.0, 2e-3);
}

TEST(Motion, SuddenLoad_WithDamping) {
  const double zeta = 0.1;
  EXPECT_NEAR(dynamic_factor([](double) { return 1.0; }, zeta),
              1 + std::exp(-M_PI * zeta / std::sqrt(1 - zeta * zeta)), 3e-3);
}

TEST(Motion, RampedLoad_FollowsTheRampFormula) {
  // 1 + |sin(pi r)| / (pi r) with r the rise time over the period.
  for (const double r : {0.25, 0.5, 1.5}) {
    EXPECT_NEAR(dynamic_factor([r](double t) { return std::min(1.0, t / r); }, 0),
                1 + std::abs(std::sin(M_PI * r)) / (M_PI * r), 2e-3)
        << r;
  }
}

TEST(Motion, BounceFrequency_IsThatOfTheStaticStretch) {
  const Model model = mass_on_a_strap();
  State state = start_state(model);
  ASSERT_EQ(find_equilibrium(model, 1, state).status, SolveStatus::kConverged);
  const auto modes = lowest_modes(model, state, 1, nodal_masses(model, state), 9);
  const auto bounce = std::max_element(
      modes.begin(), modes.end(),
      [](const Mode& a, const Mode& b) { return a.mass_share.z() < b.mass_share.z(); });
  const double stretch = kMass_kg * model.gravity_m_per_s2 / strap_stiffness_N_per_m();
  const double f = std::sqrt(model.gravity_m_per_s2 / stretch) / (2 * M_PI);
  EXPECT_NEAR(bounce->frequency_Hz, f, 5e-4 * f);  // the strap stiffens by its strain
  EXPECT_GT(bounce->mass_share.z(), 0.99);
}

TEST(Motion, ShakenSupport_AmplifiesLikeTheOscillator) {
  // Steady vertical shaking at a third of the bounce frequency, from rest: the relative motion is
  // that of the undamped oscillator, x = -(A / (w0^2 - w^2)) (sin w t - (w / w0) sin w0 t).
  const Model model = mass_on_a_strap();
  State state = start_state(model);
  ASSERT_EQ(find_equilibrium(model, 1, state).status, SolveStatus::kConverged);
  const double rest_z = state.x(2, model.mesh.labelled_edges.back().a);
  const double w0 = 2 * M_PI / strap_period_s(), w = w0 / 3, amplitude = 0.3;
  Motion motion(model, state, nodal_masses(model, state), {1, Eigen::Vector3d::Zero()}, 0, 1e-8);
  const double h = strap_period_s() / 200;
  double worst = 0, largest = 0;
  for (int i = 1; i <= 600; ++i) {
    const double t = i * h;
    const MotionReport report =
        motion.advance(h, {1, Eigen::Vector3d(0, 0, amplitude * std::sin(w * t))});
    ASSERT_EQ(report.status, SolveStatus::kConverged);
    const double exact =
        -amplitude / (w0 * w0 - w * w) * (std::sin(w * t) - w / w0 * std::sin(w0 * t));
    worst = std::max(
        worst, std::abs(motion.state().x(2, model.mesh.labelled_edges.back().a) - rest_z - exact));
    largest = std::max(largest, std::abs(exact));
    // Support force = m (g + a_s + a), all of it weighed at the mass.
    EXPECT_NEAR(report.support_force_N.x(), 0, 1e-6 * kMass_kg * 9.81);
  }
  EXPECT_LT(worst, 5e-3 * largest);  // phase error of 200 steps a period over 3 periods
}

// ---- a floor ----

// A stiff free plate without weight that a floor comes up to at a speed v: a mass on a spring k A,
// which it meets with m v^2 / 2. With the onset of the spring over s (solver/floor_term.hpp) energy
// gives the deepest p:
//   m v^2 / 2 = A (k/2 (p - s/2)^2 + k s^2 / 24),  largest force k A (p - s/2),
// and it leaves with v, seen from the floor, all energy returned.
TEST(Motion, PlateMetByAFloor_TakesTheForceOfTheImpactAndBouncesOff) {
  const double a = 0.2, mass = 6, v = 0.5, k = 2e6, s = 5e-4;
  Model model;
  model.mesh = rectangle({a, 0, 0}, {0, a, 0}, 2, 2);
  model.sections = {plain(1e8, 1e4, 0, 0.5 * mass / (a * a))};
  model.payload_force_N = own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  std::vector<int> all(model.mesh.triangles.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<int>(i);
  model.floor = {all, k, s};
  const State state = start_state(model);
  const Eigen::VectorXd masses = nodal_masses(model, state);
  ASSERT_NEAR(masses.sum(), mass, 1e-9);  // the sheet's own and its payload's
  const double area = a * a;
  const double exact = k * area * std::sqrt(2 * (0.5 * mass * v * v / area - k * s * s / 24) / k);
  const double period = 2 * M_PI * std::sqrt(mass / (k * area));
  Motion motion(model, state, masses, {0, Eigen::Vector3d::Zero()}, 0, 1e-8);
  const double h = period / 200;
  double most = 0;
  MotionReport report;
  for (int i = 1; i <= 150; ++i) {
    report = motion.advance(h, {0, Eigen::Vector3d::Zero(), -1e-3 + v * i * h});
    ASSERT_EQ(report.status, SolveStatus::kConverged) << i;
    most = std::max(most, report.floor_force_N);
    EXPECT_NEAR(report.support_force_N.norm(), 0, 1e-4 * exact) << "nothing else holds the plate";
  }
  EXPECT_NEAR(most, exact, 2e-3 * exact);  // sampled 100 times over the contact
  EXPECT_EQ(report.floor_force_N, 0);
  EXPECT_NEAR(report.kinetic_J, 0.5 * mass * 4 * v * v, 5e-3 * 2 * mass * v * v);
}

// ---- large swings ----

// A hanging cloth strip, kicked sideways by its support and then left to swing.
struct Swing {
  double energy_drift = 0;  // largest change of the total energy after the kick, over the kinetic
  Eigen::Vector3d tip = Eigen::Vector3d::Zero();  // at the end
};
Swing swing(double h) {
  Model model;
  const double l = 0.3;
  model.mesh = rectangle({0, 0, -l}, {0.05, 0, 0}, 8, 1);
  model.sections = {plain(2e3, 2e-3, 0, 0.3)};
  model.permanent_force_N = own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  hold_where(model, [](const Eigen::Vector3d& p) { return p.z() > -1e-9; });
  State state = start_state(model);
  EXPECT_EQ(find_equilibrium(model, 1, state).status, SolveStatus::kConverged);
  Motion motion(model, state, nodal_masses(model, state), {1, Eigen::Vector3d::Zero()}, 0, 1e-9);
  const double kick_s = 0.16, end_s = 0.4;
  Swing result;
  double at_kick = 0, kinetic = 0;
  const int n = static_cast<int>(std::lround(end_s / h));
  for (int i = 1; i <= n; ++i) {
    const double t = i * h;
    const double share = t < kick_s ? std::pow(std::sin(M_PI * t / kick_s), 2) : 0;
    const MotionReport report = motion.advance(h, {1, Eigen::Vector3d(0, -8 * share, 0)});
    EXPECT_EQ(report.status, SolveStatus::kConverged);
    if (t < kick_s - 0.5 * h) continue;
    const double total = report.kinetic_J + report.potential_J;
    if (at_kick == 0) at_kick = total;
    kinetic = std::max(kinetic, report.kinetic_J);
    result.energy_drift = std::max(result.energy_drift, std::abs(total - at_kick));
  }
  result.energy_drift /= kinetic;
  result.tip = motion.state().x.col(model.mesh.labelled_edges.back().a);
  return result;
}

TEST(Motion, LargeSwing_KeepsItsEnergyAndConvergesWithTheSquareOfTheStep) {
  const Swing coarse = swing(4e-3), middle = swing(2e-3), fine = swing(1e-3);
  EXPECT_GT(std::abs(fine.tip.y()), 0.03);  // it does swing far
  const double order = std::log2((coarse.tip - middle.tip).norm() / (middle.tip - fine.tip).norm());
  EXPECT_GT(order, 1.7);
  EXPECT_LT(order, 2.4);
  EXPECT_LT(fine.energy_drift, 5e-3);
  EXPECT_LT(fine.energy_drift, 0.4 * middle.energy_drift);  // a quarter for the second order
}

}  // namespace
}  // namespace totebench
