// What the solver is asked to bring to equilibrium: a shell mesh, its sections, how panels meet
// along edges, what ties surfaces together, what is held, and what pulls.
#pragma once

#include <Eigen/Core>
#include <Eigen/Geometry>
#include <array>
#include <limits>
#include <vector>

#include "totebench/solver/mesh.hpp"

namespace totebench::solver {

// Section of a layered sheet per unit width, classical lamination, in the sheet's own axes
// (1 = warp), about the reference surface.
//   N = A e + B k,  M = B e + D k,   e = (E11, E22, 2 E12),  k = (k11, k22, 2 k12)
// k is the gradient of the normal: positive where the surface is convex seen from the side its
// normal points to (n . x,11 < 0 gives k11 > 0).
struct Section {
  Eigen::Matrix3d A = Eigen::Matrix3d::Zero();  // N/m
  Eigen::Matrix3d B = Eigen::Matrix3d::Zero();  // N
  Eigen::Matrix3d D = Eigen::Matrix3d::Zero();  // N m
  double areal_mass_kg_per_m2 = 0.0;
  // It wrinkles more finely than the mesh shows, and so carries no compression. B must be 0.
  bool tension_field = false;
};

// How the sheets that share an edge meet there. Unlabelled edges are kContinuous.
enum class Joint {
  kContinuous,  // one cloth laid flat: wants to be straight across the edge
  kAsPlaced,    // keeps the angle it has in ShellMesh::position (pressed crease, curved shell)
  kHinge        // free to turn, against `hinge_stiffness_N` about the placed angle
};

struct EdgeRule {
  int label = 0;
  Joint joint = Joint::kContinuous;
  double hinge_stiffness_N = 0.0;    // moment per length per radian (N m / m / rad)
  double rest_angle_offset_rad = 0;  // added to the placed angle of a hinge
  bool clamped = false;              // the surface's slope across the edge is held as placed
  // Applied moment per length (N m / m), payload, about the edge in its triangle's own direction
  // (counter-clockwise seen against the normal): positive turns the normal outwards.
  double edge_moment_N = 0.0;
};

// A pair of material points that carries a share of a stitch's stiffness.
struct StitchPoint {
  SurfacePoint a;
  SurfacePoint b;
  double share = 1;  // of all points of a stitch these sum to 1
};

// A stitch: pulls two surfaces together, isotropically, with zero rest length, at a point or over
// the small area it grips.
//   E = k/2 sum_q share_q |x(a_q) - x(b_q)|^2
// A force at a single point of a membrane moves it without bound as the mesh is refined; one spread
// over an area does not.
struct Stitch {
  SurfacePoint a;  // its middle: by convention on the strap or patch
  SurfacePoint b;  // by convention on the panel beneath
  double stiffness_N_per_m = 0;
  int group = 0;                         // attachment index
  std::vector<StitchPoint> spread = {};  // empty: all at (a, b)
};

// The points a stitch holds at: its spread, or its middle alone.
[[nodiscard]] std::vector<StitchPoint> points_of(const Stitch& stitch);

// Holds point `slave` at distance `gap_m` along the normal of the surface at `master`, with no
// resistance in the plane (a stiff sheet lying in a pocket):
//   E = k/2 g^2,   g = n(master) . (x(slave) - x(master)) - gap
struct NormalTie {
  SurfacePoint slave;
  SurfacePoint master;
  double stiffness_N_per_m = 0;
  double gap_m = 0;
};

// Two material points free to move up to `slack_m` apart, and drawn together beyond it, softly over
// the first `soften_m` > 0 (the border of a pocket): the energy of soft_onset.hpp by their distance
// less the slack.
struct Tether {
  SurfacePoint a;
  SurfacePoint b;
  double stiffness_N_per_m = 0;
  double slack_m = 0;
  double soften_m = 0;
};

// A weak isotropic spring between two material points (keeps a loose sheet from drifting).
using WeakSpring = Stitch;

// Contents that press on the inner side of a surface like a heap or a liquid.
//   vertical stress  gamma (z_fill - z),  horizontal stress  K gamma (z_fill - z)
// The fill level follows from the volume: mass / bulk density. K = 1 is a liquid.
struct Fill {
  double mass_kg = 0;  // at load factor 1
  double bulk_density_kg_per_m3 = 0;
  double lateral_ratio_K = 1;
  // Triangles wetted. The rest normal (corner order) must point out of the contents.
  std::vector<int> triangles;
  [[nodiscard]] bool active() const { return mass_kg > 0 && !triangles.empty(); }
};

inline constexpr double kNoFloor_m = -std::numeric_limits<double>::infinity();
// A level ground under the listed triangles; its height is the motion's
// (totebench/solver/motion.hpp), and kNoFloor_m at rest.
struct Floor {
  std::vector<int> triangles;
  double stiffness_Pa_per_m = 0;  // pressure by depth: of the ground and of what lies in the bag
  double soften_m = 0;            // depth over which it sets in, > 0
  [[nodiscard]] bool active() const { return stiffness_Pa_per_m > 0 && !triangles.empty(); }
};

// Sheets and bodies that do not pass through each other or themselves: a barrier that sets in at
// the mean thickness of the two (solver/contact/barrier.hpp), a body having none. Nothing touches
// at the start.
struct Contact {
  std::vector<double> thickness_m;  // per triangle, > 0; empty = no contact
  double least_gap_m = 0.3e-3;      // the barrier sets in no nearer than this
  double stiffness_Pa = 1000;       // scale of the pressure: 100 to 10 000 make little difference
  // What is sewn or bonded together, or lies on each other by other means, is no contact: a group
  // per triangle (0 .. 31; empty = all in group 0), and pairs of groups that do not count.
  std::vector<int> group;
  std::vector<std::array<int, 2>> together;
  [[nodiscard]] bool active() const { return !thickness_m.empty(); }
};

struct FixedDof {
  int node = 0;
  int axis = 0;  // 0 x, 1 y, 2 z
};

// Where a rigid body is: its own point 0 lies at `position`, its own axes are those of `rotation`.
struct BodyPose {
  Eigen::Vector3d position = Eigen::Vector3d::Zero();            // m
  Eigen::Quaterniond rotation = Eigen::Quaterniond::Identity();  // unit, body to space
  Eigen::Vector3d turn = Eigen::Vector3d::Zero();  // rad: sum of the rotation vectors applied
  [[nodiscard]] Eigen::Vector3d at(const Eigen::Vector3d& body_point) const {
    return position + rotation * body_point;
  }
};

// What a rigid body touches with, in its own axes: flat triangles around it.
struct BodySkin {
  enum class Round { kNone, kBall, kCylinder };  // about point 0; about z, with flat ends
  Round round = Round::kNone;  // what the triangles stand for: friction acts along that
  Eigen::Matrix3Xd point_m;
  std::vector<std::array<int, 3>> face;  // counter-clockwise seen from outside
  // Its ridges; a line between two faces of one plane touches nothing that these do not.
  std::vector<std::array<int, 2>> edge;
};

// A rigid body: what lies in a bag, or what the bag hangs on or stands on. It touches the sheets
// and other bodies where the model has contact. One that is free is part of the payload: at a load
// factor of 0 it is not there, touches nothing and stays where it was.
struct Body {
  BodyPose start;  // its own point 0 is its centre of mass
  BodySkin skin;
  double mass_kg = 0;                // its weight is times the load factor
  double turning_inertia_kg_m2 = 0;  // mean of its three, for motion
  bool fixed = false;                // stays where it starts
  double friction = 0;               // coefficient against a sheet; of two bodies the lower
  int group = 0;                     // of Contact
};

struct Model {
  ShellMesh mesh;
  std::vector<Body> bodies;
  std::vector<Section> sections;
  std::vector<EdgeRule> edge_rules;
  std::vector<Stitch> stitches;
  std::vector<WeakSpring> weak_springs;
  std::vector<NormalTie> normal_ties;
  std::vector<Tether> tethers;
  std::vector<FixedDof> fixed;  // held at State::x of the start
  // 3 x n_nodes, m, times the load factor: how far fixed unknowns are moved from their place in the
  // mesh. Empty = they stay where the start has them.
  Eigen::Matrix3Xd support_move_m;
  Eigen::Matrix3Xd permanent_force_N;   // 3 x n_nodes, dead, not scaled (own weight); may be empty
  Eigen::Matrix3Xd payload_force_N;     // 3 x n_nodes, dead, times the load factor; may be empty
  Eigen::VectorXd payload_pressure_Pa;  // per triangle, follows the normal; may be empty
  Fill fill;                            // mass times the load factor
  Floor floor;
  Contact contact;
  double gravity_m_per_s2 = 9.80665;  // along -z
};

// Do sheets of a model with contact pass through each other as they are placed? Such a model cannot
// be solved. Needs its mesh and contact alone.
[[nodiscard]] bool starts_in_itself(const Model& model);

// Consistent nodal forces (3 x n_nodes, N) of each section's own weight along -z.
[[nodiscard]] Eigen::Matrix3Xd own_weight(const ShellMesh& mesh,
                                          const std::vector<Section>& sections, double gravity);

// Consistent nodal forces of a dead load `force_per_area` (N/m2 of rest area) on listed triangles.
[[nodiscard]] Eigen::Matrix3Xd area_load(const ShellMesh& mesh, const std::vector<int>& triangles,
                                         const Eigen::Vector3d& force_per_area_Pa);

// Consistent nodal forces of a dead load `force_per_length` (N/m of rest length) on edges with
// `label`.
[[nodiscard]] Eigen::Matrix3Xd edge_load(const ShellMesh& mesh, int label,
                                         const Eigen::Vector3d& force_per_length_N_per_m);

// Rest area of one triangle, m2.
[[nodiscard]] double rest_area(const ShellMesh& mesh, int triangle);

}  // namespace totebench::solver
