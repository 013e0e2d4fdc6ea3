#include "totebench/scenes/base_stress.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

#include "scenes/findings/rest_axes.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Matrix2d;
using Eigen::Vector2d;
using Eigen::Vector3d;

// What one triangle's part of the sheet carries, in the plane it was cut in.
struct Share {
  Vector2d centre = Vector2d::Zero();
  double area_m2 = 0;
  Matrix2d bending = Matrix2d::Zero();  // at the face the normal points to, Pa
  Matrix2d stretching = Matrix2d::Zero();
};

// A tensor (11, 22, 12) of a triangle's own axes in those of its rest plane.
Matrix2d in_rest_plane(const solver::ShellMesh& mesh, int triangle, const Vector3d& tensor) {
  const Matrix2d axes = rest_axes(mesh, triangle).topRows<2>();
  Matrix2d own;
  own << tensor[0], tensor[2], tensor[2], tensor[1];
  return axes * own * axes.transpose();
}

double largest_size(const Matrix2d& s) {  // of the principal values
  return std::abs(0.5 * s.trace()) + std::hypot(0.5 * (s(0, 0) - s(1, 1)), s(0, 1));
}

std::vector<Share> shares_of(const Scene& scene, const Tote& tote,
                             const solver::ShellFields& fields) {
  const solver::ShellMesh& mesh = tote.model.mesh;
  const double t = tote.base_sheet_thickness_m;
  const bool in_pocket = scene.base.kind == BaseKind::kPocket;
  std::vector<Share> shares;
  for (int i = 0; i < mesh.n_triangles(); ++i) {
    if (mesh.triangles[i].region != (in_pocket ? kRegionBaseSheet : kRegionBase)) continue;
    const double share = in_pocket ? 1 : tote.sheet_share[i];
    if (!(share > 0)) continue;
    Share part;
    part.centre = mesh.rest[i].leftCols<3>().rowwise().mean().head<2>();
    part.area_m2 = share * solver::rest_area(mesh, i);
    const Vector3d moment = in_pocket
                                ? Vector3d(fields.bending_moment[i].rowwise().mean())
                                : Vector3d(tote.sheet_D * fields.curvature[i].rowwise().mean());
    const Vector3d force =
        in_pocket ? Vector3d(fields.membrane_force[i].rowwise().mean())
                  : Vector3d(tote.sheet_A * fields.membrane_strain[i].rowwise().mean());
    part.bending = in_rest_plane(mesh, i, 6 / (t * t) * moment);
    part.stretching = in_rest_plane(mesh, i, force / t);
    shares.push_back(part);
  }
  return shares;
}

}  // namespace

double base_sheet_stress(const Scene& scene, const Tote& tote, const solver::ShellFields& fields,
                         SheetStress of) {
  if (scene.base.kind == BaseKind::kNone || !(tote.base_sheet_thickness_m > 0)) return 0;
  const std::vector<Share> shares = shares_of(scene, tote, fields);
  double peak = 0;
  for (const Share& middle : shares) {
    double area = 0;
    Matrix2d bending = Matrix2d::Zero();
    Matrix2d stretching = Matrix2d::Zero();
    for (const Share& near : shares) {
      if ((near.centre - middle.centre).norm() > 0.5 * kSeamWidth_m) continue;
      area += near.area_m2;
      bending += near.area_m2 * near.bending;
      stretching += near.area_m2 * near.stretching;
    }
    if (of == SheetStress::kBending) stretching.setZero();
    for (const double face : {1.0, -1.0}) {
      peak = std::max(peak, largest_size((face * bending + stretching) / area));
    }
  }
  return peak;
}

}  // namespace totebench::scenes
