// Membrane of a sheet that wrinkles more finely than any mesh shows: it carries no compression.
//
// The relaxed energy is the least that the sheet stores where it may shorten by wrinkling, that is
// where any strain that is nowhere negative may be added to its own [Pipkin1993]; and by duality
//   W(E) = min over P >= 0 of 1/2 (E + P):A:(E + P) = max over N >= 0 of N:E - 1/2 N:A^-1:N.
// It is convex with a continuous first derivative, the force N. Three cases:
//   taut      A E has no compression                  N = A E
//   slack     E has no extension                      N = 0
//   wrinkled  otherwise: tension along one direction t, that for which W is the largest
//             N = s t t^T,  s = E_tt / c_tt,  W = 1/2 E_tt^2 / c_tt,  c = A^-1
// For an isotropic sheet t is the direction of the largest strain and c_tt = 1 / (E h): the tension
// field of [Reissner1938].
#pragma once

#include <Eigen/Core>

namespace totebench::solver {

struct MembraneResponse {
  double energy = 0;                                    // J/m2
  Eigen::Vector3d force = Eigen::Vector3d::Zero();      // N11, N22, N12, N/m
  Eigen::Matrix3d stiffness = Eigen::Matrix3d::Zero();  // derivative of force by strain, N/m
};

// `A` positive definite, N/m; strain (E11, E22, 2 E12). A share kLeftInCompression of the sheet
// stays as it was, so that slack parts have a place to be.
[[nodiscard]] MembraneResponse tension_field(const Eigen::Matrix3d& A,
                                             const Eigen::Vector3d& strain);

inline constexpr double kLeftInCompression = 1e-6;

}  // namespace totebench::solver
