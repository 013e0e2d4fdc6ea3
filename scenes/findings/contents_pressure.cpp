#include "totebench/scenes/contents_pressure.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace totebench::scenes {
namespace {

constexpr double kCorner[3][2] = {{0, 0}, {1, 0}, {0, 1}};

}  // namespace

std::vector<std::array<double, 3>> contents_pressure(const Tote& tote, const solver::State& state,
                                                     double load_factor) {
  const solver::Model& model = tote.model;
  const solver::ShellMesh& mesh = model.mesh;
  std::vector<std::array<double, 3>> pressure(mesh.triangles.size(), {0, 0, 0});
  // `at(z, n_z)` is the pressure at a height on a surface whose normal has that upward part.
  const auto press_on = [&](int t, const std::function<double(double, double)>& at) {
    for (std::size_t c = 0; c < 3; ++c) {
      const solver::SurfacePoint corner{t, kCorner[c][0], kCorner[c][1]};
      pressure[t][c] = at(solver::position_of(mesh, state.x, corner).z(),
                          solver::normal_of(mesh, state.x, corner).z());
    }
  };
  if (model.fill.active()) {
    const double level = solver::fill_level(model, state, load_factor);
    const double gamma = model.fill.bulk_density_kg_per_m3 * model.gravity_m_per_s2;
    const double K = model.fill.lateral_ratio_K;
    for (const int t : model.fill.triangles) {
      press_on(t, [&](double z, double n_z) {
        return gamma * std::max(0.0, level - z) * (K + (1 - K) * n_z * n_z);
      });
    }
    return pressure;
  }
  double area = 0;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    if (mesh.triangles[t].region == kRegionBase) area += solver::rest_area(mesh, t);
  }
  if (model.payload_force_N.cols() == 0 || area == 0) return pressure;
  const double even = -load_factor * model.payload_force_N.row(2).sum() / area;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    if (mesh.triangles[t].region != kRegionBase) continue;
    press_on(t, [&](double /*z*/, double n_z) { return even * std::abs(n_z); });
  }
  return pressure;
}

}  // namespace totebench::scenes
