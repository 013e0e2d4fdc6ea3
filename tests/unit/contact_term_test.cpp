// Contact in the solver: what is near is found, no step passes through, energies have their exact
// derivatives, and sheets carry each other's weight.
#include "solver/contact/contact_term.hpp"

#include <gtest/gtest.h>
#ifdef _OPENMP
#include <omp.h>
#endif

#include <Eigen/Eigenvalues>
#include <cmath>
#include <random>
#include <stdexcept>

#include "solver/assembly/potential.hpp"

namespace totebench {
namespace {

using solver::ContactPair;
using solver::ContactSearch;
using solver::ContactTerm;
using solver::HessianPart;
using solver::State;

solver::DofMap dofs_of(const solver::Model& model) {
  return solver::dof_map(solver::make_topology(model), model.bodies.size());
}

// Square sheets of n x n cells, `size` wide, stacked `apart`; the upper ones turned a little, so
// that no two edges are parallel.
solver::Model stack(int n_sheets, int n, double size, double apart) {
  std::vector<Eigen::Vector3d> p;
  std::vector<std::array<int, 3>> t;
  for (int s = 0; s < n_sheets; ++s) {
    const Eigen::Matrix3d turn =
        Eigen::AngleAxisd(0.3 * s, Eigen::Vector3d::UnitZ()).toRotationMatrix();
    const int first = static_cast<int>(p.size());
    for (int j = 0; j <= n; ++j) {
      for (int i = 0; i <= n; ++i) {
        const Eigen::Vector3d flat(size * (1.0 * i / n - 0.5), size * (1.0 * j / n - 0.5), 0);
        p.emplace_back(turn * flat + Eigen::Vector3d(0, 0, s * apart));
      }
    }
    for (int j = 0; j < n; ++j) {
      for (int i = 0; i < n; ++i) {
        const int a = first + j * (n + 1) + i;
        t.push_back({a, a + 1, a + n + 2});
        t.push_back({a, a + n + 2, a + n + 1});
      }
    }
  }
  Eigen::Matrix3Xd position(3, static_cast<Eigen::Index>(p.size()));
  for (std::size_t i = 0; i < p.size(); ++i) position.col(static_cast<Eigen::Index>(i)) = p[i];
  solver::Model model;
  model.mesh = solver::second_order_mesh(position, t);
  solver::Section section;
  section.A << 1e3, 3e2, 0, 3e2, 1e3, 0, 0, 0, 350;
  section.D = 1e-7 * section.A;
  section.areal_mass_kg_per_m2 = 0.3;
  model.sections = {section};
  model.contact.thickness_m.assign(model.mesh.triangles.size(), 1e-3);
  return model;
}

Eigen::Matrix3Xd shaken(const Eigen::Matrix3Xd& x, double amplitude, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> uniform(-amplitude, amplitude);
  Eigen::Matrix3Xd moved = x;
  for (Eigen::Index i = 0; i < x.size(); ++i) moved.data()[i] += uniform(random);
  return moved;
}

TEST(ContactSearch, FindsAllThatIsNear) {
  const solver::Model model = stack(3, 3, 0.06, 4e-3);
  const solver::ContactSurface surface(model);
  ContactSearch search(model);
  for (unsigned seed = 1; seed <= 5; ++seed) {
    const Eigen::Matrix3Xd x = shaken(model.mesh.position, 2e-3, seed);
    constexpr double kMargin = 0.7e-3;
    std::size_t n_near = 0;
    double next = kMargin;
    const auto count = [&](const ContactPair& pair) {
      const double d = solver::pair_distance(pair.kind, solver::points_of(pair.node, x));
      const double beyond = d - pair.barrier.gap_m;
      const double at_start = pair.start_m - pair.barrier.gap_m;
      if (beyond < std::min(kMargin, solver::kApartShare * at_start)) {
        ++n_near;
      } else {
        next = std::min(next, beyond);
      }
    };
    for (int i = 0; i < static_cast<int>(surface.points().size()); ++i) {
      for (int j = 0; j < static_cast<int>(surface.parts().size()); ++j) {
        if (surface.point_may_touch(i, j))
          count(surface.pair(solver::PairKind::kPointTriangle, i, j));
      }
    }
    for (int i = 0; i < static_cast<int>(surface.edges().size()); ++i) {
      for (int j = i + 1; j < static_cast<int>(surface.edges().size()); ++j) {
        if (surface.edges_may_touch(i, j)) count(surface.pair(solver::PairKind::kEdgeEdge, i, j));
      }
    }
    const solver::NearPairs found = search.near(x, kMargin);
    const std::vector<solver::NearPair>& near = found.pairs;
    EXPECT_EQ(near.size(), n_near);
    EXPECT_EQ(found.next_m, next);
    EXPECT_GT(n_near, 40U);
    for (std::size_t k = 0; k < near.size(); ++k) {
      const ContactPair& pair = near[k].pair;
      const double d = solver::pair_distance(pair.kind, solver::points_of(pair.node, x));
      EXPECT_EQ(near[k].beyond_m, d - pair.barrier.gap_m);
      if (k > 0) {
        EXPECT_LT(near[k - 1].key, near[k].key);
      }
    }
  }
}

TEST(ContactSearch, SeesSheetsPassThroughEachOther) {
  const solver::Model model = stack(2, 3, 0.06, 4e-3);
  ContactSearch search(model);
  Eigen::Matrix3Xd x = model.mesh.position;
  EXPECT_TRUE(search.crossings(x).empty());
  // One inner node of the upper sheet, pushed through the lower one.
  const Eigen::Index node = 16 + 5;
  x(2, node) = -2e-3;
  const solver::IndexPairs found = search.crossings(x);
  ASSERT_FALSE(found.empty());
  for (const auto& [below, above] : found) {
    EXPECT_LT(below, 18);
    EXPECT_GE(above, 18);
  }
  solver::Model bonded = model;
  bonded.contact.group.assign(36, 0);
  std::fill(bonded.contact.group.begin() + 18, bonded.contact.group.end(), 1);
  bonded.contact.together = {{0, 1}};
  EXPECT_TRUE(ContactSearch(bonded).crossings(x).empty());
}

TEST(ContactSearch, NoStepPassesThrough) {
  const solver::Model model = stack(3, 3, 0.06, 4e-3);
  ContactSearch search(model);
  int cut = 0;
  int blocked = 0;
  for (unsigned seed = 1; seed <= 20; ++seed) {
    Eigen::Matrix3Xd x = model.mesh.position;
    for (unsigned round = 0; round < 10; ++round) {
      const Eigen::Matrix3Xd step = shaken(0 * x, 8e-3, 100 * seed + round);
      const double share = search.free_share(x, step, 1);
      EXPECT_GT(share, 0);
      cut += share < 1 ? 1 : 0;
      blocked += search.crossings(x + step).empty() ? 0 : 1;
      x += share * step;
      ASSERT_TRUE(search.crossings(x).empty());
    }
  }
  EXPECT_GT(cut, 100);
  EXPECT_GT(blocked, 100);
}

TEST(ContactSearch, MovingTogetherIsFree) {
  const solver::Model model = stack(2, 3, 0.06, 1e-4);
  ContactSearch search(model);
  Eigen::Matrix3Xd step(3, model.mesh.n_nodes());
  step.colwise() = Eigen::Vector3d(0.3, 0.2, -1);
  EXPECT_EQ(search.free_share(model.mesh.position, step, 1), 1);
  EXPECT_EQ(search.free_share(model.mesh.position, step, 0.5), 0.5);
}

TEST(ContactTerm, IsThereOnlyWhenAskedFor) {
  solver::Model model = stack(2, 2, 0.04, 2e-3);
  EXPECT_NE(solver::Potential(model).find<ContactTerm>(), nullptr);
  model.contact = {};
  EXPECT_EQ(solver::Potential(model).find<ContactTerm>(), nullptr);
}

TEST(ContactTerm, RejectsAStartThatPassesThrough) {
  solver::Model model = stack(2, 3, 0.06, 4e-3);
  model.mesh.position(2, 16 + 5) = -2e-3;
  try {
    const ContactTerm term(model, dofs_of(model));
    FAIL();
  } catch (const std::invalid_argument& error) {
    EXPECT_NE(std::string(error.what()).find("pass through each other at the start"),
              std::string::npos);
  }
}

TEST(ContactTerm, DerivativesAreThoseOfDifferences) {
  // Starts outside the gap, so that the gap is whole; then pressed together.
  const solver::Model model = stack(2, 2, 0.04, 1.5e-3);
  ContactTerm term(model, dofs_of(model));
  State state = solver::start_state(model);
  for (Eigen::Index i = 0; i < state.x.cols(); ++i) {
    if (state.x(2, i) > 0) state.x(2, i) -= 1e-3;
  }
  state.x = shaken(state.x, 1e-4, 3);
  term.prepare(state);
  ASSERT_GT(term.n_blocks(), 50);
  int active = 0;
  for (int b = 0; b < term.n_blocks(); ++b) {
    Eigen::Matrix<double, 12, 1> g, plus, minus;
    Eigen::Matrix<double, 12, 12> h;
    const double energy = term.derivatives(state, b, HessianPart::kExact, g.data(), h.data());
    EXPECT_EQ(energy, term.energy(state, b));
    if (energy == 0) continue;
    ++active;
    for (int i = 0; i < 12; ++i) {
      constexpr double kStep = 1e-9;
      State moved = state;
      double& place = moved.x.data()[term.unknowns(b)[i]];
      const double before = place;
      place = before + kStep;
      const double e_plus = term.derivatives(moved, b, HessianPart::kExact, plus.data(), nullptr);
      place = before - kStep;
      const double e_minus = term.derivatives(moved, b, HessianPart::kExact, minus.data(), nullptr);
      EXPECT_NEAR(g[i], (e_plus - e_minus) / (2 * kStep), 1e-5 * g.norm() + 1e-12);
      EXPECT_LT((h.col(i) - (plus - minus) / (2 * kStep)).norm(), 1e-5 * h.norm());
    }
  }
  EXPECT_GT(active, 20);
}

TEST(ContactTerm, KeepsItsBlocksWhileTheyServe) {
  const solver::Model model = stack(2, 3, 0.06, 2.5e-3);
  ContactTerm term(model, dofs_of(model));
  State state = solver::start_state(model);
  term.prepare(state);
  const int first = term.pattern_version();
  EXPECT_EQ(term.n_blocks(), 0);  // 1 mm of gap and 1 mm of margin do not reach
  const auto lower_by = [&](double way) {
    State moved = solver::start_state(model);
    for (Eigen::Index i = 0; i < moved.x.cols(); ++i) {
      if (moved.x(2, i) > 0) moved.x(2, i) -= way;
    }
    term.prepare(moved);
    return moved;
  };
  lower_by(1.2e-3);  // still 0.3 mm short of the gap
  EXPECT_EQ(term.pattern_version(), first);
  lower_by(1.6e-3);  // within it
  const int second = term.pattern_version();
  EXPECT_NE(second, first);
  EXPECT_GT(term.n_blocks(), 0);
  lower_by(1.9e-3);
  lower_by(0);
  lower_by(1.6e-3);
  EXPECT_EQ(term.pattern_version(), second);
}

TEST(ContactTerm, LimitsTheStepNearAndFar) {
  const solver::Model model = stack(2, 3, 0.06, 2.5e-3);
  ContactTerm term(model, dofs_of(model));
  State state = solver::start_state(model);
  term.prepare(state);
  const auto fall = [&](double way) {
    Eigen::VectorXd step = Eigen::VectorXd::Zero(solver::Potential(model).dofs().size());
    for (Eigen::Index i = 0; i < state.x.cols(); ++i) {
      if (model.mesh.position(2, i) > 0) step[3 * i + 2] = -way;
    }
    return step;
  };
  // Rounded down, at the twelfth binary digit.
  const auto expect_share = [&](double way, double share) {
    const double found = term.largest_step(state, fall(way));
    EXPECT_LE(found, share * (1 + 1e-9)) << way;
    EXPECT_GT(found, share * (1 - std::ldexp(1.0, -11))) << way;
    EXPECT_EQ(std::ldexp(found, 20), std::round(std::ldexp(found, 20))) << way;
  };
  EXPECT_EQ(term.largest_step(state, fall(0)), 1);
  EXPECT_EQ(term.largest_step(state, fall(0.2e-3)), 1);
  expect_share(5e-3, 0.45);  // 0.9 of 2.5 mm
  // A tenth of the model's width.
  const double width =
      (model.mesh.position.rowwise().maxCoeff() - model.mesh.position.rowwise().minCoeff()).norm();
  expect_share(-0.25, 0.1 * width / 0.25);
  // Pressed together, a short step looks at the blocks alone.
  for (Eigen::Index i = 0; i < state.x.cols(); ++i) {
    if (state.x(2, i) > 0) state.x(2, i) = 0.3e-3;
  }
  term.prepare(state);
  EXPECT_GT(term.n_blocks(), 0);
  expect_share(0.4e-3, 0.9 * 0.75);
  expect_share(4e-3, 0.9 * 0.075);
}

// A sheet that lies on another, which is held: all three directions below, and above only what
// would let it drift.
solver::Model resting() {
  solver::Model model = stack(2, 3, 0.06, 1.5e-3);
  model.permanent_force_N = solver::own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    const bool below = model.mesh.position(2, i) == 0;
    for (int axis = 0; axis < (below ? 3 : 2); ++axis) model.fixed.push_back({i, axis});
  }
  return model;
}

TEST(ContactTerm, ASheetRestsOnAnother) {
  const solver::Model model = resting();
  State state = solver::start_state(model);
  const solver::SolveReport report = solver::find_equilibrium(model, 1, state);
  ASSERT_EQ(report.status, solver::SolveStatus::kConverged);
  EXPECT_TRUE(report.stable);
  EXPECT_TRUE(ContactSearch(model).crossings(state.x).empty());
  // The held sheet hands on both weights.
  EXPECT_NEAR(report.reaction_N.z(), 2 * 0.06 * 0.06 * 0.3 * 9.80665, 1e-6);
  for (Eigen::Index i = 0; i < state.x.cols(); ++i) {
    if (model.mesh.position(2, i) == 0) continue;
    EXPECT_GT(state.x(2, i), 0);
    EXPECT_LT(state.x(2, i), 1e-3);
  }
}

TEST(ContactTerm, SameForAnyNumberOfThreads) {
#ifdef _OPENMP
  const solver::Model model = resting();
  std::vector<State> states;
  const int before = omp_get_max_threads();
  for (const int threads : {1, 3}) {
    omp_set_num_threads(threads);
    states.push_back(solver::start_state(model));
    EXPECT_EQ(solver::find_equilibrium(model, 1, states.back()).status,
              solver::SolveStatus::kConverged);
  }
  omp_set_num_threads(before);
  EXPECT_EQ(states[0].x, states[1].x);
#else
  GTEST_SKIP() << "built without OpenMP";
#endif
}

TEST(ContactTerm, AFinerMeshOfTouchingSheetsPassesThroughNothing) {
  // Three sheets bumped onto each other, less than a tenth of a millimetre apart at the bumps.
  const solver::Model coarse = stack(3, 3, 0.06, 4e-3);
  ContactSearch search(coarse);
  solver::Model fine = coarse;
  fine.mesh = solver::split(coarse.mesh);
  fine.contact.thickness_m.assign(fine.mesh.triangles.size(), 1e-3);
  ContactSearch fine_search(fine);
  int curved_crossings = 0;
  for (unsigned seed = 1; seed <= 10; ++seed) {
    State state = solver::start_state(coarse);
    for (unsigned round = 0; round < 6; ++round) {
      const Eigen::Matrix3Xd step = shaken(0 * state.x, 8e-3, 100 * seed + round);
      state.x += search.free_share(state.x, step, 1) * step;
    }
    const State carried = solver::prolong(coarse, state, fine);
    EXPECT_TRUE(fine_search.crossings(carried.x).empty());
    solver::Model without = fine;
    without.contact = {};
    curved_crossings +=
        fine_search.crossings(solver::prolong(coarse, state, without).x).empty() ? 0 : 1;
  }
  EXPECT_GT(curved_crossings, 0);
}

}  // namespace
}  // namespace totebench
