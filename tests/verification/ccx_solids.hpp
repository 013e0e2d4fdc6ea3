// A cylinder pinched between rigid diaphragms, solved by CalculiX in solids. An eighth of it, laid
// out in n x n solids, one through the thickness: every support is a plain displacement, and
// nothing of any shell theory is in it, neither the other program's nor ours.
//
//   planes of symmetry  displacement across the plane 0 on the whole face
//   diaphragm           displacement in its plane 0 on the middle surface (the mean of both faces
//                       where no node is there); free along the axis, and to turn
//   load                the line through the thickness at the top moved down, bit by bit; a
//                       quarter of the force is what that takes
//   material            second Piola-Kirchhoff stress linear in the Green strain (as CalculiX reads
//                       *ELASTIC with NLGEOM)
#pragma once

#include <string>
#include <vector>

namespace totebench::verification {

struct PinchedCylinder {  // in any one set of units
  double radius = 0;
  double half_length = 0;
  double thickness = 0;
  double e = 0, nu = 0;
};

enum class Solid {
  kFirstOrder,   // C3D8I: eight nodes, straight edges, modes of its own for bending
  kSecondOrder,  // C3D20R: twenty nodes, reduced integration
};

struct PinchPoint {
  double force = 0;  // on the whole cylinder
  double dent = 0;   // inward, under the force
  double bulge = 0;  // outward, of the middle surface, on the side a quarter turn away
};

struct Increments {  // of the dent, as shares of the deepest
  double first = 0;
  double largest = 0;
};

// After each increment. Throws std::runtime_error where the other program did not get to the dent
// `deepest`.
[[nodiscard]] std::vector<PinchPoint> pinched_by_ccx(const std::string& name,
                                                     const PinchedCylinder& cylinder, Solid solid,
                                                     int n, double deepest,
                                                     const Increments& increments);

// Where the force first reaches `force`: third order in the dent, between the nearest four points.
[[nodiscard]] PinchPoint at_force(const std::vector<PinchPoint>& curve, double force);

}  // namespace totebench::verification
