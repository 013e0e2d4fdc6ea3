// The search for equilibrium as a whole: the same answer for any number of threads and either
// factorisation, meshes that nest, states that carry over, honest reports.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#ifdef _OPENMP
#include <omp.h>
#endif

#include "solver/assembly/potential.hpp"
#include "solver/linear/linear_solver.hpp"
#include "solver/mesh/quadrature.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench {
namespace {

// A square sheet of side 1 m in 2 n x n triangles with alternating diagonals.
solver::ShellMesh square_mesh(int n) {
  Eigen::Matrix3Xd p((3), (n + 1) * (n + 1));
  for (int j = 0; j <= n; ++j) {
    for (int i = 0; i <= n; ++i) {
      p.col(j * (n + 1) + i) =
          Eigen::Vector3d(static_cast<double>(i) / n, static_cast<double>(j) / n, 0);
    }
  }
  std::vector<std::array<int, 3>> t;
  for (int j = 0; j < n; ++j) {
    for (int i = 0; i < n; ++i) {
      const int a = j * (n + 1) + i;
      const int b = a + 1;
      const int c = a + n + 2;
      const int d = a + n + 1;
      if ((i + j) % 2 == 0) {
        t.push_back({a, b, c});
        t.push_back({a, c, d});
      } else {
        t.push_back({a, b, d});
        t.push_back({b, c, d});
      }
    }
  }
  return solver::second_order_mesh(p, t);
}

// Held at its four corners, under its own weight: a soft sheet that sags far.
solver::Model sheet_on_corners(const solver::ShellMesh& mesh) {
  solver::Model model;
  model.mesh = mesh;
  solver::Section s;
  s.A << 1e4, 3e3, 0, 3e3, 1e4, 0, 0, 0, 3.5e3;
  s.D = 5e-6 * s.A;
  s.areal_mass_kg_per_m2 = 1.0;
  model.sections = {s};
  model.payload_force_N = solver::own_weight(model.mesh, model.sections, model.gravity_m_per_s2);
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    const Eigen::Vector3d p = model.mesh.position.col(i);
    const bool corner = (p.x() < 1e-9 || p.x() > 1 - 1e-9) && (p.y() < 1e-9 || p.y() > 1 - 1e-9);
    for (int c = 0; c < 3 && corner; ++c) model.fixed.push_back({i, c});
  }
  return model;
}

TEST(Quadrature, IntegratesItsDegreeExactly) {
  // Over the reference triangle, int xi^a eta^b = a! b! / (a+b+2)!.
  const auto exact = [](int a, int b) {
    return std::tgamma(a + 1) * std::tgamma(b + 1) / std::tgamma(a + b + 3);
  };
  const auto check = [&](const auto& points, int degree) {
    for (int a = 0; a <= degree; ++a) {
      for (int b = 0; a + b <= degree; ++b) {
        double sum = 0;
        for (const solver::QuadraturePoint& q : points) {
          sum += q.weight * std::pow(q.xi, a) * std::pow(q.eta, b);
        }
        EXPECT_NEAR(sum, exact(a, b), 1e-14) << a << " " << b;
      }
    }
  };
  check(solver::kInteriorPoints, 2);
  check(solver::kDegree4Points, 4);
  check(solver::kDegree6Points, 6);
}

TEST(Split, KeepsPointsAreasAndLabels) {
  solver::ShellMesh mesh = square_mesh(3);
  mesh.labelled_edges = {{0, 1, 5}};
  const solver::ShellMesh fine = solver::split(mesh);
  ASSERT_EQ(fine.n_triangles(), 4 * mesh.n_triangles());
  ASSERT_EQ(fine.labelled_edges.size(), 2U);
  double area = 0;
  for (int t = 0; t < fine.n_triangles(); ++t) area += solver::rest_area(fine, t);
  EXPECT_NEAR(area, 1.0, 1e-13);
  for (const auto& [xi, eta] : {std::pair(0.1, 0.2), {0.7, 0.1}, {0.1, 0.8}, {0.3, 0.3}}) {
    for (int t = 0; t < mesh.n_triangles(); ++t) {
      const solver::SurfacePoint p{t, xi, eta};
      EXPECT_LT(
          (position_of(mesh, mesh.position, p) - position_of(fine, fine.position, solver::split(p)))
              .norm(),
          1e-14);
    }
  }
}

