#include "scenes/builder/sheet/mesh.hpp"

#include <fmt/format.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <utility>

#include "scenes/builder/mesh/mesher.hpp"
#include "scenes/builder/sheet/chart.hpp"
#include "scenes/check/scene.hpp"
#include "totebench/scenes/sheet_file.hpp"

namespace totebench::scenes {
namespace {

constexpr int kFirstSideLabel = 1;
constexpr int kCreaseLabel = 100;

std::string as_text(const Eigen::Vector3d& p) {
  return fmt::format("({:.4g}, {:.4g}, {:.4g}) m", p.x(), p.y(), p.z());
}

// How often each edge is used, by its corner nodes.
std::map<std::pair<int, int>, int> edge_uses(const solver::ShellMesh& mesh) {
  std::map<std::pair<int, int>, int> uses;
  for (const solver::Triangle& t : mesh.triangles) {
    for (int k = 0; k < 3; ++k) ++uses[std::minmax(t.node[k], t.node[(k + 1) % 3])];
  }
  return uses;
}

// How often halving the edges brings them within a factor sqrt(2) of the size asked for.
int splits(const solver::ShellMesh& mesh, double size_m) {
  double total = 0;
  const auto uses = edge_uses(mesh);
  for (const auto& [edge, n] : uses) {
    total += (mesh.position.col(edge.first) - mesh.position.col(edge.second)).norm();
  }
  const double mean = total / static_cast<double>(uses.size());
  return std::max(0, static_cast<int>(std::ceil(std::log2(mean / size_m) - 0.5)));
}

void copy_rest_from_position(solver::ShellMesh& mesh) {
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    for (int n = 0; n < 6; ++n) mesh.rest[t].col(n) = mesh.position.col(mesh.triangles[t].node[n]);
  }
}

// `along`, turned by the warp angle about `normal` in the tangent plane.
Eigen::Vector3d warp_direction(const Eigen::Vector3d& along, const Eigen::Vector3d& normal,
                               double angle) {
  const Eigen::Vector3d flat = (along - along.dot(normal) * normal).normalized();
  return Eigen::AngleAxisd(angle, normal) * flat;
}

// A second point for an inner named point: a short line between the two keeps the point where it
// is while the mesh generator smooths. Of four directions, the one with most room.
Eigen::Vector2d anchor(const SheetChart& chart, const Eigen::Vector2d& uv, double size_m) {
  const double step = std::min(size_m, chart.nearest_side(uv).distance_m);
  Eigen::Vector2d best = uv;
  double room = -1;
  for (const Eigen::Vector2d& direction : {Eigen::Vector2d(1, 0), Eigen::Vector2d(0, 1),
                                           Eigen::Vector2d(-1, 0), Eigen::Vector2d(0, -1)}) {
    const Eigen::Vector2d end = uv + 0.9 * step * direction;
    const double distance = chart.nearest_side(end).distance_m;
    if (distance > room + 1e-9 * size_m) {
      room = distance;
      best = end;
    }
  }
  return best;
}

PlanarRegion region_of(const SheetChart& chart, double size_m,
                       const std::vector<Eigen::Vector2d>& fixed) {
  PlanarRegion region;
  region.points = chart.outline(size_m, fixed);
  const int n = static_cast<int>(region.points.size());
  for (int i = 0; i < n; ++i) region.segments.push_back({i, (i + 1) % n});
  for (const Eigen::Vector2d& uv : fixed) {
    if (chart.nearest_side(uv).distance_m <= 1e-6 * chart.extent_m()) continue;
    const int at = static_cast<int>(region.points.size());
    region.points.push_back(uv);
    region.points.push_back(anchor(chart, uv, size_m));
    region.segments.push_back({at, at + 1});
  }
  return region;
}

// Moves the nodes of a plane mesh onto the surface and labels the edges.
void put_on_surface(const SheetChart& chart, double warp_angle_rad, Eigen::Matrix3Xd plane,
                    SheetMesh& mesh) {
  solver::ShellMesh& shell = mesh.shell;
  const auto uses = edge_uses(shell);
  const auto& names = chart.side_names();
  for (std::size_t s = 0; s < names.size(); ++s) {
    mesh.side_labels[names[s]] = kFirstSideLabel + static_cast<int>(s);
  }
  if (chart.curved()) mesh.crease_label = kCreaseLabel;

  // Border nodes go onto the true border: the mesh generator may have halved a chord of a circle.
  std::map<int, std::pair<int, int>> corners_of_mid;
  for (const solver::Triangle& t : shell.triangles) {
    for (int k = 0; k < 3; ++k) {
      const std::pair<int, int> edge = std::minmax(t.node[k], t.node[(k + 1) % 3]);
      if (!corners_of_mid.emplace(t.node[3 + k], edge).second) continue;
      if (uses.at(edge) > 1) {
        if (chart.curved()) shell.labelled_edges.push_back({edge.first, edge.second, kCreaseLabel});
        continue;
      }
      const Eigen::Vector2d middle =
          0.5 * (plane.col(edge.first) + plane.col(edge.second)).head<2>();
      const SheetChart::OnSide on = chart.nearest_side(middle);
      for (const int node : {edge.first, edge.second}) {
        const Eigen::Vector2d uv = plane.col(node).head<2>();
        plane.col(node).head<2>() = chart.nearest_side(uv).foot;
      }
      shell.labelled_edges.push_back({edge.first, edge.second, kFirstSideLabel + on.side});
    }
  }
  for (int i = 0; i < shell.n_nodes(); ++i) {
    if (corners_of_mid.count(i) == 0) shell.position.col(i) = chart.place(plane.col(i).head<2>());
  }
  for (const auto& [mid, edge] : corners_of_mid) {
    const Eigen::Vector2d middle = 0.5 * (plane.col(edge.first) + plane.col(edge.second)).head<2>();
    if (uses.at(edge) == 1) {
      shell.position.col(mid) = chart.place(chart.nearest_side(middle).foot);
    } else if (chart.curved()) {
      shell.position.col(mid) = chart.place(middle);
    } else {  // straight edges inside a flat sheet keep its triangles undistorted
      shell.position.col(mid) =
          0.5 * (shell.position.col(edge.first) + shell.position.col(edge.second));
    }
  }
  copy_rest_from_position(shell);

  shell.warp.resize(shell.triangles.size());
  for (int t = 0; t < shell.n_triangles(); ++t) {
    Eigen::Vector2d centre = Eigen::Vector2d::Zero();
    for (int k = 0; k < 3; ++k) centre += plane.col(shell.triangles[t].node[k]).head<2>() / 3;
    shell.warp[t] = warp_direction(chart.tangent(centre), chart.normal(centre), warp_angle_rad);
  }
}

SheetMesh mesh_chart(const SheetGeometry& geometry, double size_m, double warp_angle_rad,
                     const std::vector<Eigen::Vector3d>& named, bool face_down) {
  const SheetChart chart(geometry);
  std::vector<Eigen::Vector2d> fixed;
  for (const Eigen::Vector3d& point : named) {
    const std::optional<Eigen::Vector2d> uv = chart.parameters_of(point);
    if (!uv) {
      throw std::invalid_argument(
          fmt::format("the point {} does not lie on the sheet", as_text(point)));
    }
    fixed.push_back(*uv);
  }
  MeshingOptions options;
  options.size_m = size_m;
  PlanarMesh plane = mesh_region(region_of(chart, size_m, fixed), options);
  if (face_down) {
    for (auto& corners : plane.triangles) std::swap(corners[1], corners[2]);
  }

  Eigen::Matrix3Xd corner_uv =
      Eigen::Matrix3Xd::Zero(3, static_cast<Eigen::Index>(plane.points.size()));
  for (std::size_t i = 0; i < plane.points.size(); ++i) {
    corner_uv.col(static_cast<Eigen::Index>(i)).head<2>() = plane.points[i];
  }
  SheetMesh mesh;
  mesh.facing = face_down ? -1 : 1;
  mesh.shell = solver::second_order_mesh(corner_uv, plane.triangles);
  put_on_surface(chart, warp_angle_rad, mesh.shell.position, mesh);

  for (std::size_t p = 0; p < named.size(); ++p) {
    // Nearest in the plane, so that the two sides of a slit stay apart.
    Eigen::Index nearest = 0;
    (corner_uv.topRows<2>().colwise() - fixed[p]).colwise().squaredNorm().minCoeff(&nearest);
    mesh.named.push_back(named[p]);
    mesh.named_node.push_back(static_cast<int>(nearest));
  }
  return mesh;
}

SheetMesh mesh_file(const SheetGeometry& geometry, double size_m, double warp_angle_rad,
                    const std::vector<Eigen::Vector3d>& named) {
  SheetMesh mesh;
  mesh.shell = geometry.faces.corners.empty() ? read_sheet_file(geometry.file)
                                              : sheet_of_faces(geometry.faces, geometry.file);
  const int times = splits(mesh.shell, size_m);
  const double triangles = triangles_when_split(mesh.shell, size_m);
  if (triangles > kMostTriangles) {
    throw std::invalid_argument(
        fmt::format("{} has {} triangles; split to edges of {:.3g} mm they would be {:.2g}, more "
                    "than fit. Give mesh.size a larger value, or the file fewer triangles",
                    geometry.file, mesh.shell.n_triangles(), size_m * 1e3, triangles));
  }
  for (int i = 0; i < times; ++i) mesh.shell = solver::split(mesh.shell);

  solver::ShellMesh& shell = mesh.shell;
  mesh.side_labels["border"] = kFirstSideLabel;
  mesh.crease_label = kCreaseLabel;  // the facets of the file are its rest shape
  for (const auto& [edge, n] : edge_uses(shell)) {
    shell.labelled_edges.push_back(
        {edge.first, edge.second, n == 1 ? kFirstSideLabel : kCreaseLabel});
  }
  shell.warp.resize(shell.triangles.size());
  for (int t = 0; t < shell.n_triangles(); ++t) {
    const Eigen::Vector3d u = shell.rest[t].col(1) - shell.rest[t].col(0);
    const Eigen::Vector3d v = shell.rest[t].col(2) - shell.rest[t].col(0);
    const Eigen::Vector3d normal = u.cross(v).normalized();
    // Along x; on facets square to x, along y.
    const bool x_lies_in = std::abs(normal.x()) < 0.99;
    shell.warp[t] = warp_direction(x_lies_in ? Eigen::Vector3d(Eigen::Vector3d::UnitX())
                                             : Eigen::Vector3d(Eigen::Vector3d::UnitY()),
                                   normal, warp_angle_rad);
  }
  for (const Eigen::Vector3d& point : named) {
    Eigen::Index nearest = 0;
    (shell.position.colwise() - point).colwise().squaredNorm().minCoeff(&nearest);
    mesh.named.push_back(point);
    mesh.named_node.push_back(static_cast<int>(nearest));
  }
  return mesh;
}

}  // namespace

double triangles_when_split(const solver::ShellMesh& file, double size_m) {
  return file.n_triangles() * std::pow(4.0, splits(file, size_m));
}

int SheetMesh::node_at(const Eigen::Vector3d& point) const {
  for (std::size_t i = 0; i < named.size(); ++i) {
    if (named[i] == point) return named_node[i];
  }
  throw std::logic_error("a point of the sheet was not announced to its mesh");
}

SheetMesh mesh_sheet(const SheetGeometry& geometry, double size_m, double warp_angle_rad,
                     const std::vector<Eigen::Vector3d>& named, bool face_down) {
  if (geometry.shape == SheetShape::kFile) {
    return mesh_file(geometry, size_m, warp_angle_rad, named);
  }
  if (SheetChart(geometry).triangles(size_m) > kMostTriangles) {
    throw std::invalid_argument(
        fmt::format("a mesh size of {:.3g} mm would cut this sheet into more than {} triangles",
                    size_m * 1e3, kMostTriangles));
  }
  return mesh_chart(geometry, size_m, warp_angle_rad, named, face_down);
}

}  // namespace totebench::scenes
