#include "scenes/builder/tote/tote_contents.hpp"

#include <cmath>
#include <vector>

#include "totebench/scenes/build.hpp"

namespace totebench::scenes {
namespace {

// A triangle that the edge of a load crosses is loaded where it lies under it, seen in so many
// parts a side.
constexpr int kParts = 8;

// Extents of the base as it starts, seen from above.
Eigen::AlignedBox2d extent_of(const solver::ShellMesh& mesh, const std::vector<int>& base) {
  Eigen::AlignedBox2d box;
  for (const int t : base) {
    for (const int node : mesh.triangles[t].node) box.extend(mesh.position.col(node).head<2>());
  }
  return box;
}

// Does an even load lie over this point of the base?
bool lies_over(ContentsPlace place, const Eigen::AlignedBox2d& base, const Eigen::Vector2d& point) {
  const Eigen::Vector2d off = point - base.center();
  switch (place) {
    case ContentsPlace::kAllOver:
      return true;
    case ContentsPlace::kMiddle:
      return (off.cwiseAbs() - base.sizes() / 4).maxCoeff() <= 0;
    case ContentsPlace::kOneEnd:
      return off.x() >= 0;
  }
  return true;
}

// Consistent forces of a downward load spread evenly over a part of the base, `weight_N` in all:
// each triangle's integral by the middles of its parts.
Eigen::Matrix3Xd load_on_part(const solver::ShellMesh& mesh, const std::vector<int>& base,
                              ContentsPlace place, double weight_N) {
  const Eigen::AlignedBox2d box = extent_of(mesh, base);
  Eigen::VectorXd share = Eigen::VectorXd::Zero(mesh.n_nodes());
  for (const int t : base) {
    const solver::Triangle& triangle = mesh.triangles[t];
    const double area = solver::rest_area(mesh, t) / (kParts * kParts);
    for (int i = 0; i < kParts; ++i) {
      // Upright and inverted parts of a row.
      for (int j = 0; j < 2 * (kParts - i) - 1; ++j) {
        const double third = j % 2 == 0 ? 1.0 / 3 : 2.0 / 3;
        const double xi = (j / 2 + third) / kParts;
        const double eta = (i + third) / kParts;
        const Eigen::Matrix<double, 6, 1> n = solver::shape(xi, eta);
        Eigen::Vector2d at = Eigen::Vector2d::Zero();
        for (int k = 0; k < 6; ++k) at += n[k] * mesh.position.col(triangle.node[k]).head<2>();
        if (!lies_over(place, box, at)) continue;
        for (int k = 0; k < 6; ++k) share[triangle.node[k]] += n[k] * area;
      }
    }
  }
  Eigen::Matrix3Xd force = Eigen::Matrix3Xd::Zero(3, mesh.n_nodes());
  force.row(2) = -weight_N / share.sum() * share.transpose();
  return force;
}

}  // namespace

void add_contents(const Scene& scene, solver::Model& model) {
  const Contents& contents = scene.contents;
  std::vector<int> base;
  std::vector<int> body;
  double base_area = 0;
  for (int i = 0; i < model.mesh.n_triangles(); ++i) {
    const int region = model.mesh.triangles[i].region;
    if (region == kRegionBase) {
      base.push_back(i);
      base_area += solver::rest_area(model.mesh, i);
    }
    if (is_panel(region)) body.push_back(i);
  }
  const double weight_N = contents.mass_kg * model.gravity_m_per_s2;
  if (contents.kind == ContentsKind::kLoose) {
    model.fill.mass_kg = contents.mass_kg;
    model.fill.bulk_density_kg_per_m3 = contents.bulk_density_kg_per_m3;
    model.fill.lateral_ratio_K = 1 - std::sin(contents.friction_angle_rad);
    model.fill.triangles = body;
  } else if (contents.place == ContentsPlace::kAllOver) {
    model.payload_force_N = solver::area_load(model.mesh, base, {0, 0, -weight_N / base_area});
  } else {
    model.payload_force_N = load_on_part(model.mesh, base, contents.place, weight_N);
  }
}

}  // namespace totebench::scenes