TEST(Equilibrium, ReportsWeightReactionAndStability) {
  const solver::Model model = sheet_on_corners(square_mesh(6));
  solver::State state = solver::start_state(model);
  solver::SolveOptions options;
  options.imperfection_m = 1e-3;
  const solver::SolveReport report = solver::find_equilibrium(model, 1.0, state, options);
  ASSERT_EQ(report.status, solver::SolveStatus::kConverged) << static_cast<int>(report.failure);
  EXPECT_TRUE(report.stable);
  EXPECT_LT(report.residual_relative, options.residual_tolerance);
  EXPECT_NEAR(report.applied_N.z(), -1.0 * 9.80665, 1e-9);
  EXPECT_NEAR(report.reaction_N.z(), 9.80665, 1e-6 * 9.80665);
  EXPECT_LT(report.balance_relative, 1e-6);
  const Eigen::Matrix3Xd reactions = solver::support_reactions(model, state, 1.0);
  EXPECT_LT((reactions.rowwise().sum() - report.reaction_N).norm(), 1e-9);
}

TEST(Equilibrium, SaysSoWhenItRunsOutOfSteps) {
  const solver::Model model = sheet_on_corners(square_mesh(4));
  solver::State state = solver::start_state(model);
  solver::SolveOptions options;
  options.max_iterations = 1;
  const solver::SolveReport report = solver::find_equilibrium(model, 1.0, state, options);
  EXPECT_EQ(report.status, solver::SolveStatus::kNotConverged);
  EXPECT_FALSE(report.stable);
  EXPECT_EQ(report.failure, solver::SolveFailure::kTooManyIterations);
}

TEST(Equilibrium, StopsWhenAskedTo) {
  const solver::Model model = sheet_on_corners(square_mesh(4));
  solver::State state = solver::start_state(model);
  solver::SolveOptions options;
  options.on_progress = [](const solver::Progress&) { return false; };
  const solver::SolveReport report = find_equilibrium(model, 1.0, state, options);
  EXPECT_EQ(report.status, solver::SolveStatus::kInterrupted);
  EXPECT_EQ(report.failure, solver::SolveFailure::kInterrupted);
}

#ifdef _OPENMP
TEST(Equilibrium, IsTheSameToTheLastBitForAnyNumberOfThreads) {
  const solver::Model model = sheet_on_corners(square_mesh(5));
  const auto solve = [&](int threads) {
    const int before = omp_get_max_threads();
    omp_set_num_threads(threads);
    solver::State state = solver::start_state(model);
    solver::SolveOptions options;
    options.imperfection_m = 1e-3;
    (void)solver::find_equilibrium(model, 1.0, state, options);
    omp_set_num_threads(before);
    return state;
  };
  const solver::State one = solve(1);
  EXPECT_TRUE(one.x == solve(2).x);
  EXPECT_TRUE(one.x == solve(4).x);
}
#endif

// The same sheet held along its whole border, where coarse and fine answers lie close together.
solver::Model sheet_on_a_frame(const solver::ShellMesh& mesh) {
  solver::Model model = sheet_on_corners(mesh);
  model.fixed.clear();
  for (int i = 0; i < mesh.n_nodes(); ++i) {
    const Eigen::Vector3d p = mesh.position.col(i);
    const double from_border = std::min({p.x(), p.y(), 1 - p.x(), 1 - p.y()});
    for (int c = 0; c < 3 && from_border < 1e-9; ++c) model.fixed.push_back({i, c});
  }
  return model;
}

TEST(Equilibrium, CarriesOverToAFinerMesh) {
  const solver::Model coarse = sheet_on_a_frame(square_mesh(6));
  solver::State state = solver::start_state(coarse);
  solver::SolveOptions options;
  options.imperfection_m = 1e-3;
  ASSERT_EQ(find_equilibrium(coarse, 1.0, state, options).status, solver::SolveStatus::kConverged);
  const solver::Model fine = sheet_on_a_frame(solver::split(coarse.mesh));
  solver::State carried = solver::prolong(coarse, state, fine);
  // Nothing moved: the fine nodes lie on the coarse quadratic shape, corner nodes on themselves.
  EXPECT_LT((carried.x.leftCols(coarse.mesh.n_nodes()) - state.x).norm(), 1e-14);
  for (Eigen::Index i = 0; i < carried.director.cols(); ++i) {
    EXPECT_NEAR(carried.director.col(i).norm(), 1, 1e-12);
  }
  const solver::SolveReport report = solver::find_equilibrium(fine, 1.0, carried);
  ASSERT_EQ(report.status, solver::SolveStatus::kConverged);
  // The sag of the middle is converged on the coarse mesh to better than this.
  const auto lowest = [](const solver::State& s) { return s.x.row(2).minCoeff(); };
  EXPECT_NEAR(lowest(carried), lowest(state), 0.005 * std::abs(lowest(state)));
}

