// The front door of the solver: from a Model to a State in equilibrium, and what it carries.
#pragma once

#include <Eigen/Core>
#include <functional>
#include <memory>
#include <vector>

#include "totebench/solver/model.hpp"
#include "totebench/solver/state.hpp"
#include "totebench/solver/work_times.hpp"

namespace totebench::solver {

struct Progress {
  int iteration = 0;
  double load_factor = 0;
  double residual_relative = 0;
  double energy_J = 0;
  double step = 0;  // accepted share of the Newton step
};

struct SolveOptions {
  double residual_tolerance = 1e-6;  // free residual over the load
  double load_scale_N = 0;           // that load; 0 = the one applied, moved supports included
  int max_iterations = 400;
  // Full Newton steps from the outset instead of a line search on the energy while that falls
  // steeply: fewer steps, for where it does not matter which of several equilibria is found.
  bool full_steps = false;
  unsigned imperfection_seed = 1;                    // seed of the small starting imperfection
  double imperfection_m = 0.0;                       // its amplitude; 0 = none
  std::function<bool(const Progress&)> on_progress;  // return false to stop
};

enum class SolveStatus { kConverged, kNotConverged, kInterrupted };

// Why no equilibrium was found.
enum class SolveFailure {
  kNone,               // one was, or none was looked for
  kTooManyIterations,  // still moving after SolveOptions::max_iterations
  kStalled,            // no step lowers the energy, or renewed loads do not come to rest
  kRoundOff,           // the load is lost in the round-off of the internal forces
  kContentsOverflow,   // the contents' volume does not fit under the highest point of the surface
  kInterrupted,        // SolveOptions::on_progress said so
  kCrossing            // at rest, but surfaces pass through each other: for who looks at the result
};

struct SolveReport {
  SolveStatus status = SolveStatus::kNotConverged;
  SolveFailure failure = SolveFailure::kNone;
  int newton_iterations = 0;
  int factorisations = 0;
  double residual_relative = 0;  // out-of-balance force on free unknowns over the load
  // What the round-off of the internal forces alone may leave of that. Where it is more than the
  // tolerance, a residual that no longer falls and is below it counts as none.
  double round_off_relative = 0;
  bool at_round_off = false;  // accepted for that reason
  double energy_J = 0;
  bool stable = false;     // the full Hessian at the end is positive definite
  double load_factor = 0;  // of the state returned
  double wanted_load_factor = 0;
  WorkTimes times;
  Eigen::Vector3d applied_N = Eigen::Vector3d::Zero();   // total of all applied loads
  Eigen::Vector3d reaction_N = Eigen::Vector3d::Zero();  // total of the reactions at fixed dofs
  double balance_relative = 0;                           // |applied + reaction| / load
  int degrees_of_freedom = 0;
};

// Searches equilibria of one model, which must outlive it: what depends on the mesh alone (pattern
// and ordering of the equations) is made once.
class EquilibriumSearch {
 public:
  explicit EquilibriumSearch(const Model& model);
  ~EquilibriumSearch();
  EquilibriumSearch(const EquilibriumSearch&) = delete;
  EquilibriumSearch& operator=(const EquilibriumSearch&) = delete;
  EquilibriumSearch(EquilibriumSearch&&) noexcept;
  EquilibriumSearch& operator=(EquilibriumSearch&&) noexcept;

  // Brings `state` to equilibrium at `load_factor`. On failure `state` is the best reached.
  [[nodiscard]] SolveReport find(double load_factor, State& state,
                                 const SolveOptions& options = {});

  // Potential energy of a state at `load_factor`, J. Where supports move with the load they are
  // brought to where they then are, and the rest follows as by a linear step; lagged loads stay as
  // they were renewed last.
  [[nodiscard]] double energy(double load_factor, State state);

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
};

// One search.
[[nodiscard]] SolveReport find_equilibrium(const Model& model, double load_factor, State& state,
                                           const SolveOptions& options = {});

// Stress resultants of a state, at the three interior points of each triangle
// (area coordinates 1/6,1/6,2/3), in the section's axes.
struct ShellFields {
  // per triangle: 3 x 3, column q = point q
  std::vector<Eigen::Matrix3d> membrane_strain;   // E11, E22, 2E12
  std::vector<Eigen::Matrix3d> membrane_force;    // N11, N22, N12, N/m
  std::vector<Eigen::Matrix3d> curvature;         // k11, k22, 2k12, 1/m
  std::vector<Eigen::Matrix3d> bending_moment;    // M11, M22, M12, N
  std::vector<Eigen::Matrix<double, 3, 2>> axes;  // current directions 1 and 2 at the centroid
};
[[nodiscard]] ShellFields shell_fields(const Model& model, const State& state);

// Share of the sheets' area that is compressed harder than waves of the shortest length that the
// mesh shows would bear: a half wave over an edge of length L buckles a strip at (pi / L)^2 D_n,
// D_n the bending stiffness about the normal of the compression with free stretching. A real sheet
// wrinkles there, more finely than the mesh can. Sections with a tension field have none.
[[nodiscard]] double unseen_wrinkles(const Model& model, const ShellFields& fields);

// Force on point b's sheet from point a's sheet, per stitch, 3 x n, N.
[[nodiscard]] Eigen::Matrix3Xd stitch_forces(const Model& model, const State& state);

// Net support force at each node (3 x n_nodes, N; zero at free dofs).
[[nodiscard]] Eigen::Matrix3Xd support_reactions(const Model& model, const State& state,
                                                 double load_factor);

[[nodiscard]] Eigen::Vector3d position_of(const ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                                          const SurfacePoint& point);
[[nodiscard]] Eigen::Vector3d normal_of(const ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                                        const SurfacePoint& point);

// Height of the surface of the fill (m); -infinity when there is none.
[[nodiscard]] double fill_level(const Model& model, const State& state, double load_factor);

}  // namespace totebench::solver
