// What must hold for any bag, whatever its cloth: the pull on a cut carries what hangs below it, a
// scaled bag hangs in the scaled shape, a symmetric bag pulls evenly at its straps.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>

#include "bag_case.hpp"
#include "book_picture.hpp"

namespace totebench::verification {
namespace {

bool on_strap(const solver::Model& model, int t) {
  const int region = model.mesh.triangles[t].region;
  return region == scenes::kRegionStrap || region == scenes::kRegionStrapHeld;
}

// The work of the membrane forces of `with` triangles, as shell_fields reports them, in lifting by
// one everything below z = low, nothing above z = high, and in proportion between: the vertical
// pull through all cuts of the band, averaged over its height.
double pull_through(const solver::Model& model, const solver::State& state, bool straps, double low,
                    double high) {
  const solver::ShellFields fields = solver::shell_fields(model, state);
  const double at[3][2] = {{1. / 6, 1. / 6}, {2. / 3, 1. / 6}, {1. / 6, 2. / 3}};
  double work = 0;
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    if (on_strap(model, t) != straps) continue;
    const solver::Matrix36d& rest = model.mesh.rest[t];
    const Eigen::Vector3d u = rest.col(1) - rest.col(0);
    const Eigen::Vector3d v = rest.col(2) - rest.col(0);
    const Eigen::Vector3d normal = u.cross(v).normalized();
    Eigen::Matrix<double, 3, 2> axes;
    axes.col(0) = (model.mesh.warp[t] - normal * normal.dot(model.mesh.warp[t])).normalized();
    axes.col(1) = normal.cross(axes.col(0));
    solver::Matrix36d x;
    Eigen::Matrix<double, 6, 1> lift;
    for (int k = 0; k < 6; ++k) {
      x.col(k) = state.x.col(model.mesh.triangles[t].node[k]);
      lift[k] = std::clamp((high - x(2, k)) / (high - low), 0.0, 1.0);
    }
    for (int q = 0; q < 3; ++q) {
      const Eigen::Matrix<double, 6, 2> dxi = solver::shape_gradient(at[q][0], at[q][1]);
      const Eigen::Matrix2d jacobian = axes.transpose() * rest * dxi;
      const Eigen::Matrix<double, 6, 2> dX = dxi * jacobian.inverse();
      const Eigen::Matrix<double, 3, 2> F = x * dX;
      const Eigen::Matrix2d dE =
          F.row(2).transpose() * (lift.transpose() * dX);  // its symmetric part works
      const Eigen::Vector3d n = fields.membrane_force[t].col(q);
      work -= std::abs(jacobian.determinant()) / 6 *
              (n[0] * dE(0, 0) + n[1] * dE(1, 1) + n[2] * (dE(0, 1) + dE(1, 0)));
    }
  }
  return work;
}

// What the loads on the same triangles do in the same lift: the weight that the band carries.
double weight_below(const solver::Model& model, const solver::State& state, double low,
                    double high) {
  Eigen::Matrix3Xd force = model.payload_force_N;
  if (model.permanent_force_N.size() > 0) force += model.permanent_force_N;
  double work = 0;
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    work -= force(2, i) * std::clamp((high - state.x(2, i)) / (high - low), 0.0, 1.0);
  }
  return work;
}

// What the hand bears of one strap, and the lever arm of that force about the long axis through the
// middle of the hand: with Ry towards the front and Rz up, (sum of y Rz - (z - z_hand) Ry) / sum
// Rz.
struct AtHand {
  double up_N = 0;
  double moment_Nm = 0;
  double own_weight_N = 0;
  double stitches_N = 0;  // upwards on the bag
  [[nodiscard]] double arm_m() const { return moment_Nm / up_N; }
};