TEST(LinearSolver, BothFactorisationsAgreeAndRefuseIndefiniteMatrices) {
  const solver::Model model = sheet_on_corners(square_mesh(4));
  solver::Potential potential(model);
  solver::State state = solver::start_state(model);
  potential.assemble(state, solver::HessianPart::kExact);
  Eigen::SparseMatrix<double> matrix = potential.hessian();
  // The flat sheet is singular only through its own flatness at corners; a small shift settles it.
  for (Eigen::Index c = 0; c < matrix.cols(); ++c) matrix.coeffRef(c, c) += 1.0;
  const auto chosen = solver::make_sparse_cholesky();
  const auto fallback = solver::make_eigen_cholesky();
  chosen->analyse(matrix);
  fallback->analyse(matrix);
  ASSERT_TRUE(chosen->factorise(matrix));
  ASSERT_TRUE(fallback->factorise(matrix));
  const Eigen::VectorXd b = Eigen::VectorXd::LinSpaced(matrix.cols(), -1, 1);
  const Eigen::VectorXd x = chosen->solve(b);
  EXPECT_LT((x - fallback->solve(b)).norm(), 1e-9 * x.norm());
  EXPECT_LT((matrix.selfadjointView<Eigen::Lower>() * x - b).norm(), 1e-9 * b.norm());
  matrix.coeffRef(7, 7) -= 1e9;
  EXPECT_FALSE(chosen->factorise(matrix));
  EXPECT_FALSE(fallback->factorise(matrix));
}

// Moving every position by its last bit changes the gradient by about what is told of round-off, at
// the origin and far from it; and no more.
TEST(RoundOff, IsWhatTheLastBitOfThePositionsDoes) {
  double near = 0;
  for (const double shift : {0.0, 100.0}) {
    solver::Model model = sheet_on_corners(square_mesh(4));
    model.mesh.position.row(0).array() += shift;
    solver::State state = solver::start_state(model);
    for (int i = 0; i < state.x.cols(); ++i) state.x(2, i) = 0.01 * std::sin(3.0 * i);
    solver::Potential potential(model);
    potential.prepare(state);
    const Eigen::VectorXd at = potential.assemble(state, solver::HessianPart::kExact);
    const Eigen::VectorXd told = potential.round_off(state);
    Eigen::VectorXd moved = Eigen::VectorXd::Zero(told.size());
    for (int trial = 0; trial < 20; ++trial) {
      solver::State off = state;
      for (Eigen::Index i = 0; i < off.x.size(); ++i) {
        double& x = off.x.data()[i];
        x = std::nextafter(x,
                           std::sin(1.0 + 7.0 * static_cast<double>(i) + trial) > 0 ? 1e9 : -1e9);
      }
      moved = moved.cwiseMax((potential.gradient(off) - at).cwiseAbs());
    }
    // A last bit is up to 2 u of the position.
    EXPECT_LT(moved.norm(), 2 * told.norm()) << shift;
    EXPECT_GT(moved.norm(), 0.1 * told.norm()) << shift;
    if (shift == 0) near = told.norm();
    if (shift > 0) {
      EXPECT_GT(told.norm(), 20 * near);
      EXPECT_LT(told.norm(), 500 * near);
    }
  }
}

// Held all round and moved as a whole: nothing is strained, and every node comes along.
TEST(MovedSupports, CarryTheSheetAlong) {
  solver::Model model = sheet_on_corners(square_mesh(4));
  model.payload_force_N.setZero();
  const Eigen::Vector3d move(0.3, -0.2, 0.5);
  model.support_move_m = move.replicate(1, model.mesh.n_nodes());
  solver::State state = solver::start_state(model);
  solver::EquilibriumSearch search(model);
  for (const double factor : {0.5, 1.0, 0.25}) {
    const solver::SolveReport report = search.find(factor, state);
    ASSERT_EQ(report.status, solver::SolveStatus::kConverged) << factor;
    const Eigen::Matrix3Xd moved = state.x - model.mesh.position;
    EXPECT_LT((moved.colwise() - factor * move).cwiseAbs().maxCoeff(), 1e-6) << factor;
    EXPECT_LT(report.reaction_N.norm(), 1e-6);
  }
}

}  // namespace
}  // namespace totebench
