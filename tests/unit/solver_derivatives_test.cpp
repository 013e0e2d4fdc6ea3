// Every energy term: gradient against central differences of the energy, Hessian against central
// differences of the gradient, along the solver's own retraction; zero at rest; rigid motions.
#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <random>

#include "solver/assembly/potential.hpp"
#include "solver/terms/floor_term.hpp"

namespace totebench {
namespace {

// A bent, creased patch of an unstructured mesh with all kinds of section coupling.
solver::ShellMesh patch_mesh() {
  Eigen::Matrix3Xd p(3, 9);
  p << 0, 0.05, 0.11, 0, 0.06, 0.10, 0.01, 0.05, 0.1,  //
      0, 0.0, 0.01, 0.04, 0.05, 0.05, 0.1, 0.11, 0.1,  //
      0, 0, 0, 0, 0, 0, 0, 0, 0;
  const std::vector<std::array<int, 3>> t = {{0, 1, 4}, {0, 4, 3}, {1, 2, 5}, {1, 5, 4},
                                             {3, 4, 7}, {3, 7, 6}, {4, 5, 8}, {4, 8, 7}};
  solver::ShellMesh mesh = solver::second_order_mesh(p, t);
  for (Eigen::Vector3d& warp : mesh.warp) warp = {0.8, 0.6, 0};
  return mesh;
}

solver::Section coupled_section() {
  solver::Section s;
  s.A << 3e4, 5e3, 1e2, 5e3, 2e4, -2e2, 1e2, -2e2, 4e3;
  s.B << 1.0, 0.2, 0, 0.2, -0.5, 0.1, 0, 0.1, 0.3;
  s.D << 5e-3, 1e-3, 1e-4, 1e-3, 4e-3, 0, 1e-4, 0, 1e-3;
  s.areal_mass_kg_per_m2 = 0.3;
  return s;
}

solver::Model patch_model() {
  solver::Model model;
  model.mesh = patch_mesh();
  model.sections = {coupled_section()};
  return model;
}

Eigen::VectorXd random_step(int n_positions, int n_turns, double amplitude, unsigned seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> uniform(-1, 1);
  Eigen::VectorXd v(n_positions + n_turns);
  for (int i = 0; i < n_positions; ++i) v[i] = amplitude * uniform(random);
  for (int i = 0; i < n_turns; ++i) v[n_positions + i] = 20 * amplitude * uniform(random);
  return v;
}

void expect_derivatives(const solver::Model& model, double deformation) {
  solver::Potential potential(model);
  potential.set_load_factor(0.7);
  solver::State state = solver::start_state(model);
  const solver::Topology& topology = potential.topology();
  const int np = 3 * topology.n_nodes;
  state = solver::retract(topology, state, random_step(np, topology.n_directors(), deformation, 7));
  potential.renew_lagged(state);
  if (auto* floor = potential.find<solver::FloorTerm>()) floor->move_to(state.x.row(2).mean());
  potential.prepare(state);
  const Eigen::VectorXd gradient = potential.assemble(state, solver::HessianPart::kExact);
  const std::vector<solver::RankOne> low_rank = potential.low_rank(state);

  for (unsigned seed = 1; seed <= 4; ++seed) {
    const Eigen::VectorXd v = potential.expand(
        potential.restrict_to_free(random_step(np, topology.n_directors(), 1.0, 100 + seed)));
    const double h = 1e-6;
    const auto at = [&](double s) {
      solver::State moved = solver::retract(topology, state, s * v);
      potential.prepare(moved);
      return moved;
    };
    const solver::State plus = at(h);
    const double e_plus = potential.energy(plus);
    const solver::State minus = at(-h);
    const double e_minus = potential.energy(minus);
    const double slope = gradient.dot(v);
    EXPECT_NEAR((e_plus - e_minus) / (2 * h), slope, 2e-6 * std::abs(slope) + 1e-9);

    // Second derivative along the retraction's straight lines.
    const Eigen::VectorXd f = potential.restrict_to_free(v);
    double curve = f.dot(potential.hessian().selfadjointView<Eigen::Lower>() * f);
    for (const auto& [factor, along] : low_rank) curve += factor * std::pow(along.dot(f), 2);
    const double k = 2e-5;
    const solver::State far_plus = at(k);
    const double ek = potential.energy(far_plus);
    const solver::State far_minus = at(-k);
    const double em = potential.energy(far_minus);
    potential.prepare(state);
    const double e0 = potential.energy(state);
    EXPECT_NEAR((ek - 2 * e0 + em) / (k * k), curve, 2e-5 * std::abs(curve));
  }
}

TEST(ShellDerivatives, MatchDifferencesWhenStronglyDeformed) {
  expect_derivatives(patch_model(), 4e-3);
}

TEST(ShellDerivatives, MatchDifferencesOnACreasedAndHingedPatch) {
  solver::Model model = patch_model();
  // Fold the patch along x = const into a right angle, with a spring hinge along it.
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    const double x = model.mesh.position(0, i);
    if (x > 0.055) {
      model.mesh.position(0, i) = 0.055;
      model.mesh.position(2, i) = x - 0.055;
    }
  }
  model.mesh.labelled_edges = {{1, 4, 3}, {4, 7, 3}, {0, 4, 4}};
  model.edge_rules = {{3, solver::Joint::kHinge, 2e-2, 0.3}, {4, solver::Joint::kAsPlaced}};
  expect_derivatives(model, 2e-3);
}

TEST(StitchDerivatives, MatchDifferences) {
  solver::Model model = patch_model();
  model.stitches = {{{0, 0.2, 0.3}, {6, 0.4, 0.1}, 3e4, 0}, {{2, 0.1, 0.1}, {3, 0.3, 0.3}, 1e4, 0}};
  model.weak_springs = {{{1, 0.2, 0.2}, {5, 0.1, 0.5}, 50, 0}};
  expect_derivatives(model, 3e-3);
}

TEST(PocketTieDerivatives, MatchDifferences) {
  solver::Model model = patch_model();
  model.normal_ties = {{{0, 0.2, 0.3}, {6, 0.4, 0.1}, 3e4, 0.01},
                       {{2, 0.1, 0.1}, {3, 0.3, 0.3}, 1e4, 0}};
  expect_derivatives(model, 3e-3);
}

TEST(FloorDerivatives, MatchDifferences) {
  for (const double soften_m : {1e-4, 1e-2}) {  // most points beyond the soft part, most within it
    solver::Model model = patch_model();
    model.floor = {{0, 1, 2, 3, 4, 5, 6, 7}, 5e7, soften_m};
    expect_derivatives(model, 4e-3);
  }
}

TEST(PressureDerivatives, MatchDifferences) {
  solver::Model model = patch_model();
  model.payload_pressure_Pa = Eigen::VectorXd::Constant(8, 2e3);
  expect_derivatives(model, 4e-3);
}

// A shallow bowl, so that it holds some liquid: normals point down and out.
solver::Model bowl_model(double K) {
  solver::Model model = patch_model();
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    const Eigen::Vector3d p = model.mesh.position.col(i);
    model.mesh.position(2, i) = 8 * (std::pow(p.x() - 0.05, 2) + std::pow(p.y() - 0.05, 2));
    model.mesh.position(1, i) = -p.y();  // turns the surface over: outward normal down
  }
  model.fill.mass_kg = 0.02;
  model.fill.bulk_density_kg_per_m3 = 1000;
  model.fill.lateral_ratio_K = K;
  model.fill.triangles = {0, 1, 2, 3, 4, 5, 6, 7};
  return model;
}

