// Where everything is: the sheets' nodes and directors, and the rigid bodies.
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <vector>

#include "totebench/solver/model.hpp"

namespace totebench::solver {

struct State {
  Eigen::Matrix3Xd x;         // 3 x n_nodes, m
  Eigen::Matrix3Xd director;  // 3 x n_directors: the shell's normal at the two Gauss points of each
                              // edge, shared by the sheets that meet there; unit vectors
  Eigen::VectorXd turn;       // n_directors, rad: how far each director has turned about its edge
  std::vector<BodyPose> bodies;
};

// An equilibrium on the way to the full load.
struct LoadStep {
  double load_factor = 0;
  State state;
};

[[nodiscard]] State start_state(const Model& model);
[[nodiscard]] std::vector<BodyPose> start_poses(const Model& model);

// Do sheets or bodies of a model with contact pass through each other in a state?
[[nodiscard]] bool lies_in_itself(const Model& model, const State& state);

// Carries a state of `coarse` over to `fine`, whose mesh must have been made from coarse.mesh
// (ShellMesh::child_of). Throws std::invalid_argument where it was not.
[[nodiscard]] State prolong(const Model& coarse, const State& state, const Model& fine);

}  // namespace totebench::solver
