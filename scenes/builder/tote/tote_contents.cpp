#include "scenes/builder/tote/tote_contents.hpp"

#include <cmath>
#include <vector>

#include "scenes/builder/tote/tote_contact.hpp"
#include "totebench/scenes/build.hpp"
#include "totebench/scenes/packing.hpp"
#include "totebench/solver/body.hpp"

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

namespace {

// As it is packed: of a cylinder that lies, the axis along the longest side of its box.
solver::Body body_of(const Item& item, const PackedItem& packed) {
  const Eigen::Vector3d extent = packed.high - packed.low;
  solver::Body body;
  switch (item.shape) {
    case ItemShape::kBox:
      body = solver::box_body(extent, item.mass_kg);
      break;
    case ItemShape::kSphere:
      body = solver::sphere_body(item.diameter_m, item.mass_kg);
      break;
    case ItemShape::kCylinder: {
      body = solver::cylinder_body(item.diameter_m, item.height_m, item.mass_kg);
      int axis = 0;
      (extent.array() - item.height_m).abs().minCoeff(&axis);
      body.start.rotation =
          Eigen::Quaterniond::FromTwoVectors(Eigen::Vector3d::UnitZ(), Eigen::Vector3d::Unit(axis));
      break;
    }
  }
  body.friction = item.friction;
  body.group = kThingsGroup;
  return body;
}

// On what lies highest in the base, clear of the cloth's thickness.
bool is_base(const solver::ShellMesh& mesh, int t) {
  return mesh.triangles[t].region == kRegionBase || mesh.triangles[t].region == kRegionBaseSheet;
}

Eigen::AlignedBox3d base_box(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& x) {
  Eigen::AlignedBox3d box;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    if (!is_base(mesh, t)) continue;
    for (const int node : mesh.triangles[t].node) box.extend(x.col(node));
  }
  return box;
}

void add_items(const Scene& scene, const std::vector<double>& thickness_m, solver::Model& model) {
  const Eigen::AlignedBox3d base = base_box(model.mesh, model.mesh.position);
  double thickest = 0;
  for (int t = 0; t < model.mesh.n_triangles(); ++t) {
    if (is_base(model.mesh, t))
      thickest = std::max(thickest, thickness_m[static_cast<std::size_t>(t)]);
  }
  Eigen::Vector3d middle = base.center();
  middle.z() = base.max().z() + thickest;
  for (const PackedItem& packed : pack_items(scene)) {
    solver::Body& body =
        model.bodies.emplace_back(body_of(scene.contents.items[packed.item], packed));
    body.start.position = middle + 0.5 * (packed.low + packed.high);
  }
}

}  // namespace

void add_contents(const Scene& scene, const std::vector<double>& thickness_m,
                  solver::Model& model) {
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
  if (contents.kind == ContentsKind::kItems) {
    add_items(scene, thickness_m, model);
  } else if (contents.kind == ContentsKind::kLoose) {
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

solver::State with_things_put_in(const Tote& tote, const solver::State& empty) {
  if (tote.model.bodies.empty()) return empty;
  const solver::ShellMesh& mesh = tote.model.mesh;
  const Eigen::AlignedBox3d start = base_box(mesh, mesh.position);
  const Eigen::AlignedBox3d hung = base_box(mesh, empty.x);
  Eigen::Vector3d shift = hung.center() - start.center();
  shift.z() = hung.max().z() - start.max().z();
  solver::State state = empty;
  state.bodies = solver::start_poses(tote.model);
  for (std::size_t b = 0; b < state.bodies.size(); ++b) {
    if (!tote.model.bodies[b].fixed) state.bodies[b].position += shift;
  }
  return solver::lies_in_itself(tote.model, state) ? solver::start_state(tote.model) : state;
}

}  // namespace totebench::scenes