TEST(LiquidDerivatives, MatchDifferencesWithTheLevelMoving) {
  // The waterline crosses triangles, where the integrand has a kink: smaller deformation.
  expect_derivatives(bowl_model(1.0), 5e-4);
}

TEST(LiquidDerivatives, VerticalForcesSumToTheWeight) {
  const solver::Model model = bowl_model(1.0);
  solver::Potential potential(model);
  solver::State state = solver::start_state(model);
  potential.renew_lagged(state);
  ASSERT_EQ(potential.obstacle(), solver::SolveFailure::kNone);
  const Eigen::Vector3d total = potential.applied_force(state);
  EXPECT_NEAR(total.z(), -0.02 * 9.80665, 1e-9);
}

TEST(HeapForces, HoldTheWholeWeightTogetherWithTheirLiquidPart) {
  const solver::Model model = bowl_model(0.5);
  solver::Potential potential(model);
  solver::State state = solver::start_state(model);
  potential.renew_lagged(state);
  EXPECT_NEAR(potential.applied_force(state).z(), -0.02 * 9.80665, 1e-9);
}

TEST(RigidMotion, ChangesNoEnergyAndNoForce) {
  const solver::Model model = patch_model();
  solver::Potential potential(model);
  const solver::State rest = solver::start_state(model);
  EXPECT_NEAR(potential.energy(rest), 0, 1e-15);
  EXPECT_LT(potential.gradient(rest).norm(), 1e-10);

  solver::State bent = solver::retract(
      potential.topology(), rest,
      random_step(3 * potential.topology().n_nodes, potential.topology().n_directors(), 3e-3, 11));
  const double energy = potential.energy(bent);
  const Eigen::VectorXd gradient = potential.gradient(bent);
  const Eigen::Matrix3d rotation =
      Eigen::AngleAxisd(2.5, Eigen::Vector3d(1, 2, 3).normalized()).toRotationMatrix();
  solver::State turned = bent;
  turned.x = (rotation * bent.x).colwise() + Eigen::Vector3d(0.3, -2, 1);
  turned.director = rotation * bent.director;
  EXPECT_NEAR(potential.energy(turned), energy, 1e-12 * energy);
  const Eigen::VectorXd turned_gradient = potential.gradient(turned);
  for (int i = 0; i < potential.topology().n_nodes; ++i) {
    EXPECT_LT((turned_gradient.segment<3>(3 * i) - rotation * gradient.segment<3>(3 * i)).norm(),
              1e-9 * gradient.norm());
  }
}

