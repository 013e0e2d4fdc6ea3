#include "totebench/viz/fields.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

#include "totebench/scenes/utilisation.hpp"

namespace totebench::viz {
namespace {

Eigen::Vector3d mean(const Eigen::Matrix3d& at_points) { return at_points.rowwise().mean(); }

template <class Value>
NamedArray cell_array(const std::string& name, int components, int count,
                      const std::vector<std::string>& component_names, const Value& value) {
  NamedArray array{name, Eigen::MatrixXd(components, count), component_names};
  for (int t = 0; t < count; ++t) array.values.col(t) = value(t);
  return array;
}

Eigen::Matrix<double, 1, 1> one(double value) { return Eigen::Matrix<double, 1, 1>(value); }

}  // namespace

Eigen::Matrix3d stitch_frame(const solver::ShellMesh& mesh, const Eigen::Matrix3Xd& x,
                             const solver::Stitch& stitch) {
  const Eigen::Vector3d out = solver::normal_of(mesh, x, stitch.b);
  // The strap's length runs along its warp; carried from the rest shape to the present one by the
  // gradient of its triangle.
  const int t = stitch.a.triangle;
  const auto gradient = solver::shape_gradient(stitch.a.xi, stitch.a.eta);
  const Eigen::Matrix<double, 3, 2> rest = mesh.rest[t] * gradient;
  Eigen::Matrix<double, 3, 2> now = Eigen::Matrix<double, 3, 2>::Zero();
  for (int i = 0; i < 6; ++i) now += x.col(mesh.triangles[t].node[i]) * gradient.row(i);
  const Eigen::Vector2d warp =
      (rest.transpose() * rest).ldlt().solve(rest.transpose() * mesh.warp[t]);
  Eigen::Vector3d along = now * warp;
  along -= along.dot(out) * out;
  along = along.norm() > 0 ? Eigen::Vector3d(along.normalized()) : out.unitOrthogonal();
  Eigen::Matrix3d frame;
  frame << along, out.cross(along), out;
  return frame;
}

Principal principal_of(const Eigen::Vector3d& tensor) {
  const double centre = 0.5 * (tensor[0] + tensor[1]);
  const double half = 0.5 * (tensor[0] - tensor[1]);
  const double radius = std::hypot(half, tensor[2]);
  const double angle = 0.5 * std::atan2(tensor[2], half);
  return {centre + radius, centre - radius, {std::cos(angle), std::sin(angle)}};
}

CornerValues largest_membrane_force(const solver::ShellFields& fields) {
  CornerValues values(fields.membrane_force.size());
  for (std::size_t t = 0; t < values.size(); ++t) {
    for (int q = 0; q < 3; ++q) {
      values[t][static_cast<std::size_t>(q)] = principal_of(fields.membrane_force[t].col(q)).high;
    }
  }
  return values;
}

std::vector<double> cloth_utilisation(const scenes::Tote& tote, const solver::ShellFields& fields) {
  std::vector<double> used(fields.membrane_force.size(), kNotKnown);
  const Eigen::Matrix3Xd cloth = scenes::cloth_force(tote, fields);
  for (std::size_t t = 0; t < used.size(); ++t) {
    if (t >= tote.strength_warp_N_per_m.size() || t >= tote.strength_weft_N_per_m.size()) break;
    const double warp = tote.strength_warp_N_per_m[t], weft = tote.strength_weft_N_per_m[t];
    if (warp <= 0 || weft <= 0) continue;
    const Eigen::Vector3d force = cloth.col(static_cast<Eigen::Index>(t));
    used[t] = std::max({force[0] / warp, force[1] / weft, 0.0});
  }
  return used;
}

SurfaceData surface_data(const solver::Model& model, const Eigen::Matrix3Xd& x_m,
                         const Eigen::Matrix3Xd& displacement_from_m,
                         const solver::ShellFields& fields) {
  const int n = model.mesh.n_triangles();
  SurfaceData data;
  data.points = x_m;
  for (const solver::Triangle& triangle : model.mesh.triangles)
    data.triangles.push_back(triangle.node);
  data.point_arrays.push_back({"displacement_m", x_m - displacement_from_m, {"x", "y", "z"}});

  std::vector<Principal> principal;
  for (const auto& force : fields.membrane_force) principal.push_back(principal_of(mean(force)));
  const auto direction = [&](int t, bool high) -> Eigen::Vector3d {
    const Eigen::Vector2d d = principal[t].direction_high;
    return fields.axes[t] * (high ? d : Eigen::Vector2d(-d.y(), d.x()));
  };
  auto& cells = data.cell_arrays;
  cells.push_back(cell_array("membrane_force_N_per_m", 3, n, {"11", "22", "12"},
                             [&](int t) { return mean(fields.membrane_force[t]); }));
  cells.push_back(cell_array("membrane_force_largest_N_per_m", 1, n, {},
                             [&](int t) { return one(principal[t].high); }));
  cells.push_back(cell_array("membrane_force_smallest_N_per_m", 1, n, {},
                             [&](int t) { return one(principal[t].low); }));
  cells.push_back(cell_array("membrane_force_largest_direction", 3, n, {"x", "y", "z"},
                             [&](int t) { return direction(t, true); }));
  cells.push_back(cell_array("membrane_force_smallest_direction", 3, n, {"x", "y", "z"},
                             [&](int t) { return direction(t, false); }));
  cells.push_back(cell_array("membrane_strain", 3, n, {"11", "22", "2x12"},
                             [&](int t) { return mean(fields.membrane_strain[t]); }));
  cells.push_back(cell_array("bending_moment_N", 3, n, {"11", "22", "12"},
                             [&](int t) { return mean(fields.bending_moment[t]); }));
  cells.push_back(cell_array("curvature_per_m", 3, n, {"11", "22", "2x12"},
                             [&](int t) { return mean(fields.curvature[t]); }));
  return data;
}

SurfaceData tote_data(const scenes::Tote& tote, const Eigen::Matrix3Xd& x_m,
                      const Eigen::Matrix3Xd& displacement_from_m,
                      const solver::ShellFields& fields) {
  SurfaceData data = surface_data(tote.model, x_m, displacement_from_m, fields);
  const int n = tote.model.mesh.n_triangles();
  const auto number = [&](const std::string& name, const auto& value) {
    data.cell_arrays.push_back(cell_array(name, 1, n, {}, [&](int t) { return one(value(t)); }));
  };
  const std::vector<double> used = cloth_utilisation(tote, fields);
  number("thickness_m", [&](int t) { return tote.thickness_m[t]; });
  number("region", [&](int t) { return double(tote.model.mesh.triangles[t].region); });
  number("part", [&](int t) { return double(tote.part[t]); });
  number("utilisation", [&](int t) { return used[t]; });
  std::vector<std::string> regions;
  for (int region = scenes::kRegionUpper; region <= scenes::kRegionBaseSheet; ++region) {
    regions.emplace_back(scenes::region_name(region));
  }
  data.label_names = {{"region_names", regions}, {"part_names", tote.triangle_part}};
  return data;
}

PointCloudData stitch_data(const scenes::Tote& tote, const Eigen::Matrix3Xd& x_m,
                           const Eigen::Matrix3Xd& forces_N) {
  const auto& stitches = tote.model.stitches;
  const int n = static_cast<int>(stitches.size());
  PointCloudData data;
  data.points.resize(3, n);
  Eigen::Matrix3Xd split(3, n);
  Eigen::MatrixXd attachment = Eigen::MatrixXd::Constant(1, n, -1), depth(1, n), size(1, n);
  depth.setZero();
  for (int i = 0; i < n; ++i) {
    const solver::Stitch& stitch = stitches[i];
    data.points.col(i) = solver::position_of(tote.model.mesh, x_m, stitch.a);
    split.col(i) = stitch_frame(tote.model.mesh, x_m, stitch).transpose() * forces_N.col(i);
    size(0, i) = forces_N.col(i).norm();
  }
  std::vector<std::string> names;
  for (std::size_t site = 0; site < tote.attachments.size(); ++site) {
    const scenes::AttachmentSite& attached = tote.attachments[site];
    names.push_back(attached.name);
    for (std::size_t k = 0; k < attached.stitches.size(); ++k) {
      attachment(0, attached.stitches[k]) = static_cast<double>(site);
      if (k < attached.stitch_row_m.size())
        depth(0, attached.stitches[k]) = attached.stitch_row_m[k];
    }
  }
  data.arrays = {
      {"force_N", forces_N, {"x", "y", "z"}},    {"force_size_N", size, {}},
      {"force_along_strap_N", split.row(0), {}}, {"force_across_strap_N", split.row(1), {}},
      {"force_peel_N", split.row(2), {}},        {"attachment", attachment, {}},
      {"below_first_row_m", depth, {}}};
  data.label_names = {{"attachment_names", names}};
  return data;
}

}  // namespace totebench::viz
