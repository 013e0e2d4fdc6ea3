// The global order of unknowns: blocks of 3 for the nodes (x, y, z), then of 1 for the directors
// (turn about the edge), then of 6 for the rigid bodies (translation, rotation vector).
#pragma once

#include "solver/mesh/topology.hpp"

namespace totebench::solver {

struct DofMap {
  int n_nodes = 0;
  int n_directors = 0;
  int n_bodies = 0;

  static constexpr int kPerNode = 3;
  static constexpr int kPerBody = 6;

  // First unknown of a block.
  [[nodiscard]] int node(int i) const { return kPerNode * i; }
  [[nodiscard]] int director(int i) const { return kPerNode * n_nodes + i; }
  [[nodiscard]] int body(int i) const { return kPerNode * n_nodes + n_directors + kPerBody * i; }
  [[nodiscard]] int size() const { return body(n_bodies); }
};

[[nodiscard]] inline DofMap dof_map(const Topology& topology, std::size_t n_bodies) {
  return {topology.n_nodes, topology.n_directors(), static_cast<int>(n_bodies)};
}

}  // namespace totebench::solver