AtHand at_hand(const Hung& hung, const std::string& side) {
  const solver::Model& model = hung.tote.model;
  const Eigen::Matrix3Xd reaction = solver::support_reactions(model, hung.state, 1);
  const Eigen::Matrix3Xd stitch = solver::stitch_forces(model, hung.state);
  double z_hand = 0;
  for (const solver::FixedDof& held : model.fixed)
    z_hand = std::max(z_hand, hung.state.x(2, held.node));
  std::vector<bool> of_strap(model.mesh.n_nodes(), false);
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    if (hung.tote.triangle_part[hung.tote.part[t]] != "strap " + side) continue;
    for (const int node : model.mesh.triangles[t].node) of_strap[node] = true;
  }
  AtHand result;
  for (int i = 0; i < model.mesh.n_nodes(); ++i) {
    if (!of_strap[i]) continue;
    const Eigen::Vector3d at = hung.state.x.col(i);
    result.up_N += reaction(2, i);
    result.moment_Nm += at.y() * reaction(2, i) - (at.z() - z_hand) * reaction(1, i);
    result.own_weight_N -= model.permanent_force_N(2, i);
  }
  for (const scenes::AttachmentSite& site : hung.tote.attachments) {
    if (site.name.find(side) == std::string::npos) continue;
    for (const int one : site.stitches) result.stitches_N += stitch(2, one);
  }
  return result;
}

// VERIFICATION  Tote_StrapsAtTheHand
// Reference   statics of each strap, and of the whole bag about the long axis through the hand
// Inputs      the small tote, on two meshes
// Expected    the hand bears of each strap what its stitches pull and what it weighs; the straps
//             share the weight as their lever arms at the hand ask
// Tolerance   0.01 %, 0.1 % of the share: only the solver's residual
// Not covered the share itself, here 0.49 to 0.51 and another on another mesh: the hand holds the
//             straps 19 mm from its middle, and where in its width a strap pulls moves that arm by
//             half a millimetre
TEST(Bag, StrapsBearWhatTheirStitchesPull) {
  const Source each = {"bag", "statics of one strap", "the solver's residual only"};
  const Source both = {"bag",
                       "moments about the hand: share of the front = (y of the weight - arm of the "
                       "back) / (arm of the front - arm of the back)",
                       "the solver's residual only. The share itself is no row: it turns on where "
                       "in its width each strap pulls"};
  Refinement front(each, "hand on the front strap / its stitches and own weight", 1);
  Refinement back(each, "hand on the back strap / its stitches and own weight", 1);
  Refinement share(both, "front strap's share / what the lever arms ask", 1);
  const std::vector<Hung> on_mesh = hung_on_two_meshes(small_tote());
  if (HasFatalFailure()) return;
  for (const int level : {0, 1}) {
    const Hung& hung = on_mesh[level];
    const solver::Model& model = hung.tote.model;
    const int n = model.mesh.n_triangles();
    const double size = 0.05 / (1 << level);
    const AtHand of_front = at_hand(hung, "front");
    const AtHand of_back = at_hand(hung, "back");
    front.add(size, n, of_front.up_N / (of_front.stitches_N + of_front.own_weight_N));
    back.add(size, n, of_back.up_N / (of_back.stitches_N + of_back.own_weight_N));
    const Eigen::RowVectorXd load = (model.payload_force_N + model.permanent_force_N).row(2);
    const double y = load.dot(hung.state.x.row(1)) / load.sum();
    const double pull = of_front.stitches_N + of_front.own_weight_N;
    share.add(size, n,
              pull / -load.sum() / ((y - of_back.arm_m()) / (of_front.arm_m() - of_back.arm_m())));
  }
  front.expect_within(1e-4);
  back.expect_within(1e-4);
  share.expect_within(1e-3);
}

