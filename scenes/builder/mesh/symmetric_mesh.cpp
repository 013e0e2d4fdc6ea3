#include "scenes/builder/mesh/symmetric_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>
#include <utility>

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;

constexpr double kSamePoint = 1e-9;  // of the region's size: nearer points are one

Vector2d mirrored(Vector2d p, int axis) {
  p[axis] = -p[axis];
  return p;
}

double size_of(const PlanarRegion& region) {
  double size = 0;
  for (const Vector2d& p : region.points) size = std::max(size, p.cwiseAbs().maxCoeff());
  return size;
}

// Does every point, and every segment, have its mirror image?
bool mirrors(const PlanarRegion& region, int axis) {
  const double near = kSamePoint * size_of(region);
  std::vector<std::vector<int>> images(region.points.size());  // points at the image of each
  for (std::size_t i = 0; i < region.points.size(); ++i) {
    const Vector2d image = mirrored(region.points[i], axis);
    for (std::size_t j = 0; j < region.points.size(); ++j) {
      if ((region.points[j] - image).norm() <= near) images[i].push_back(static_cast<int>(j));
    }
    if (images[i].empty()) return false;
  }
  const auto is_at = [&](int point, int original) {
    return std::find(images[original].begin(), images[original].end(), point) !=
           images[original].end();
  };
  return std::all_of(region.segments.begin(), region.segments.end(), [&](const PlanarSegment& s) {
    return std::any_of(region.segments.begin(), region.segments.end(), [&](const PlanarSegment& o) {
      return (is_at(o.a, s.a) && is_at(o.b, s.b)) || (is_at(o.b, s.a) && is_at(o.a, s.b));
    });
  });
}

bool mostly_negative(const PlanarRegion& region, int axis) {
  double sum = 0;
  for (const PlanarSegment& s : region.segments) {
    sum += region.points[s.a][axis] + region.points[s.b][axis];
  }
  return sum < -kSamePoint * size_of(region);
}

// The part of the region with positive coordinates, closed along the axis of symmetry.
PlanarRegion positive_half(const PlanarRegion& region, int axis) {
  const double near = kSamePoint * size_of(region);
  PlanarRegion half;
  double low = 1e300;
  double high = -1e300;
  const auto add = [&](Vector2d p) {
    if (p[axis] <= near) {
      p[axis] = 0;
      low = std::min(low, p[1 - axis]);
      high = std::max(high, p[1 - axis]);
    }
    half.points.push_back(p);
    return static_cast<int>(half.points.size()) - 1;
  };
  for (const Vector2d& p : region.points) {
    if (p[axis] >= -near) add(p);
  }
  for (const PlanarSegment& s : region.segments) {
    Vector2d a = region.points[s.a];
    Vector2d b = region.points[s.b];
    if (a[axis] < b[axis]) std::swap(a, b);
    if (a[axis] <= near) continue;  // on the far side, or along the axis
    if (b[axis] < -near) b = a + (b - a) * (a[axis] / (a[axis] - b[axis]));
    const int from = add(a);
    half.segments.push_back({from, add(b)});
  }
  Vector2d end = Vector2d::Zero();
  end[1 - axis] = low;
  const int from = add(end);
  end[1 - axis] = high;
  half.segments.push_back({from, add(end)});
  return half;
}

PlanarMesh with_mirror_image(const PlanarMesh& half, int axis) {
  PlanarMesh whole = half;
  std::vector<int> image(half.points.size());
  for (std::size_t i = 0; i < half.points.size(); ++i) {
    image[i] = static_cast<int>(i);
    if (half.points[i][axis] == 0) continue;
    image[i] = static_cast<int>(whole.points.size());
    whole.points.push_back(mirrored(half.points[i], axis));
  }
  for (const auto& t : half.triangles) {
    whole.triangles.push_back({image[t[0]], image[t[2]], image[t[1]]});
  }
  for (const PlanarMesh::SegmentPiece& p : half.pieces) {
    whole.pieces.push_back({p.segment, image[p.a], image[p.b], p.from, p.to});
  }
  return whole;
}

// Renews the pieces from the edges they name, as pieces of the segments of `region`.
void name_pieces(const PlanarRegion& region, PlanarMesh& mesh) {
  const double near = 10 * kSamePoint * size_of(region);
  std::set<std::pair<int, int>> edges;
  for (const PlanarMesh::SegmentPiece& p : mesh.pieces) edges.insert(std::minmax(p.a, p.b));
  mesh.pieces.clear();
  for (const auto& [i, j] : edges) {
    for (std::size_t s = 0; s < region.segments.size(); ++s) {
      const Vector2d a = region.points[region.segments[s].a];
      const Vector2d d = region.points[region.segments[s].b] - a;
      const double length = d.norm();
      if (length <= near) continue;
      double share[2];
      bool on = true;
      for (int k = 0; k < 2; ++k) {
        const Vector2d r = mesh.points[k == 0 ? i : j] - a;
        share[k] = r.dot(d) / (length * length);
        on = on && std::abs(r.x() * d.y() - r.y() * d.x()) <= near * length &&
             share[k] >= -near / length && share[k] <= 1 + near / length;
        share[k] = std::clamp(share[k], 0.0, 1.0);
      }
      if (!on) continue;
      PlanarMesh::SegmentPiece piece{static_cast<int>(s), i, j, share[0], share[1]};
      if (share[0] > share[1]) piece = {static_cast<int>(s), j, i, share[1], share[0]};
      mesh.pieces.push_back(piece);
    }
  }
  std::sort(mesh.pieces.begin(), mesh.pieces.end(), [](const auto& a, const auto& b) {
    return std::pair(a.segment, a.from) < std::pair(b.segment, b.from);
  });
}

PlanarMesh mesh_about(const PlanarRegion& region, const MeshingOptions& options, int axis) {
  if (axis == 2) return mesh_region(region, options);
  if (mirrors(region, axis)) {
    PlanarMesh mesh =
        with_mirror_image(mesh_about(positive_half(region, axis), options, axis + 1), axis);
    name_pieces(region, mesh);
    return mesh;
  }
  if (!mostly_negative(region, axis)) return mesh_about(region, options, axis + 1);
  PlanarRegion image = region;
  for (Vector2d& p : image.points) p = mirrored(p, axis);
  PlanarMesh mesh = mesh_about(image, options, axis + 1);
  for (Vector2d& p : mesh.points) p = mirrored(p, axis);
  for (auto& t : mesh.triangles) std::swap(t[1], t[2]);
  return mesh;
}

}  // namespace

PlanarMesh mesh_symmetric_region(const PlanarRegion& region, const MeshingOptions& options) {
  if (!region.hole_points.empty() || options.local_size_m) {
    throw std::invalid_argument("mirrored meshes know no holes and no local sizes");
  }
  return mesh_about(region, options, 0);
}

}  // namespace totebench::scenes
