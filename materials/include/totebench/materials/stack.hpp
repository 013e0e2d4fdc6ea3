// From an ordered list of plies to the stiffness of one section per unit width.
//
//   N = A e + B k,   M = B e + D k,   e = (e11, e22, 2 e12),  k = (k11, k22, 2 k12)
//
// Plies are listed outermost first. z is measured along the outward normal from the reference
// surface, so the first ply has the largest z and a fibre at z has the strain e + z k. On a panel
// whose mesh normal points inwards, B changes its sign.
//
// Reference surface: the mid-surface of the outermost bonded group, that is of the first ply and
// all plies joined to it without a gap by fusing or quilting. StackSection::reference_depth_m is
// its depth below the outer face.
//
// How plies work together
//   Within a bonded group, classical lamination (Jones, Mechanics of Composite Materials, ch. 4)
//   with each ply's own measured bending rigidity D_i instead of E t^3/12, because cloth bends far
//   more easily than its membrane stiffness says:
//     A = sum A_i,   B = sum A_i z_i,   D_full = sum (D_i + A_i z_i^2).
//   About the neutral surface the bonded gain is S = D_full - B A^-1 B - sum D_i (never negative).
//   Cloth does not reach it: fibres slip and fold in compression. Of S a share eta acts,
//     D = sum D_i + eta S + B A^-1 B,          0 (plies slide) <= eta <= 1 (bonded solid).
//   Groups are built up joint by joint, fused joints first, so each joint has its own eta, found
//   from the two plies that touch there:
//   - ratio rule: cloth fused with an interfacing that has a fused_bending_ratio r: eta is set so
//     that D11 + D22 of this pair about its neutral surface is r times that of the two plies loose
//     (within 0..1);
//   - solidity rule (estimate) for every other fused joint: eta = sqrt(phi_a phi_b), where
//     phi = D_i / (A_i t_i^2 / 12) <= 1 says how much of a solid sheet's bending rigidity a ply
//     has (plastic and board 1, so they are bonded fully; quilting cotton about 0.06). The
//     bending rigidity it gives is within 30 % of the ratio rule's for the library's three
//     fusibles on quilting cotton. That a fused cloth stays far below the bonded laminate, because
//     cloth is softer in compression than in tension, is the finding of
//     [KimInuiTakatera2012];
//   - quilted joint (estimate): sqrt(phi_a phi_b) / (1 + pitch / p0): composite action falls with
//     the spacing of connectors as in the gamma method for mechanically joined beams
//     [EN1995]; p0 is the rule "grid_slip_length" of the library.
//   A group that is only sewn in at its edges slides: its bending rigidity about its own neutral
//   surface adds exactly, D - B A^-1 B being the sum of both; its A adds at the neutral surface of
//   the outermost group (z_n = tr B / tr A over warp and weft), where it hinders no bending. A
//   loose group adds mass only.
// Every section made here is positive definite.
#pragma once

#include <Eigen/Core>
#include <vector>

#include "totebench/materials/library.hpp"

