#include "totebench/materials/stack.hpp"

#include <fmt/format.h>

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace totebench::materials {
namespace {

using Eigen::Matrix3d;

// B A^-1 B, kept symmetric. A is positive definite.
Matrix3d through_membrane(const Matrix3d& A, const Matrix3d& B) {
  const Matrix3d product = B.transpose() * A.ldlt().solve(B);
  return 0.5 * (product + product.transpose());
}

// Plies bonded into one, with z measured from the outer face of the whole stack.
struct Pile {
  Matrix3d A = Matrix3d::Zero();
  Matrix3d B = Matrix3d::Zero();       // about the outer face
  Matrix3d D_free = Matrix3d::Zero();  // about its own neutral surface
  double areal_mass = 0;
  double thickness = 0;
};

Pile pile_of(const PlySection& ply, double mid_z) {
  return {ply.A, ply.A * mid_z, ply.D, ply.areal_mass_kg_per_m2, ply.thickness_m};
}

// S of the header: what full bonding of two piles adds to the bending rigidity of both.
Matrix3d bonded_gain(const Pile& a, const Pile& b) {
  return through_membrane(a.A, a.B) + through_membrane(b.A, b.B) -
         through_membrane(a.A + b.A, a.B + b.B);
}

Pile bonded(const Pile& a, const Pile& b, double eta) {
  Pile sum;
  sum.D_free = a.D_free + b.D_free + eta * bonded_gain(a, b);
  sum.A = a.A + b.A;
  sum.B = a.B + b.B;
  sum.areal_mass = a.areal_mass + b.areal_mass;
  sum.thickness = a.thickness + b.thickness;
  return sum;
}

double diagonal_sum(const Matrix3d& D) { return D(0, 0) + D(1, 1); }

// Ratio r of a cloth and a fusible met face to face, or 0 when the ratio rule does not apply: it
// is known for cloth only, not for an interfacing on another stiff sheet.
double fused_ratio(const Material& a, const Material& b) {
  const Quantity* ratio = nullptr;
  if (a.category == "fabric" && b.category != "fabric") ratio = b.find("fused_bending_ratio");
  if (b.category == "fabric" && a.category != "fabric") ratio = a.find("fused_bending_ratio");
  return ratio ? ratio->value : 0;
}

double joint_efficiency(const MaterialLibrary& library, const Ply& above, const PlySection& a,
                        const Ply& below, const PlySection& b) {
  const double solidity = std::sqrt(a.solidity() * b.solidity());
  if (below.join == Join::kStitchedGrid) {
    if (!(below.grid_pitch_m > 0)) {
      throw std::invalid_argument(
          fmt::format("\"{}\" is quilted to the ply above it, but the quilting pitch is missing",
                      below.material->id));
    }
    return solidity / (1.0 + below.grid_pitch_m / library.rule("grid_slip_length").value);
  }
  const double ratio = fused_ratio(*above.material, *below.material);
  if (ratio <= 0) return solidity;
  const double distance = 0.5 * (a.thickness_m + b.thickness_m);
  const double gain = diagonal_sum(bonded_gain(pile_of(a, 0), pile_of(b, -distance)));
  const double wanted = (ratio - 1.0) * diagonal_sum(a.D + b.D);
  return gain > 0 ? std::clamp(wanted / gain, 0.0, 1.0) : 1.0;
}

// One ply of a stack at its place.
struct PlacedPly {
  const Ply* ply = nullptr;
  PlySection section;
  double mid_z = 0;
};

bool bonds(Join join) { return join == Join::kFused || join == Join::kStitchedGrid; }

// Plies first..last-1 hang together by fused and quilted joints: fuse what is fused, then quilt.
Pile bond_group(const MaterialLibrary& library, const std::vector<PlacedPly>& plies,
                std::size_t first, std::size_t last) {
  const auto efficiency = [&](std::size_t below) {
    return joint_efficiency(library, *plies[below - 1].ply, plies[below - 1].section,
                            *plies[below].ply, plies[below].section);
  };
  std::vector<Pile> fused;
  std::vector<double> quilting;  // eta of the joint above each pile
  for (std::size_t i = first; i < last; ++i) {
    const Pile single = pile_of(plies[i].section, plies[i].mid_z);
    if (i > first && plies[i].ply->join == Join::kFused) {
      fused.back() = bonded(fused.back(), single, efficiency(i));
    } else {
      fused.push_back(single);
      quilting.push_back(i > first ? efficiency(i) : 0.0);
    }
  }
  Pile whole = fused.front();
  for (std::size_t i = 1; i < fused.size(); ++i) whole = bonded(whole, fused[i], quilting[i]);
  return whole;
}

std::vector<PlacedPly> place(const std::vector<Ply>& plies, MembraneRange range) {
  std::vector<PlacedPly> placed;
  double depth = 0;
  for (const Ply& ply : plies) {
    if (!ply.material) throw std::invalid_argument("a ply has no material");
    PlacedPly p;
    p.ply = &ply;
    p.section = ply_section(*ply.material, ply.thickness_m, ply.warp_angle_rad, range);
    p.mid_z = -(depth + 0.5 * p.section.thickness_m);
    depth += p.section.thickness_m;
    placed.push_back(p);
  }
  return placed;
}

// Height of the neutral surface above the reference surface, one number for both directions.
double neutral_offset(const StackSection& section) {
  return diagonal_sum(section.B) / diagonal_sum(section.A);
}

// A sliding sheet has no height of its own: it stretches with the neutral surface of what is there
// already, since at any other height its membrane would hinder the bending it slides freely in.
// Where the neutral surfaces of warp and weft differ, D is set so that the rigidities still add.
void add_sliding(StackSection& section, const Matrix3d& A, const Matrix3d& D_free) {
  const Matrix3d together = section.free_bending_rigidity() + D_free;
  section.B += neutral_offset(section) * A;
  section.A += A;
  section.D = together + through_membrane(section.A, section.B);
}

}  // namespace

Matrix3d StackSection::free_bending_rigidity() const { return D - through_membrane(A, B); }

double bond_efficiency(const MaterialLibrary& library, const Ply& above, const Ply& below) {
  if (!above.material || !below.material) throw std::invalid_argument("a ply has no material");
  if (!bonds(below.join)) {
    throw std::invalid_argument("only fused and quilted plies have a bond efficiency");
  }
  const std::vector<PlacedPly> pair = place({above, below}, MembraneRange::kInitial);
  return joint_efficiency(library, above, pair[0].section, below, pair[1].section);
}

StackSection stack_section(const MaterialLibrary& library, const std::vector<Ply>& plies,
                           MembraneRange range) {
  if (plies.empty()) throw std::invalid_argument("a stack needs at least one ply");
  const std::vector<PlacedPly> placed = place(plies, range);

  StackSection section;
  for (std::size_t first = 0; first < placed.size();) {
    std::size_t last = first + 1;
    while (last < placed.size() && bonds(placed[last].ply->join)) ++last;
    const Pile pile = bond_group(library, placed, first, last);

    if (first == 0) {
      section.reference_depth_m = 0.5 * pile.thickness;
      section.A = pile.A;
      section.B = pile.B + section.reference_depth_m * pile.A;  // from the outer face inwards
      section.D = pile.D_free + through_membrane(pile.A, section.B);
    } else if (placed[first].ply->join == Join::kSewnAtEdges) {
      add_sliding(section, pile.A, pile.D_free);
    }
    section.areal_mass_kg_per_m2 += pile.areal_mass;
    section.thickness_m += pile.thickness;
    first = last;
  }
  return section;
}

void add_sliding_plies(StackSection& section, const StackSection& extra, double n) {
  add_sliding(section, n * extra.A, n * extra.free_bending_rigidity());
  section.areal_mass_kg_per_m2 += n * extra.areal_mass_kg_per_m2;
  section.thickness_m += n * extra.thickness_m;
}

StrapSection strap_section(const MaterialLibrary& library, const Material& material, double width_m,
                           int plies, double thickness_m) {
  if (!(width_m > 0)) {
    throw std::invalid_argument(fmt::format("strap width {:g} m: must be above zero", width_m));
  }
  if (plies < 1) {
    throw std::invalid_argument(fmt::format("strap of {} plies: needs at least one", plies));
  }
  Ply ply;
  ply.material = &material;
  ply.thickness_m = thickness_m;
  ply.join = Join::kStitchedGrid;
  ply.grid_pitch_m = width_m;
  StrapSection strap;
  strap.section = stack_section(library, std::vector<Ply>(static_cast<std::size_t>(plies), ply));
  strap.axial_stiffness_N = width_m / strap.section.A.inverse()(0, 0);
  strap.bending_rigidity_N_m2 = width_m / strap.section.free_bending_rigidity().inverse()(0, 0);
  strap.mass_per_length_kg_per_m = width_m * strap.section.areal_mass_kg_per_m2;
  return strap;
}

}  // namespace totebench::materials
