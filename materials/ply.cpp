// Stiffness of one ply: from engineering constants, or from a library material.
#include <fmt/format.h>

#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "totebench/materials/stack.hpp"

namespace totebench::materials {
namespace {

using Eigen::Matrix3d;

// In-plane shear modulus (or twisting rigidity) of a sheet whose stiffness was only measured along
// its two axes. For the twisting rigidity of an orthotropic plate this is Huber's
// D12 + 2 D66 = sqrt(D11 D22); for an isotropic sheet it is exact.
double shear_from_axes(double k1, double k2, double nu) {
  return std::sqrt(k1 * k2) / (2.0 * (1.0 + nu));
}

double directional_value(const Material& m, const std::string& base, bool warp) {
  const Quantity* q = m.directional(base, warp);
  if (!q) {
    throw std::invalid_argument(
        fmt::format("material \"{}\" has no {} along the {}", m.id, base, warp ? "warp" : "weft"));
  }
  return q->value;
}

bool is_solid(const Material& m) {
  return m.directional("youngs_modulus", true) || m.has("youngs_modulus_md");
}

double youngs_modulus(const Material& m, bool along) {
  const Quantity* q = m.find(along ? "youngs_modulus_md" : "youngs_modulus_cd");
  return q ? q->value : directional_value(m, "youngs_modulus", along);
}

// Membrane stiffness (N/m) of cloth, nonwoven, foam or webbing.
double membrane_stiffness(const Material& m, bool warp, MembraneRange range) {
  const bool later = range == MembraneRange::kPostCrimp;
  if (warp && m.has("axial_stiffness_EA")) {
    const Quantity* ea = later ? m.find("axial_stiffness_EA_postcrimp") : nullptr;
    return (ea ? *ea : m.get("axial_stiffness_EA")).value / m.get("width").value;
  }
  if (later) {
    if (const Quantity* q = m.directional("tensile_stiffness_postcrimp", warp)) return q->value;
  }
  return directional_value(m, "tensile_stiffness_initial", warp);
}

double areal_mass(const Material& m, double thickness_m) {
  if (const Quantity* q = m.find("areal_mass")) return q->value;
  if (const Quantity* q = m.find("density")) return q->value * thickness_m;
  throw std::invalid_argument(
      fmt::format("material \"{}\" has neither areal_mass nor density", m.id));
}

}  // namespace

Matrix3d orthotropic_stiffness(double k1, double k2, double k12, double nu) {
  if (!(k1 > 0 && k2 > 0 && k12 > 0)) {
    throw std::invalid_argument(fmt::format(
        "stiffness of a sheet must be above zero (warp {:g}, weft {:g}, shear {:g})", k1, k2, k12));
  }
  if (!(std::abs(nu) < 1)) {
    throw std::invalid_argument(
        fmt::format("Poisson ratio {:g}: a sheet is only stable between -1 and 1", nu));
  }
  const double c = 1.0 / (1.0 - nu * nu);
  const double coupling = c * nu * std::sqrt(k1 * k2);
  Matrix3d q = Matrix3d::Zero();
  q << c * k1, coupling, 0, coupling, c * k2, 0, 0, 0, k12;
  return q;
}

Matrix3d engineering_stiffness(double e1, double e2, double g12, double nu12) {
  if (!(e1 > 0 && e2 > 0)) return orthotropic_stiffness(e1, e2, g12, nu12);  // says what is wrong
  return orthotropic_stiffness(e1, e2, g12, nu12 * std::sqrt(e2 / e1));
}

Matrix3d rotated(const Matrix3d& stiffness, double warp_angle_rad) {
  const double c = std::cos(warp_angle_rad), s = std::sin(warp_angle_rad);
  // Strain in ply axes from strain in panel axes, (e11, e22, 2 e12).
  Matrix3d r;
  r << c * c, s * s, c * s, s * s, c * c, -c * s, -2 * c * s, 2 * c * s, c * c - s * s;
  const Matrix3d turned = r.transpose() * stiffness * r;
  return 0.5 * (turned + turned.transpose());
}

double PlySection::solidity() const {
  const double solid = (A(0, 0) + A(1, 1)) * thickness_m * thickness_m / 12.0;
  return solid > 0 ? std::min(1.0, (D(0, 0) + D(1, 1)) / solid) : 1.0;
}

PlySection solid_ply(const Matrix3d& Q_Pa, double thickness_m, double areal_mass_kg_per_m2) {
  if (!(thickness_m > 0)) {
    throw std::invalid_argument(fmt::format("thickness {:g} m of a ply", thickness_m));
  }
  PlySection ply;
  ply.A = Q_Pa * thickness_m;
  ply.D = Q_Pa * (thickness_m * thickness_m * thickness_m / 12.0);
  ply.thickness_m = thickness_m;
  ply.areal_mass_kg_per_m2 = areal_mass_kg_per_m2;
  return ply;
}

PlySection isotropic_ply(double youngs_modulus_Pa, double poisson_ratio, double thickness_m,
                         double areal_mass_kg_per_m2) {
  return solid_ply(
      orthotropic_stiffness(youngs_modulus_Pa, youngs_modulus_Pa,
                            youngs_modulus_Pa / (2.0 * (1.0 + poisson_ratio)), poisson_ratio),
      thickness_m, areal_mass_kg_per_m2);
}

PlySection ply_section(const Material& m, double thickness_m, double warp_angle_rad,
                       MembraneRange range) {
  const double t = thickness_m > 0 ? thickness_m : m.get("thickness").value;
  const double nu = m.get("poisson_ratio").value;
  const double mass = areal_mass(m, t);
  PlySection ply;
  if (is_solid(m)) {
    const double e1 = youngs_modulus(m, true), e2 = youngs_modulus(m, false);
    const Quantity* g = m.find("shear_modulus");
    const double g12 = g ? g->value : shear_from_axes(e1, e2, nu);
    ply = solid_ply(orthotropic_stiffness(e1, e2, g12, nu), t, mass);
  } else {
    const double b1 = directional_value(m, "bending_rigidity", true);
    const double b2 = directional_value(m, "bending_rigidity", false);
    ply.A = orthotropic_stiffness(membrane_stiffness(m, true, range),
                                  membrane_stiffness(m, false, range),
                                  m.get("shear_stiffness").value, nu);
    ply.D = orthotropic_stiffness(b1, b2, shear_from_axes(b1, b2, nu), nu);
    ply.thickness_m = t;
    ply.areal_mass_kg_per_m2 = mass;
  }
  ply.A = rotated(ply.A, warp_angle_rad);
  ply.D = rotated(ply.D, warp_angle_rad);
  return ply;
}

double secant_stiffness(const Material& m, bool warp, double force_N_per_m) {
  const double initial = is_solid(m) ? youngs_modulus(m, warp) * m.get("thickness").value
                                     : membrane_stiffness(m, warp, MembraneRange::kInitial);
  const Quantity* crimp = m.directional("crimp_strain", warp);
  if (!crimp || is_solid(m)) return initial;
  const double later = membrane_stiffness(m, warp, MembraneRange::kPostCrimp);
  const double at_crimp = initial * crimp->value;
  if (force_N_per_m <= at_crimp) return initial;
  return force_N_per_m / (crimp->value + (force_N_per_m - at_crimp) / later);
}

}  // namespace totebench::materials
