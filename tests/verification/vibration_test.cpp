// Free vibrations against closed forms.
//   Blevins, Formulas for Natural Frequency and Mode Shape (1979), tables 8-1 and 11-4, from
//   memory; the formulas are written out below
// Tolerance  lumped masses: ten elements to a half wave of the highest mode
// Not covered  masses that are not a sheet's own: motion_test.cpp
#include "totebench/solver/vibration.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "book_picture.hpp"
#include "motion_case.hpp"
#include "totebench/solver/mass.hpp"

namespace totebench::verification {
namespace {

const char* const kBlevins =
    "Blevins, Formulas for Natural Frequency and Mode Shape (1979), table {} (from memory)";

Source blevins(const std::string& table) {
  std::string text = kBlevins;
  text.replace(text.find("{}"), 2, table);
  return {"vibrations", text, "lumped masses, ten elements to a half wave of the highest mode"};
}

// f = (beta l)^2 / (2 pi l^2) sqrt(D / m), beta l = 1.87510407, 4.69409113, 7.85475744 (nu = 0);
// the first mode moves 0.613 of the mass: with the shape w of its table, (int w)^2 / (l int w^2).
TEST(Vibration, CantileverStrip_HasTheFrequenciesOfTheBeam) {
  const double l = 0.5, D = 1e-3, m = 0.4;
  const double beta_l[3] = {1.87510407, 4.69409113, 7.85475744};
  const char* const names[3] = {"first", "second", "third"};
  std::vector<Refinement> rows;
  for (int k = 0; k < 3; ++k) {
    const double f = beta_l[k] * beta_l[k] / (2 * kPi * l * l) * std::sqrt(D / m);
    rows.emplace_back(blevins("8-1"), std::string("cantilever strip, ") + names[k] + " (Hz)", f);
  }
  Refinement share(blevins("8-1"), "cantilever strip, mass that moves with the first", 0.613);
  share.published(0.613);
  for (const int n : {6, 12, 24}) {
    solver::Model model;
    model.mesh = rectangle({l, 0, 0}, {0, 0.02, 0}, n, 1);
    model.sections = {plain(1e4, D, 0, m)};
    model.gravity_m_per_s2 = 0;
    solver::EdgeRule clamp;
    clamp.label = kHeldEdge;
    clamp.clamped = true;
    model.edge_rules = {clamp};
    hold_where(model, [](const Eigen::Vector3d& p) { return p.x() < 1e-9; });
    const solver::State state = solver::start_state(model);
    const auto modes = solver::lowest_modes(model, state, 0, solver::nodal_masses(model, state), 3);
    for (int k = 0; k < 3; ++k) rows[k].add(l / n, 2 * n, modes[k].frequency_Hz);
    share.add(l / n, 2 * n, modes[0].mass_share.z());
  }
  for (Refinement& row : rows) row.expect_within(0.003);
  share.expect_within(0.005);
}

// f = pi / a^2 sqrt(D / m) for the lowest mode, 5/2 of it for the next two.
TEST(Vibration, SimplySupportedSquarePlate_HasTheFrequencyOfTheTextbook) {
  const double a = 0.3, D = 0.05, m = 1.2;
  const double f = kPi / (a * a) * std::sqrt(D / m);
  Refinement lowest(blevins("11-4"), "square plate, simply supported, first (Hz)", f);
  Refinement second(blevins("11-4"), "square plate, simply supported, second (Hz)", 2.5 * f);
  Refinement third(blevins("11-4"), "square plate, simply supported, third (Hz)", 2.5 * f);
  for (const int n : {4, 6, 10}) {
    solver::Model model;
    model.mesh = rectangle({a, 0, 0}, {0, a, 0}, n, n);
    model.sections = {plain(1e6, D, 0.3, m)};
    model.gravity_m_per_s2 = 0;
    hold_where(model, [a](const Eigen::Vector3d& p) {
      return std::min({p.x(), p.y(), a - p.x(), a - p.y()}) < 1e-9;
    });
    solver::State state = solver::start_state(model);
    const auto modes = solver::lowest_modes(model, state, 0, solver::nodal_masses(model, state), 3);
    lowest.add(a / n, 2 * n * n, modes[0].frequency_Hz);
    second.add(a / n, 2 * n * n, modes[1].frequency_Hz);
    third.add(a / n, 2 * n * n, modes[2].frequency_Hz);
    if (n != 10) continue;
    state.x += 0.1 * a * modes[1].shape;
    draw("vibrations", model, state, {-60, 25, 1});
  }
  lowest.expect_within(0.005);
  second.expect_within(0.01);
  third.expect_within(0.01);
}

}  // namespace
}  // namespace totebench::verification