// VERIFICATION  Tote_BalanceOnCutsAndSymmetry
// Reference   statics: a horizontal cut carries the weight of what hangs below it
// Inputs      boxed tote 24 x 22 x 9 cm of cotton duck, two handles of webbing, 2 kg evenly on the
//             base; forces as the findings report them (membrane forces, stitch forces)
// Expected    straps above the bag: the whole weight below; stitches: the weight of all but the
//             straps; walls halfway up: the weight below; half of the pull left
// Tolerance   stitches 0.01 % (only the solver's residual); membrane forces 2 %: the shear that
//             bending carries across the cut is left out, and the mesh is coarse; shares 1 %
// Not covered moments on the cut
TEST(Bag, CutsCarryWhatHangsBelow) {
  const Source stitches = {"bag", "statics, weight of all but the straps",
                           "the solver's residual only"};
  const Source cut = {"bag", "statics, weight below the cut",
                      "membrane forces only: the shear that bending carries across is left out"};
  std::vector<BookRow::OnMesh> through_straps, through_walls, through_stitches;
  double strap_weight = 0, wall_weight = 0, all_but_straps = 0;
  const scenes::Scene scene = small_tote();
  const Source even = {"bag", "symmetry: alike left and right",
                       "a bag that buckles to one side would show"};
  Refinement left(even, "share of the left strap ends", 0.5);
  const std::vector<Hung> on_mesh = hung_on_two_meshes(scene);
  if (HasFatalFailure()) return;
  for (const int level : {0, 1}) {
    const Hung& hung = on_mesh[level];
    const solver::Model& model = hung.tote.model;
    const solver::State& state = hung.state;
    double opening = 0;
    for (const auto& feet : hung.tote.strap_feet) {
      for (const solver::SurfacePoint& p : feet) {
        opening = std::max(opening, solver::position_of(model.mesh, state.x, p).z());
      }
    }
    double bottom = 1e9, wall_top = -1e9;
    for (int t = 0; t < model.mesh.n_triangles(); ++t) {
      if (on_strap(model, t)) continue;
      for (const int node : model.mesh.triangles[t].node) {
        bottom = std::min(bottom, state.x(2, node));
        wall_top = std::max(wall_top, state.x(2, node));
      }
    }
    const double low = wall_top + 0.02;
    const double high = wall_top + 0.09;
    const int n = model.mesh.n_triangles();
    const double size = 0.05 / (1 << level);
    strap_weight = weight_below(model, state, low, high);
    through_straps.push_back({size, n, pull_through(model, state, true, low, high)});
    const double middle = bottom + 0.45 * (opening - bottom);
    const double band = 0.15 * (opening - bottom);
    wall_weight = weight_below(model, state, middle - band, middle + band);
    through_walls.push_back(
        {size, n, pull_through(model, state, false, middle - band, middle + band)});
    all_but_straps = 0;
    std::vector<bool> counted(model.mesh.n_nodes(), false);
    for (int t = 0; t < n; ++t) {
      if (on_strap(model, t)) continue;
      for (const int node : model.mesh.triangles[t].node) {
        if (counted[node]) continue;
        counted[node] = true;
        all_but_straps -= model.payload_force_N(2, node) + model.permanent_force_N(2, node);
      }
    }
    const Eigen::Matrix3Xd force = solver::stitch_forces(model, state);
    const double total = force.row(2).sum();
    through_stitches.push_back({size, n, total});
    double of_left = 0;
    for (const scenes::AttachmentSite& site : hung.tote.attachments) {
      double pull = 0;
      for (const int stitch : site.stitches) pull += force(2, stitch);
      if (site.name.find("left") != std::string::npos) of_left += pull;
    }
    left.add(size, n, of_left / total);
    if (level == 0) draw("bag", model, state, {-60, 20, 1});
  }
  const auto finish = [](const Source& source, const std::string& what, double expected,
                         double tolerance, const std::vector<BookRow::OnMesh>& values) {
    Refinement row(source, what, 1);
    for (const BookRow::OnMesh& on : values) row.add(on.size, on.triangles, on.value / expected);
    row.expect_within(tolerance);
  };
  finish(stitches, "pull of all stitches / weight of all but the straps", all_but_straps, 1e-4,
         through_stitches);
  finish(cut, "pull through the straps / weight below", strap_weight, 0.02, through_straps);
  finish(cut, "pull through the walls, halfway up / weight below", wall_weight, 0.02,
         through_walls);
  left.expect_within(0.01);
}