TEST(ConvexHessian, HasNoNegativeCurvature) {
  const solver::Model model = patch_model();
  solver::Potential potential(model);
  const solver::State state = solver::retract(
      potential.topology(), solver::start_state(model),
      random_step(3 * potential.topology().n_nodes, potential.topology().n_directors(), 5e-3, 3));
  potential.assemble(state, solver::HessianPart::kPositive);
  const Eigen::MatrixXd h =
      Eigen::MatrixXd(potential.hessian().selfadjointView<Eigen::Lower>() *
                      Eigen::MatrixXd::Identity(potential.n_free(), potential.n_free()));
  const Eigen::VectorXd eigenvalues =
      Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd>(h).eigenvalues();
  EXPECT_GT(eigenvalues.minCoeff(), -1e-9 * eigenvalues.maxCoeff());
}

// Three fins that meet at one edge, with rest angles of a third of a turn: at rest, and turned as
// a whole, they store nothing; the director settles on one turn for all three.
TEST(ThreeFins, ShareOneDirectorThroughLargeTurns) {
  Eigen::Matrix3Xd p(3, 5);
  p << 0, 0, 0.03, -0.015, -0.015,  //
      0, 0, 0, 0.026, -0.026,       //
      0, 0.04, 0.02, 0.02, 0.02;
  solver::Model model;
  model.mesh = solver::second_order_mesh(p, {{0, 1, 2}, {0, 1, 3}, {0, 1, 4}});
  for (Eigen::Vector3d& warp : model.mesh.warp) warp = Eigen::Vector3d::UnitZ();
  model.mesh.labelled_edges = {{0, 1, 1}};
  model.edge_rules = {{1, solver::Joint::kAsPlaced}};
  model.sections = {coupled_section()};
  solver::Potential potential(model);
  const solver::State rest = solver::start_state(model);
  EXPECT_NEAR(potential.energy(rest), 0, 1e-14);
  solver::State turned = rest;
  for (int i = 0; i < 10; ++i) {  // ten turns of 0.7 rad about the shared edge
    const Eigen::Matrix3d r = Eigen::AngleAxisd(0.7, Eigen::Vector3d::UnitZ()).toRotationMatrix();
    turned.x = r * turned.x;
    turned.director = r * turned.director;
    EXPECT_NEAR(potential.energy(turned), 0, 1e-14);
  }
}

TEST(Assembly, IsTheSameHessianAsBlockByBlock) {
  // The gathered sparse matrix equals the sum over all blocks by brute force.
  solver::Model model = patch_model();
  model.stitches = {{{0, 0.2, 0.3}, {6, 0.4, 0.1}, 3e4, 0}};
  model.fixed = {{0, 0}, {0, 1}, {0, 2}, {1, 2}};
  solver::Potential potential(model);
  const solver::State state = solver::retract(
      potential.topology(), solver::start_state(model),
      random_step(3 * potential.topology().n_nodes, potential.topology().n_directors(), 1e-3, 5));
  potential.assemble(state, solver::HessianPart::kExact);
  const Eigen::VectorXd x = Eigen::VectorXd::LinSpaced(potential.n_free(), -1, 1);
  const Eigen::VectorXd by_matrix = potential.hessian().selfadjointView<Eigen::Lower>() * x;
  const double h = 1e-7;
  const Eigen::VectorXd v = potential.expand(x);
  // Only the symmetric part is compared: along v, gradient differences carry holonomy across it.
  const double along = x.dot(by_matrix);
  const solver::State plus = solver::retract(potential.topology(), state, h * v);
  const solver::State minus = solver::retract(potential.topology(), state, -h * v);
  const double difference = (potential.gradient(plus) - potential.gradient(minus)).dot(v) / (2 * h);
  EXPECT_NEAR(along, difference, 1e-6 * std::abs(along));
}

}  // namespace
}  // namespace totebench
