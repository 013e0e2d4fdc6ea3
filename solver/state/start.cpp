#include "solver/mesh/topology.hpp"
#include "totebench/solver/state.hpp"

namespace totebench::solver {

State start_state(const Model& model) {
  const Topology topology = make_topology(model);
  State state;
  state.x = model.mesh.position;
  state.director = topology.start_director;
  state.turn = Eigen::VectorXd::Zero(topology.n_directors());
  state.bodies = model.bodies;
  return state;
}

}  // namespace totebench::solver
