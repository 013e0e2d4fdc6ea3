#include "scenes/builder/tote/tote_table.hpp"

#include <algorithm>

#include "scenes/builder/tote/tote_contact.hpp"
#include "scenes/builder/tote/tote_sections.hpp"
#include "totebench/solver/body.hpp"

namespace totebench::scenes {
namespace {

constexpr double kBoard_m = 0.02;

void add_fixed(solver::Body body, const Eigen::Vector3d& middle, solver::Model& model) {
  body.start.position = middle;
  body.fixed = true;
  body.friction = kTableFriction;
  body.group = kTableGroup;
  model.bodies.push_back(std::move(body));
}

}  // namespace

void put_on_table(const Scene& scene, const ToteMesh& mesh, Tote& tote) {
  const Eigen::Matrix3Xd& start = mesh.mesh.position;
  double thickest = 0;
  Eigen::AlignedBox3d cloth;
  for (int t = 0; t < mesh.mesh.n_triangles(); ++t) {
    if (!is_panel(mesh.mesh.triangles[t].region)) continue;
    thickest = std::max(thickest, tote.thickness_m[t]);
    for (const int node : mesh.mesh.triangles[t].node) cloth.extend(start.col(node));
  }
  const double under = cloth.min().z() - thickest;
  const std::vector<Eigen::Vector2d> feet = foot_places(scene);
  const double foot = feet.empty() ? 0 : scene.feet.height_m;
  const double beyond = scene.bag.height_m;
  const Eigen::Vector3d size(cloth.sizes().x() + 2 * beyond, cloth.sizes().y() + 2 * beyond,
                             kBoard_m);
  tote.table_m = under - foot;
  Eigen::Vector3d middle = cloth.center();
  middle.z() = *tote.table_m - kBoard_m / 2;
  add_fixed(solver::box_body(size, 0), middle, tote.model);
  if (foot == 0) return;
  for (const Eigen::Vector2d& place : feet) {
    const auto at = mesh.locate(ToteSurface::Kind::kBase, -1, place);
    Eigen::Vector3d on = solver::position_of(mesh.mesh, start, at.value());
    on.z() = under - foot / 2;
    add_fixed(solver::cylinder_body(kFootDiameter_m, foot, 0), on, tote.model);
  }
}

}  // namespace totebench::scenes