// All lengths times s, all membrane stiffnesses times a, and the rest by dimensions.
solver::Model scaled(solver::Model model, double s, double a) {
  model.mesh.position *= s;
  for (solver::Matrix36d& rest : model.mesh.rest) rest *= s;
  for (solver::Section& section : model.sections) {
    section.A *= a;
    section.B *= a * s;
    section.D *= a * s * s;
    section.areal_mass_kg_per_m2 *= a / s;
  }
  for (solver::EdgeRule& rule : model.edge_rules) {
    rule.hinge_stiffness_N *= a * s;
    rule.edge_moment_N *= a * s;
  }
  for (solver::Stitch& stitch : model.stitches) stitch.stiffness_N_per_m *= a;
  for (solver::WeakSpring& spring : model.weak_springs) spring.stiffness_N_per_m *= a;
  for (solver::NormalTie& tie : model.normal_ties) {
    tie.stiffness_N_per_m *= a;
    tie.gap_m *= s;
  }
  for (double& thickness : model.contact.thickness_m) thickness *= s;
  model.contact.least_gap_m *= s;
  model.contact.stiffness_Pa *= a / s;
  model.permanent_force_N *= a * s;
  model.payload_force_N *= a * s;
  model.payload_pressure_Pa *= a / s;
  model.fill.mass_kg *= a * s;
  model.fill.bulk_density_kg_per_m3 *= a / (s * s);
  return model;
}

// VERIFICATION  Tote_ScalingLaw
// Reference   dimensional analysis: lengths times s, membrane stiffness times a, bending times
//             a s^2 and forces times a s leave the shape as it is
// Inputs      the small tote, empty to loaded; even contents with s = 1.7, a = 0.3, a liquid with
//             s = 1/8, a = 32 (which a computer scales without rounding)
// Expected    no change of shape
// Ours        8e-10 of the width with even contents, 2e-9 with a liquid
// Tolerance   1e-6 of the bag's width, the residual at which the search stops
TEST(Bag, ScaledAlike_HangsInTheSameShape) {
  const Source source = {"bag", "dimensional analysis", "the residual at which the search stops"};
  for (const bool liquid : {false, true}) {
    scenes::Scene scene = small_tote();
    if (liquid) {
      scene.contents.kind = scenes::ContentsKind::kLoose;
      scene.contents.bulk_density_kg_per_m3 = 1000;
    }
    Hung plain{scenes::build_tote(scene, samples::library(), 0), {}};
    plain.state = solver::start_state(plain.tote.model);
    to_equilibrium(plain, 0);
    if (HasFatalFailure()) return;
    const Hung empty = plain;
    to_equilibrium(plain, 1);
    if (HasFatalFailure()) return;
    const double s = liquid ? 0.125 : 1.7;
    const double a = liquid ? 32 : 0.3;
    Hung other = empty;
    other.tote.model = scaled(empty.tote.model, s, a);
    other.state.x *= s;
    to_equilibrium(other, 1);
    if (HasFatalFailure()) return;
    const double change = (other.state.x / s - plain.state.x).cwiseAbs().maxCoeff();
    Refinement row(
        source,
        std::string(liquid ? "liquid" : "even load") +
            (s < 1 ? ", lengths / 8, stiffness x 32" : ", lengths x 1.7, stiffness x 0.3") +
            ": change of shape / width",
        0);
    row.measured_against(1);
    row.add(0, 0, change / scene.bag.width_m);
    row.expect_within(1e-6);
  }
}

}  // namespace
}  // namespace totebench::verification