namespace totebench::materials {

enum class Join {
  kFused,         // bonded over its whole face to the ply listed before it
  kStitchedGrid,  // quilted to it at Ply::grid_pitch_m
  kSewnAtEdges,   // caught in the seams only
  kLoose          // not attached: mass only
};

// Which slope of a cloth's tension curve: the initial one (crimp being pulled straight), right for
// service loads, or the later one once crimp_strain is used up.
enum class MembraneRange { kInitial, kPostCrimp };

struct Ply {
  const Material* material = nullptr;  // must outlive the call
  double thickness_m = 0;              // 0 = the material's own
  double warp_angle_rad = 0;           // of the ply's warp from axis 1, towards axis 2
  Join join = Join::kFused;            // to the ply before it; ignored for the first
  double grid_pitch_m = 0;             // kStitchedGrid: distance of quilting lines
};

// One ply about its own mid-surface, in the panel's axes.
struct PlySection {
  Eigen::Matrix3d A = Eigen::Matrix3d::Zero();  // N/m
  Eigen::Matrix3d D = Eigen::Matrix3d::Zero();  // N m
  double thickness_m = 0;
  double areal_mass_kg_per_m2 = 0;
  [[nodiscard]] double solidity() const;  // phi above, 0..1
};

struct StackSection {
  Eigen::Matrix3d A = Eigen::Matrix3d::Zero();  // N/m
  Eigen::Matrix3d B = Eigen::Matrix3d::Zero();  // N
  Eigen::Matrix3d D = Eigen::Matrix3d::Zero();  // N m, about the reference surface
  double areal_mass_kg_per_m2 = 0;
  double thickness_m = 0;        // of all plies, loose ones too
  double reference_depth_m = 0;  // of the reference surface below the outer face
  // D - B A^-1 B: bending rigidity with the membrane free, what a strip test measures.
  [[nodiscard]] Eigen::Matrix3d free_bending_rigidity() const;
};

// Reduced stiffness per unit width of an orthotropic sheet from what strip tests measure: stiffness
// (or rigidity) along warp k1 and weft k2, in shear k12, and nu = sqrt(nu12 nu21). The two ratios
// follow from symmetry, nu12 k2 = nu21 k1, so the matrix is positive definite for |nu| < 1.
// Throws std::invalid_argument unless k1, k2, k12 > 0 and |nu| < 1.
[[nodiscard]] Eigen::Matrix3d orthotropic_stiffness(double k1, double k2, double k12, double nu);

// The same from engineering constants with nu12 (strain 2 from stress 1). Throws unless
// e1, e2, g12 > 0 and nu12^2 < e1 / e2.
[[nodiscard]] Eigen::Matrix3d engineering_stiffness(double e1, double e2, double g12, double nu12);

// Turns a stiffness in ply axes into the panel's axes (Voigt, engineering shear).
[[nodiscard]] Eigen::Matrix3d rotated(const Eigen::Matrix3d& stiffness, double warp_angle_rad);

// A solid ply from its plane-stress stiffness Q (Pa): A = Q t, D = Q t^3 / 12.
[[nodiscard]] PlySection solid_ply(const Eigen::Matrix3d& Q_Pa, double thickness_m,
                                   double areal_mass_kg_per_m2);
[[nodiscard]] PlySection isotropic_ply(double youngs_modulus_Pa, double poisson_ratio,
                                       double thickness_m, double areal_mass_kg_per_m2);

// A library material as a ply. Solid goods (those with a youngs_modulus) scale with the thickness;
// for cloth, nonwovens and foam a given thickness only moves the plies apart, since their measured
// stiffness, rigidity and mass belong to the goods themselves. Twisting rigidity was not measured:
// D12 + 2 D66 = sqrt(D11 D22) (Huber; Timoshenko and Woinowsky-Krieger, 2nd ed., art. 86).
// Throws std::invalid_argument naming the material and the property that is missing.
[[nodiscard]] PlySection ply_section(const Material& material, double thickness_m = 0,
                                     double warp_angle_rad = 0,
                                     MembraneRange range = MembraneRange::kInitial);

// The whole stack. Throws std::invalid_argument for an empty stack, a missing material or property,
// or a quilted joint without a pitch.
[[nodiscard]] StackSection stack_section(const MaterialLibrary& library,
                                         const std::vector<Ply>& plies,
                                         MembraneRange range = MembraneRange::kInitial);

// The share eta of the joint between two plies, from below.join. For reports and tests.
// Throws std::invalid_argument unless that is kFused or kStitchedGrid.
[[nodiscard]] double bond_efficiency(const MaterialLibrary& library, const Ply& above,
                                     const Ply& below);

// Adds n further copies of a ply stack that slide (seam allowances, a turned hem), as a group sewn
// in at its edges does.
void add_sliding_plies(StackSection& section, const StackSection& extra, double n);

// Secant membrane stiffness (N/m) of a cloth at a line force (N/m) on the two-slope tension curve:
// initial slope up to the crimp strain, post-crimp slope beyond. Without post-crimp data the
// initial stiffness.
[[nodiscard]] double secant_stiffness(const Material& material, bool warp, double force_N_per_m);

// Strength per width along warp and weft of the panel, cloth plies only, weakest first: plies
// stretch together, and the stack counts as failed when the cloth ply with the least break strain
// parts. Ply i then carries T_i min(1, eps_least / eps_i). Interfacing, stabilizer, batting and
// loose plies are not counted: they are not made, or not caught in the seams, to carry tension.
// Off its axes a cloth's strength is T1 T2 / (T1 sin^2 + T2 cos^2) (Hankinson's formula). A ply
// without a known break strain counts for nothing beside plies that have one.
struct StackStrength {
  Quantity warp;  // N/m; value 0 when no cloth ply has a known strength
  Quantity weft;
  std::string weakest_warp;  // id of the ply that parts first
  std::string weakest_weft;
};
[[nodiscard]] StackStrength stack_strength(const std::vector<Ply>& plies);

// Section of a strap: one ply of webbing or leather, or cloth folded to `plies`. Folded cloth is
// top-stitched along both edges, so its plies count as quilted with the strap's width as pitch.
// Axis 1 runs along the strap (its warp). Throws std::invalid_argument.
struct StrapSection {
  StackSection section;
  double axial_stiffness_N = 0;      // EA of the whole strap
  double bending_rigidity_N_m2 = 0;  // of the whole strap, edges free
  double mass_per_length_kg_per_m = 0;
};
[[nodiscard]] StrapSection strap_section(const MaterialLibrary& library, const Material& material,
                                         double width_m, int plies = 1, double thickness_m = 0);

}  // namespace totebench::materials
