#include "totebench/solver/vibration.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "solver/assembly/potential.hpp"
#include "solver/linear/linear_solver.hpp"

namespace totebench::solver {
namespace {

constexpr int kMostRounds = 60;
constexpr double kConverged = 1e-8;  // of the squared frequencies wanted, from round to round

Eigen::VectorXd by_unknowns(const Potential& potential, const Eigen::VectorXd& mass) {
  Eigen::VectorXd all = Eigen::VectorXd::Zero(potential.dofs().size());
  for (Eigen::Index i = 0; i < mass.size(); ++i) all.segment<3>(3 * i).setConstant(mass[i]);
  return potential.restrict_to_free(all);
}

}  // namespace

std::vector<Mode> lowest_modes(const Model& model, const State& state, double load_factor,
                               const Eigen::VectorXd& mass, int count) {
  Potential potential(model);
  potential.set_load_factor(load_factor);
  potential.prepare(state);
  potential.assemble(state, HessianPart::kExact);
  const auto cholesky = make_sparse_cholesky();
  cholesky->analyse(potential.hessian());
  if (!cholesky->factorise(potential.hessian())) {
    throw std::invalid_argument("vibrations: the state is not a stable equilibrium");
  }
  const Eigen::VectorXd m = by_unknowns(potential, mass);
  const int n_start = std::min<int>(2 * count + 4, static_cast<int>(m.size()));
  Eigen::MatrixXd x(m.size(), n_start);
  for (int i = 0; i < potential.n_free(); ++i) {
    for (int j = 0; j < n_start; ++j) x(i, j) = std::sin(1.0 + 1.7 * j + (3.0 + j) * i);
  }
  Eigen::VectorXd squares = Eigen::VectorXd::Zero(n_start);
  Eigen::MatrixXd y(m.size(), n_start);
  for (int round = 0; round < kMostRounds; ++round) {
    const Eigen::MatrixXd mx = m.asDiagonal() * x;
    for (int j = 0; j < n_start; ++j) y.col(j) = cholesky->solve(mx.col(j));
    const Eigen::MatrixXd k_small = y.transpose() * mx;
    const Eigen::MatrixXd m_small = y.transpose() * (m.asDiagonal() * y);
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> eigen(
        0.5 * (k_small + k_small.transpose()), m_small);
    x = y * eigen.eigenvectors();
    const double change = ((eigen.eigenvalues() - squares).head(count).array() /
                           eigen.eigenvalues().head(count).array())
                              .abs()
                              .maxCoeff();
    squares = eigen.eigenvalues();
    if (change < kConverged) break;
  }

  std::vector<Mode> modes;
  const double whole = mass.sum();
  const int n_nodes = model.mesh.n_nodes();
  for (int j = 0; j < count; ++j) {
    Mode mode;
    mode.frequency_Hz = std::sqrt(squares[j]) / (2 * std::numbers::pi);
    const Eigen::VectorXd all = potential.expand(x.col(j));
    mode.shape = Eigen::Map<const Eigen::Matrix3Xd>(all.data(), 3, n_nodes);
    const double modal = (mode.shape.cwiseAbs2() * mass).sum();
    for (int c = 0; c < 3; ++c) {
      const double along = mode.shape.row(c).dot(mass.transpose());
      mode.mass_share[c] = along * along / (modal * whole);
    }
    mode.shape /= mode.shape.colwise().norm().maxCoeff();
    modes.push_back(std::move(mode));
  }
  return modes;
}

}  // namespace totebench::solver
