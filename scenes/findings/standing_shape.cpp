#include "totebench/scenes/standing_shape.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <tuple>
#include <utility>
#include <vector>

#include "scenes/builder/tote/tote_table.hpp"
#include "totebench/scenes/base_shape.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector3d;

// Cloth touches the table where its mid-surface is no further above it than its thickness and this.
constexpr double kTouching_m = 1e-3;

using Ends = std::pair<int, int>;  // nodes of an edge

// Where one of these edges runs through the middle of a wall: furthest out along `axis` to one side
// where the bag starts, and half-way along the other axis.
Vector3d in_middle_of(const std::vector<Ends>& edges, const Eigen::Matrix3Xd& start,
                      const Eigen::Matrix3Xd& x, int axis, double side) {
  Vector3d found = Vector3d::Zero();
  double furthest = 0;
  for (const auto& [from, to] : edges) {
    const Vector3d a = start.col(from), b = start.col(to);
    const double ua = a[1 - axis], ub = b[1 - axis];
    if (ua * ub > 0) continue;
    const double t = ua == ub ? 0.5 : ua / (ua - ub);
    const double out = side * ((1 - t) * a[axis] + t * b[axis]);
    if (out <= furthest) continue;
    furthest = out;
    found = (1 - t) * x.col(from) + t * x.col(to);
  }
  return found;
}

Eigen::AlignedBox2d footprint(const Tote& tote, const Eigen::Matrix3Xd& x) {
  Eigen::AlignedBox2d box;
  for (const solver::Body& body : tote.model.bodies) {
    if (!body.fixed || body.skin.round != solver::BodySkin::Round::kCylinder) continue;
    const Eigen::Vector2d middle = body.start.position.head<2>();
    box.extend(middle - Eigen::Vector2d::Constant(kFootDiameter_m / 2));
    box.extend(middle + Eigen::Vector2d::Constant(kFootDiameter_m / 2));
  }
  if (!box.isEmpty()) return box;
  const solver::ShellMesh& mesh = tote.model.mesh;
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    if (!is_panel(mesh.triangles[t].region)) continue;
    for (const int node : mesh.triangles[t].node) {
      if (x(2, node) - *tote.table_m < tote.thickness_m[t] + kTouching_m) {
        box.extend(x.col(node).head<2>());
      }
    }
  }
  return box;
}

// Of bag and contents; empty where loose contents are in it.
std::optional<Vector3d> centre_of_weight(const Tote& tote, const solver::State& state,
                                         double load_factor) {
  const solver::Model& model = tote.model;
  if (model.fill.active() && load_factor > 0) return std::nullopt;
  double weight = 0;
  Vector3d moment = Vector3d::Zero();
  const auto add = [&](const Eigen::Matrix3Xd& force, double factor) {
    for (Eigen::Index n = 0; n < force.cols(); ++n) {
      weight -= factor * force(2, n);
      moment -= factor * force(2, n) * state.x.col(n);
    }
  };
  add(model.permanent_force_N, 1);
  add(model.payload_force_N, load_factor);
  for (std::size_t b = 0; b < model.bodies.size(); ++b) {
    if (model.bodies[b].fixed) continue;
    const double its = load_factor * model.bodies[b].mass_kg * model.gravity_m_per_s2;
    weight += its;
    moment += its * state.bodies[b].position;
  }
  return moment / weight;
}

}  // namespace

StandingShape standing_shape(const Tote& tote, const solver::State& state, double load_factor) {
  const solver::ShellMesh& mesh = tote.model.mesh;
  const Eigen::Matrix3Xd& x = state.x;
  StandingShape shape;
  shape.rim_low_m = std::numeric_limits<double>::infinity();
  double length = 0;
  std::vector<Ends> opening, outline;
  for (const OutlineEdge& edge : base_outline(mesh)) outline.emplace_back(edge.a, edge.b);
  for (const solver::LabelledEdge& edge : mesh.labelled_edges) {
    if (edge.label != kEdgeOpening) continue;
    opening.emplace_back(edge.a, edge.b);
    const double a = x(2, edge.a) - *tote.table_m, b = x(2, edge.b) - *tote.table_m;
    const double its = (mesh.position.col(edge.a) - mesh.position.col(edge.b)).norm();
    shape.rim_low_m = std::min({shape.rim_low_m, a, b});
    shape.rim_m += its * (a + b) / 2;
    length += its;
  }
  shape.rim_m /= length;

  std::array<Vector3d, 4> rim;
  for (const auto& [wall, axis, side] :
       {std::tuple(kWallFront, 1, 1.0), std::tuple(kWallBack, 1, -1.0),
        std::tuple(kWallLeft, 0, 1.0), std::tuple(kWallRight, 0, -1.0)}) {
    rim[wall] = in_middle_of(opening, mesh.position, x, axis, side);
    const Vector3d up = rim[wall] - in_middle_of(outline, mesh.position, x, axis, side);
    shape.lean_rad[wall] = std::atan2(side * up[axis], up.z());
  }
  shape.mouth_m = (rim[kWallFront] - rim[kWallBack]).norm();

  const Eigen::AlignedBox2d foot = footprint(tote, x);
  if (foot.isEmpty()) return shape;
  shape.footprint_width_m = foot.sizes().x();
  shape.footprint_depth_m = foot.sizes().y();
  if (const auto centre = centre_of_weight(tote, state, load_factor)) {
    const Eigen::Vector2d at = centre->head<2>();
    const double nearest = std::min((at - foot.min()).minCoeff(), (foot.max() - at).minCoeff());
    shape.tips_at_rad = std::atan2(std::max(0.0, nearest), centre->z() - *tote.table_m);
  }
  return shape;
}

}  // namespace totebench::scenes
