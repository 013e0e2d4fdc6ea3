#include "solver/mesh/topology.hpp"
#include "totebench/solver/state.hpp"

namespace totebench::solver {

std::vector<BodyPose> start_poses(const Model& model) {
  std::vector<BodyPose> poses;
  for (const Body& body : model.bodies) poses.push_back(body.start);
  return poses;
}

State start_state(const Model& model) {
  const Topology topology = make_topology(model);
  State state;
  state.x = model.mesh.position;
  state.director = topology.start_director;
  state.turn = Eigen::VectorXd::Zero(topology.n_directors());
  state.bodies = start_poses(model);
  return state;
}

}  // namespace totebench::solver
