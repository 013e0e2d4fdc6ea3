// Cloth is not even, and no bag is its own mirror image. A symmetric model that buckles would leave
// it to round-off which way, and a search may creep along the symmetric shape for long; here the
// cloth's own mass decides.
#pragma once

#include <Eigen/Core>

namespace totebench::scenes {

// Root mean square of the mass of cloth over its mean, less 1, from place to place. Yarn of cotton
// varies by 14 % of its mass from one 8 mm to the next (from memory; what an evenness tester
// measures, as in ISO 16549); some 240 such pieces lie in 2 cm by 2 cm of quilting cotton, which
// leaves 0.9 %.
inline constexpr double kUnevenness = 0.01;

// Downward forces of cloth at the nodes (3 x n, N) made uneven: their sum stays. `place_m` (3 x n)
// is where the nodes start, so that a bag has the same cloth on every mesh.
void make_uneven(const Eigen::Matrix3Xd& place_m, Eigen::Matrix3Xd& weight_N);

}  // namespace totebench::scenes
