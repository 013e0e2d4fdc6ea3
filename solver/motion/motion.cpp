#include "totebench/solver/motion.hpp"

#include <utility>

#include "solver/assembly/potential.hpp"
#include "solver/search/newton.hpp"
#include "solver/terms/floor_term.hpp"

namespace totebench::solver {

struct Motion::Impl {
  Impl(const Model& model, State start, const Eigen::VectorXd& node_mass, double tolerance)
      : potential(model),
        options(options_of(tolerance)),
        newton(potential),
        state(std::move(start)) {
    const int n = potential.dofs().size();
    mass = velocity = acceleration = Eigen::VectorXd::Zero(n);
    for (Eigen::Index i = 0; i < node_mass.size(); ++i) {
      mass.segment<3>(3 * i).setConstant(node_mass[i]);
    }
    for (int b = 0; b < potential.dofs().n_bodies; ++b) {
      const Body& body = model.bodies[static_cast<std::size_t>(b)];
      mass.segment<3>(potential.dofs().body(b)).setConstant(body.mass_kg);
      mass.segment<3>(potential.dofs().body(b) + 3).setConstant(body.turning_inertia_kg_m2);
    }
  }

  static SolveOptions options_of(double tolerance) {
    SolveOptions options;
    options.residual_tolerance = tolerance;
    options.max_iterations = 60;
    options.full_steps = true;
    return options;
  }

  // The acceleration of the support, at every node.
  [[nodiscard]] Eigen::VectorXd everywhere(const Eigen::Vector3d& a) const {
    Eigen::VectorXd all = Eigen::VectorXd::Zero(mass.size());
    for (int i = 0; i < potential.topology().n_nodes; ++i) all.segment<3>(3 * i) = a;
    for (int b = 0; b < potential.dofs().n_bodies; ++b) {
      all.segment<3>(potential.dofs().body(b)) = a;
    }
    return all;
  }

  // Newton's third law over the whole model: all that accelerates, less all that is applied.
  [[nodiscard]] Eigen::Vector3d support_force(const Eigen::Vector3d& support_acceleration) const {
    Eigen::Vector3d force = -potential.applied_force(state);
    for (int i = 0; i < potential.topology().n_nodes; ++i) {
      force += mass[3 * i] * (acceleration.segment<3>(3 * i) + support_acceleration);
    }
    for (int b = 0; b < potential.dofs().n_bodies; ++b) {
      const int first = potential.dofs().body(b);
      force += mass[first] * (acceleration.segment<3>(first) + support_acceleration);
    }
    return force;
  }

  Potential potential;
  SolveOptions options;
  Newton newton;
  State state;
  Eigen::VectorXd mass;  // all unknowns; a director's turn has none
  Eigen::VectorXd velocity, acceleration;
  Eigen::VectorXd damping;  // values on the pattern of the Hessian at the start
  double time = 0;
};

Motion::Motion(const Model& model, State start, const Eigen::VectorXd& mass,
               const Excitation& at_rest, double damping_s, double residual_tolerance)
    : impl_(std::make_unique<Impl>(model, std::move(start), mass, residual_tolerance)) {
  impl_->potential.set_load_factor(1);
  impl_->options.load_scale_N = impl_->newton.load_scale();
  impl_->potential.set_load_factor(at_rest.load_factor);
  impl_->potential.prepare(impl_->state);
  if (damping_s > 0) {
    impl_->potential.assemble(impl_->state, HessianPart::kPositive);
    const Eigen::SparseMatrix<double> at_start = impl_->potential.hessian();
    impl_->potential.keep_in_pattern(at_start);  // renews the Hessian, whose values are gone then
    impl_->damping =
        damping_s * Eigen::Map<const Eigen::VectorXd>(at_start.valuePtr(), at_start.nonZeros());
  }
}

Motion::~Motion() = default;

MotionReport Motion::advance(double h_s, const Excitation& at_end) {
  Impl& now = *impl_;
  const double h = h_s;
  const Eigen::VectorXd y = coordinates(now.state);
  QuadraticEnergy step;
  step.diagonal = 4 / (h * h) * now.mass;
  step.centre =
      y + h * now.velocity +
      h * h / 4 * (now.acceleration - now.everywhere(at_end.support_acceleration_m_per_s2));
  if (now.damping.size() > 0) {
    step.coupled = 2 / h * now.damping;
    step.coupled_centre = now.potential.restrict_to_free(y + h / 2 * now.velocity);
  }
  now.potential.set_quadratic(std::move(step));
  now.potential.set_load_factor(at_end.load_factor);
  auto* floor = now.potential.find<FloorTerm>();
  if (floor != nullptr) floor->move_to(at_end.floor_m);

  now.potential.begin(now.state);
  const Eigen::VectorXd run_on =
      now.potential.expand(now.potential.restrict_to_free(h * now.velocity));
  State moved = retract(now.potential.topology(), now.state,
                        now.potential.largest_step(now.state, run_on) * run_on);
  NewtonResult result = now.newton.minimise(moved, at_end.load_factor, now.options);
  MotionReport report;
  report.newton_iterations = result.iterations;
  if (!result.converged()) {
    moved = now.state;  // from rest, where running on led nowhere
    result = now.newton.minimise(moved, at_end.load_factor, now.options);
    report.newton_iterations += result.iterations;
    if (!result.converged()) return report;
  }
  const Eigen::VectorXd change = coordinates(moved) - y;
  const Eigen::VectorXd next = 4 / (h * h) * (change - h * now.velocity) - now.acceleration;
  now.velocity += h / 2 * (now.acceleration + next);
  now.acceleration = next;
  now.state = std::move(moved);
  now.time += h;

  report.status = SolveStatus::kConverged;
  now.potential.set_quadratic({});
  now.potential.prepare(now.state);
  report.potential_J = now.potential.energy(now.state);
  report.kinetic_J = 0.5 * now.mass.dot(now.velocity.cwiseAbs2());
  if (floor != nullptr) report.floor_force_N = floor->force_N(now.state);
  report.support_force_N = now.support_force(at_end.support_acceleration_m_per_s2);
  return report;
}

const State& Motion::state() const { return impl_->state; }
double Motion::time_s() const { return impl_->time; }

}  // namespace totebench::solver
