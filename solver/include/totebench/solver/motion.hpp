// Motion of a loaded model in time, seen from its support.
//
//   M (a + a_s) + C v + dE/dy = 0,   C = damping_s * K(start)
//
// y are the free coordinates relative to the support, a_s the support's own acceleration. Implicit
// by the average-acceleration rule ([Newmark1959], beta = 1/4, gamma = 1/2): second order, without
// numerical damping. Each step is itself a minimum of energy,
//   E(y) + 2/h2 |y - y_n - h v_n - h2/4 (a_n - a_s)|^2_M + 1/h |y - y_n - h/2 v_n|^2_C,
// found by the same Newton search as an equilibrium.
#pragma once

#include <Eigen/Core>
#include <memory>

#include "totebench/solver/equilibrium.hpp"

namespace totebench::solver {

// What acts at the end of a time step.
struct Excitation {
  double load_factor = 1;  // of the payload's weight
  Eigen::Vector3d support_acceleration_m_per_s2 = Eigen::Vector3d::Zero();
  double floor_m = kNoFloor_m;  // height of the model's floor, seen from the support
};

struct MotionReport {
  SolveStatus status = SolveStatus::kNotConverged;
  int newton_iterations = 0;
  Eigen::Vector3d support_force_N = Eigen::Vector3d::Zero();  // of the support on the model
  double floor_force_N = 0;                                   // of the floor on it, upwards
  double kinetic_J = 0;                                       // relative to the support
  double potential_J = 0;
};

class Motion {
 public:
  // `start` is at rest under `at_rest`; `mass` from nodal_masses(). `damping_s` is the stiffness-
  // proportional damping: the damping ratio at frequency f is pi f damping_s.
  Motion(const Model& model, State start, const Eigen::VectorXd& mass, const Excitation& at_rest,
         double damping_s, double residual_tolerance = 1e-6);
  ~Motion();
  Motion(const Motion&) = delete;
  Motion& operator=(const Motion&) = delete;
  Motion(Motion&&) = delete;
  Motion& operator=(Motion&&) = delete;

  // One step of `h_s` seconds. Where it does not converge nothing has moved: take a shorter one.
  MotionReport advance(double h_s, const Excitation& at_end);

  [[nodiscard]] const State& state() const;
  [[nodiscard]] double time_s() const;

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

}  // namespace totebench::solver
