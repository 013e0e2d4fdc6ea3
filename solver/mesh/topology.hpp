// Edges of a shell mesh and the directors that sit on them.
//
// A director is a unit vector at one of an edge's two Gauss points; all sheets that meet
// at the edge share it, except across a hinge, where each sheet has its own.
#pragma once

#include <Eigen/Core>
#include <array>
#include <vector>

#include "totebench/solver/model.hpp"

namespace totebench::solver {

// The edge a director sits on: nodes in the edge's own direction, and the Gauss abscissa.
struct DirectorSite {
  int a = 0;  // corner nodes, a < b
  int b = 0;
  int mid = 0;
  double s = 0;  // in [0, 1] from a to b
};

// One side's use of the directors of one of its edges.
struct EdgeUse {
  std::array<int, 2> director{};  // at the triangle's own Gauss points, in its own direction
  double sign = 1;                // +1 where the triangle's edge runs along a -> b
  std::array<double, 2> rest_angle{0, 0};  // from the triangle's normal to the director, rest, rad
};

// Elastic hinge between two directors at the same place.
struct HingePair {
  int first = 0;
  int second = 0;
  double stiffness_N_m = 0;  // moment per radian, already times the length it stands for
  double rest_angle = 0;     // from first to second about the edge
};

struct DirectorLoad {
  int director = 0;
  double moment_N_m = 0;  // about the edge a -> b
};

struct Topology {
  std::vector<DirectorSite> sites;                // per director
  std::vector<std::array<EdgeUse, 3>> edge_uses;  // per triangle
  std::vector<HingePair> hinges;
  std::vector<DirectorLoad> moments;
  std::vector<int> clamped;         // directors that may not turn
  Eigen::Matrix3Xd start_director;  // 3 x n_directors

  int n_nodes = 0;
  [[nodiscard]] int n_directors() const { return static_cast<int>(sites.size()); }
};

// Throws std::invalid_argument when a labelled edge is not an edge of the mesh.
[[nodiscard]] Topology make_topology(const Model& model);

// Tangent of an edge (not normalised) at a director's site.
[[nodiscard]] Eigen::Vector3d site_tangent(const DirectorSite& site, const Eigen::Matrix3Xd& x);

// Angle from `from` to `to` about the unit axis, in (-pi, pi].
[[nodiscard]] double angle_about(const Eigen::Vector3d& axis, const Eigen::Vector3d& from,
                                 const Eigen::Vector3d& to);

}  // namespace totebench::solver
