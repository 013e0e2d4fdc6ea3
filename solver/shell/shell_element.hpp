// Koiter shell on one second-order triangle: energy, gradient and Hessian.
//
// Membrane. Green strain of the quadratic map, interpolated in the linear Regge space so that soft
// cloth does not lock: its tangential-tangential part at the two Gauss points of each edge and its
// mean over the triangle are kept [NeunteufelSchoeberl2021].
//
// Bending. Hybridised Hellan-Herrmann-Johnson, next to lowest order: the curvature inside,
// -n . x,ab, plus the turn theta from the triangle's normal to the edge's director at each edge
// Gauss point, lifted to linear moments whose nodes are the three interior points q:
//   k(q) = -n.x,ab + (1/w_q) sum_g (L_g/2) phi_q(g) theta_g mu mu^T - k_rest
// [NeunteufelSchoeberl2019].
//
// Energy  W = sum_q w_q (1/2 E:A:E + E:B:k + 1/2 k:D:k)        [J]
// with the relaxed energy of tension_field.hpp in place of 1/2 E:A:E where the section asks for it.
//
// Local unknowns (24): x of the six nodes (18), then the turn of the director at the two Gauss
// points of edges 0, 1, 2, in the triangle's own direction (6). Derivatives are those of the energy
// along the retraction of solver/state/retraction.hpp.
#pragma once

#include <Eigen/Core>
#include <array>

#include "solver/mesh/topology.hpp"
#include "totebench/solver/mesh.hpp"
#include "totebench/solver/state.hpp"

namespace totebench::solver {

using Vector24d = Eigen::Matrix<double, 24, 1>;
using Matrix24d = Eigen::Matrix<double, 24, 24>;
using Vector9d = Eigen::Matrix<double, 9, 1>;
using Vector18d = Eigen::Matrix<double, 18, 1>;
using Matrix9x15d = Eigen::Matrix<double, 9, 15>;
using Matrix96d = Eigen::Matrix<double, 9, 6>;

// Constants of one triangle, from its rest shape and section.
struct ShellRest {
  Matrix9x15d strain_from_samples;      // (E11,E22,2E12) at the 3 points from the 15 strain samples
  Eigen::Matrix<double, 15, 1> metric;  // rest values of the samples
  std::array<Eigen::Matrix3d, 3> curvature_from_second;  // k from (h11, h22, h12) at each point
  Matrix96d curvature_from_angle;                        // 9 x 6
  Vector9d rest_curvature;                               // subtracted
  Eigen::Vector3d weight;                                // m2, of the three points
};

// Throws std::invalid_argument when the rest shape is degenerate or turned inside out.
[[nodiscard]] ShellRest make_shell_rest(const Matrix36d& rest, const Eigen::Vector3d& warp);

struct ShellStrain {
  Vector9d membrane;  // at point q: entries 3q .. 3q+2
  Vector9d curvature;
};

struct ShellInput {
  Matrix36d x;                           // m
  Eigen::Matrix<double, 3, 6> director;  // at the edge Gauss points, triangle's own order
  std::array<double, 6> sign;            // of the edge direction against the director's edge
  std::array<double, 6> rest_angle;      // rad
};

// The triangle's view of a state.
[[nodiscard]] ShellInput shell_input(const ShellMesh& mesh, const Topology& topology,
                                     const State& state, int triangle);

[[nodiscard]] ShellStrain shell_strain(const ShellRest& rest, const ShellInput& input);
// N, N/m, of strains at one point.
[[nodiscard]] Eigen::Vector3d membrane_force(const Section& section, const Eigen::Vector3d& strain,
                                             const Eigen::Vector3d& curvature);
[[nodiscard]] double shell_energy(const ShellRest& rest, const Section& section,
                                  const ShellInput& input);

// How much of the Hessian is made.
enum class HessianPart {
  kExact,
  kPositive  // positive semidefinite: compression dropped from the geometric stiffness of the
             // membrane, and the second derivative of curvature left out
};

// Overwrites `gradient`, and `hessian` unless it is null. Returns the energy. With `predicted`, the
// geometric stiffness uses the stresses of those strains instead of the present ones, as if stress
// were an unknown of its own (mixed Newton step: Magisano, Leonetti and Garcea, from memory).
double shell_derivatives(const ShellRest& rest, const Section& section, const ShellInput& input,
                         HessianPart part, Vector24d& gradient, Matrix24d* hessian,
                         const ShellStrain* predicted = nullptr);

// Derivative of the strains by the local unknowns, 9 x 24 each (rows as in ShellStrain).
struct ShellStrainGradient {
  Eigen::Matrix<double, 9, 24> membrane;
  Eigen::Matrix<double, 9, 24> curvature;
};
[[nodiscard]] ShellStrainGradient shell_strain_gradient(const ShellRest& rest,
                                                        const ShellInput& input);

}  // namespace totebench::solver
