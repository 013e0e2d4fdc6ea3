#include "scenes/base_pocket.hpp"

#include <stdexcept>

namespace totebench {
namespace {

using Eigen::Vector2d;

SurfacePoint on_base(const ToteMesh& tote, const Vector2d& uv) {
  const auto found = tote.locate(ToteSurface::Kind::kBase, -1, uv);
  if (!found) throw std::logic_error("the base sheet reaches beyond the base");
  return *found;
}

}  // namespace

void add_pocket_ties(const ToteMesh& tote, const BaseOutline& sheet, double gap_m, double weight_N,
                     Model& model) {
  double area = 0;
  for (int i = 0; i < tote.mesh.n_triangles(); ++i) {
    if (tote.mesh.triangles[i].region == kRegionBaseSheet) area += rest_area(tote.mesh, i);
  }
  const double stiffness_per_area = weight_N / area / kPocketMeanGap_m;
  constexpr double kPoint[3][2] = {{1. / 6, 1. / 6}, {2. / 3, 1. / 6}, {1. / 6, 2. / 3}};
  for (int i = 0; i < tote.mesh.n_triangles(); ++i) {
    if (tote.mesh.triangles[i].region != kRegionBaseSheet) continue;
    const double third = rest_area(tote.mesh, i) / 3;
    for (const auto& p : kPoint) {
      NormalTie tie;
      tie.slave = {i, p[0], p[1]};
      const Vector2d uv = (1 - p[0] - p[1]) * tote.rest_corner(i, 0) +
                          p[0] * tote.rest_corner(i, 1) + p[1] * tote.rest_corner(i, 2);
      tie.master = on_base(tote, uv);
      tie.stiffness_N_per_m = stiffness_per_area * third;
      tie.gap_m = -gap_m;  // the base's normal points down, out of the bag
      model.normal_ties.push_back(tie);
    }
  }
  const double u = sheet.half_width_m / 2;
  const double v = sheet.half_depth_m / 2;
  for (const Vector2d& uv : {Vector2d(u, v), Vector2d(-u, v), Vector2d(-u, -v), Vector2d(u, -v)}) {
    WeakSpring spring;
    const auto found = tote.locate(ToteSurface::Kind::kBaseSheet, -1, uv);
    if (!found) throw std::logic_error("the base sheet has a hole");
    spring.a = *found;
    spring.b = on_base(tote, uv);
    spring.stiffness_N_per_m = kPocketSlideShare_per_m * weight_N / 4;
    model.weak_springs.push_back(spring);
  }
}

}  // namespace totebench
