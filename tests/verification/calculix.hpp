// One problem solved by us and by an independent general-purpose program, CalculiX (ccx), through
// its open input format: the same geometry, sections, loads and supports. Its shells are solids of
// second order, expanded through the thickness, with shear and normal strain there: nothing of our
// formulation is in it. At folds it ties the solids with rigid bodies.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "book.hpp"
#include "totebench/solver/equilibrium.hpp"

namespace totebench::verification {

struct Ply {  // principal axes 1 and 2 of the section; its third direction is like the second
  double e1 = 0, e2 = 0, nu12 = 0, g12 = 0, g13 = 0;
  double thickness = 0;
};
[[nodiscard]] Ply isotropic(double e, double nu, double thickness);
// Plies from the side the normal leaves to the side it points to; z along the normal.
[[nodiscard]] solver::Section section_of_plies(const std::vector<Ply>& plies);

// Ties node b to node a by Problem::spring_N_per_m (x_b - x_a).
struct NodeSpring {
  int a = 0;
  int b = 0;
};

// A value at a point: that of the quadratic field that comes nearest to the means of triangles
// around.
struct Probe {
  std::map<int, double> weight;  // by triangle; they sum to 1
};

struct Problem {
  std::string name;  // of its files
  // Rest shape as placed. Of its loads only payload_pressure_Pa is passed on, and as a dead load
  // along -z the weight of sections with mass (which must not be in permanent_force_N).
  solver::Model model;
  std::vector<std::vector<Ply>> plies;  // per section
  std::vector<NodeSpring> springs;
  double spring_N_per_m = 0;
  // Per triangle, or empty: these turn freely where they meet the others (an edge rule of the model
  // must say the same to us).
  std::vector<char> hinged;
  int node = 0;               // whose displacement is wanted
  std::vector<int> supports;  // whose total reaction is wanted
  std::vector<Probe> probes;  // where the membrane force is wanted
  double first_share = 0.25;  // of the load, in the first step
};

struct Answer {
  Eigen::Vector3d displacement = Eigen::Vector3d::Zero();
  Eigen::Vector3d reaction = Eigen::Vector3d::Zero();
  std::vector<double>
      force_N_per_m;  // largest principal membrane force, of the mean over each probe
};

// In every triangle one shell of six nodes, or three of eight with reduced integration: those give
// way to thin bending sooner, these cost three times as much.
enum class OtherShell { kTriangle, kThreeQuads };

[[nodiscard]] Answer by_ccx(const Problem& problem, OtherShell shell);
[[nodiscard]] Answer by_us(const Problem& problem, solver::State& state);

// Ours and the other's on two meshes, coarse first: each within `settled` of itself, ours on the
// finer within 3 % of the other's. Leaves a row in the book.
struct TwoMeshes {
  double size[2] = {};
  int triangles[2] = {};
};
void compare(const std::string& what, const double (&ours)[2], const double (&theirs)[2],
             const TwoMeshes& meshes);

[[nodiscard]] int node_near(const solver::ShellMesh& mesh, const Eigen::Vector3d& point);
// At `point`, of the triangles whose middle lies within `half_width` of it along each axis.
[[nodiscard]] Probe probe_at(const solver::ShellMesh& mesh, const Eigen::Vector3d& point,
                             double half_width);

}  // namespace totebench::verification
