// How a state moves along a step in all unknowns (see dof_map.hpp), block by block:
//   node      x + step
//   director  carried along with its edge without twisting, then turned about it by the step
//   body      position + step[0..2]; rotation exp(step[3..5]) R, the step in the axes of space
// Derivatives of every energy are those along this retraction, at step 0.
#pragma once

#include <Eigen/Core>

#include "solver/mesh/topology.hpp"
#include "totebench/solver/state.hpp"

namespace totebench::solver {

// `step`: all unknowns, m and rad.
[[nodiscard]] State retract(const Topology& topology, const State& state,
                            const Eigen::VectorXd& step);

// A body moved so: translation, then rotation vector.
[[nodiscard]] BodyPose moved(const BodyPose& body, const Eigen::Matrix<double, 6, 1>& step);

// Coordinates of the state in the order of the unknowns: a retraction adds its step to them. Turns
// of directors and bodies are the sums of the turns made so far.
[[nodiscard]] Eigen::VectorXd coordinates(const State& state);

// Largest angle, rad, by which the step turns an edge, a director about its edge, or a body.
[[nodiscard]] double largest_turn(const Topology& topology, const State& state,
                                  const Eigen::VectorXd& step);

}  // namespace totebench::solver
