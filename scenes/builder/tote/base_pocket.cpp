#include "scenes/builder/tote/base_pocket.hpp"

#include <cmath>
#include <stdexcept>
#include <vector>

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

constexpr double kNearBorder = 0.98;  // where the border holds the sheet, of the way to its edge

solver::SurfacePoint on_sheet(const ToteMesh& tote, const Vector2d& uv) {
  const auto found = tote.locate(ToteSurface::Kind::kBaseSheet, -1, uv);
  if (!found) throw std::logic_error("the base sheet has a hole");
  return *found;
}

solver::SurfacePoint on_base(const ToteMesh& tote, const Vector2d& uv) {
  const auto found = tote.locate(ToteSurface::Kind::kBase, -1, uv);
  if (!found) throw std::logic_error("the base sheet reaches beyond the base");
  return *found;
}

}  // namespace

void add_pocket_ties(const ToteMesh& tote, const BaseOutline& sheet, double clearance_m,
                     double gap_m, double weight_N, solver::Model& model) {
  double area = 0;
  for (int i = 0; i < tote.mesh.n_triangles(); ++i) {
    if (tote.mesh.triangles[i].region == kRegionBaseSheet) area += solver::rest_area(tote.mesh, i);
  }
  const double stiffness_per_area = weight_N / area / kPocketMeanGap_m;
  constexpr double kPoint[3][2] = {{1. / 6, 1. / 6}, {2. / 3, 1. / 6}, {1. / 6, 2. / 3}};
  for (int i = 0; i < tote.mesh.n_triangles(); ++i) {
    if (tote.mesh.triangles[i].region != kRegionBaseSheet) continue;
    const double third = solver::rest_area(tote.mesh, i) / 3;
    for (const auto& p : kPoint) {
      solver::NormalTie tie;
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
    solver::WeakSpring spring;
    spring.a = on_sheet(tote, uv);
    spring.b = on_base(tote, uv);
    spring.stiffness_N_per_m = kPocketSlideShare_per_m * weight_N / 4;
    model.weak_springs.push_back(spring);
  }
  // Corners and middles of sides, within the rounding of the corners.
  const Vector2d corner(kNearBorder * (sheet.half_width_m - sheet.corner_radius_m),
                        kNearBorder * (sheet.half_depth_m - sheet.corner_radius_m));
  std::vector<Vector2d> stops;
  for (const double s : {-1.0, 1.0}) {
    stops.emplace_back(s * kNearBorder * sheet.half_width_m, 0);
    stops.emplace_back(0, s * kNearBorder * sheet.half_depth_m);
    for (const double t : {-1.0, 1.0}) stops.emplace_back(s * corner.x(), t * corner.y());
  }
  for (const Vector2d& uv : stops) {
    solver::Tether tether{on_sheet(tote, uv), on_base(tote, uv)};
    // Half of its stiffness times the soft part is the force at the end of that.
    tether.stiffness_N_per_m =
        2 * weight_N / kPocketBorderGive_m / static_cast<double>(stops.size());
    tether.slack_m = std::hypot(clearance_m, gap_m);
    tether.soften_m = kPocketBorderGive_m;
    model.tethers.push_back(tether);
  }
}

}  // namespace totebench::scenes
