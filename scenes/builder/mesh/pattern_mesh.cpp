#include "scenes/builder/mesh/pattern_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <stdexcept>

#include "scenes/builder/mesh/symmetric_mesh.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

constexpr int kMostSplits = 30;
constexpr double kSameShare = 1e-7;  // two shares of an edge nearer than this are one point,
constexpr double kCrowded = 50;      // points on an edge not further apart than so many times that
constexpr double kSamePlace = 2e-8;  // or two places on it, as a share of the largest face

// Share of an edge, counted from its corner `a`, of a share counted along side `side` of a face.
double edge_share(const Pattern& pattern, const PatternFace& face, std::size_t side, double share) {
  const PatternEdge& edge = pattern.edges[face.edges[side]];
  return face.corners[side] == edge.a ? share : 1 - share;
}

class MatchedMesher {
 public:
  MatchedMesher(const Pattern& pattern, double size_m)
      : pattern_(pattern),
        size_m_(size_m),
        splits_(pattern.edges.size()),
        extra_(pattern.faces.size()),
        meshes_(pattern.faces.size()),
        same_(pattern.edges.size(), kSameShare) {
    double size = 0;
    for (const PatternFace& face : pattern.faces) {
      for (const Vector2d& p : face.outline) size = std::max(size, (p - face.outline[0]).norm());
    }
    for (const PatternFace& face : pattern.faces) {
      for (std::size_t i = 0; i < face.edges.size(); ++i) {
        const Vector2d along = face.outline[(i + 1) % face.outline.size()] - face.outline[i];
        double& same = same_[face.edges[i]];
        same = std::max(same, kSamePlace * size / along.norm());
      }
    }
  }

  PatternMesh run() {
    for (int round = 0; round < kMostSplits; ++round) {
      for (std::size_t f = 0; f < pattern_.faces.size(); ++f) mesh_face(f);
      const bool new_splits = collect_splits();
      if (new_splits) continue;
      PatternMesh mesh = join();
      if (!part_welded_edges(mesh)) return mesh;
    }
    throw std::logic_error("the panels' triangles do not meet along their seams");
  }

 private:
  void mesh_face(std::size_t f) {
    const PatternFace& face = pattern_.faces[f];
    PlanarRegion region;
    const int n = static_cast<int>(face.outline.size());
    region.points = face.outline;
    for (int i = 0; i < n; ++i) {
      region.segments.push_back({i, (i + 1) % n});
      const Vector2d from = face.outline[i];
      const Vector2d to = face.outline[(i + 1) % n];
      const bool forward = face.corners[i] == pattern_.edges[face.edges[i]].a;
      for (const double share : splits_[face.edges[i]]) {
        region.points.emplace_back(from + (to - from) * (forward ? share : 1 - share));
      }
    }
    for (const PatternLine& line : face.lines) {
      const int first = static_cast<int>(region.points.size());
      region.points.push_back(line.a);
      region.points.push_back(line.b);
      region.segments.push_back({first, first + 1});
    }
    region.points.insert(region.points.end(), extra_[f].begin(), extra_[f].end());
    MeshingOptions options;
    options.size_m = size_m_;
    meshes_[f] = mesh_symmetric_region(region, options);
  }

  // Takes over every point a face has on an edge. True when one was new.
  bool collect_splits() {
    bool is_new = false;
    for (std::size_t f = 0; f < pattern_.faces.size(); ++f) {
      const PatternFace& face = pattern_.faces[f];
      for (const PlanarMesh::SegmentPiece& piece : meshes_[f].pieces) {
        const auto side = static_cast<std::size_t>(piece.segment);
        if (side >= face.outline.size()) continue;
        const double same = same_[face.edges[side]];
        if (piece.to >= 1 - same || piece.to <= same) continue;
        const double share = edge_share(pattern_, face, side, piece.to);
        std::vector<double>& splits = splits_[face.edges[side]];
        const auto at = std::lower_bound(splits.begin(), splits.end(), share - same);
        if (at != splits.end() && *at < share + same) continue;
        refuse_crowding(splits, at, share, same);
        splits.insert(at, share);
        is_new = true;
      }
    }
    return is_new;
  }

  // Where lines meet at a very small angle, each face would divide the edge anew for ever.
  static void refuse_crowding(const std::vector<double>& splits,
                              std::vector<double>::const_iterator at, double share, double same) {
    const double before = at == splits.begin() ? 0 : *(at - 1);
    const double after = at == splits.end() ? 1 : *at;
    if (std::min(share - before, after - share) > kCrowded * same) return;
    throw std::invalid_argument(
        "a line of the pattern meets an edge at so small an angle that no triangles fit between "
        "them: draw the edge straight there, or move the strap or the seam");
  }

  int corner_point(int corner) { return named_point({-1, corner}, pattern_.corners[corner]); }

  int named_point(const std::pair<int, int>& name, const Vector3d& position) {
    const auto [entry, is_new] = named_.try_emplace(name, static_cast<int>(joined_.points.size()));
    if (is_new) joined_.points.push_back(position);
    return entry->second;
  }

  // The point of side `side` at `share` of it, shared with whoever has that edge.
  int side_point(const PatternFace& face, std::size_t side, double share, const Vector2d& uv) {
    const std::size_t next = (side + 1) % face.corners.size();
    const int edge = face.edges[side];
    const double same = same_[edge];
    if (share <= same) return corner_point(face.corners[side]);
    if (share >= 1 - same) return corner_point(face.corners[next]);
    const std::vector<double>& splits = splits_[edge];
    const double on_edge = edge_share(pattern_, face, side, share);
    const auto at = std::lower_bound(splits.begin(), splits.end(), on_edge - same);
    if (at == splits.end() || *at > on_edge + same) {
      throw std::logic_error("a point on a shared edge is unknown to the edge");
    }
    return named_point({edge, static_cast<int>(at - splits.begin())}, face.place(uv));
  }

  PatternMesh join() {
    joined_ = {};
    named_.clear();
    std::set<std::pair<int, int>> labelled;
    for (std::size_t f = 0; f < pattern_.faces.size(); ++f) {
      const PatternFace& face = pattern_.faces[f];
      const PlanarMesh& mesh = meshes_[f];
      std::vector<int> global(mesh.points.size(), -1);
      for (const PlanarMesh::SegmentPiece& piece : mesh.pieces) {
        const auto side = static_cast<std::size_t>(piece.segment);
        if (side >= face.outline.size()) continue;
        global[piece.a] = side_point(face, side, piece.from, mesh.points[piece.a]);
        global[piece.b] = side_point(face, side, piece.to, mesh.points[piece.b]);
      }
      for (std::size_t p = 0; p < mesh.points.size(); ++p) {
        if (global[p] >= 0) continue;
        global[p] = static_cast<int>(joined_.points.size());
        joined_.points.push_back(face.place(mesh.points[p]));
      }
      for (const auto& t : mesh.triangles) {
        PatternMesh::FaceTriangle triangle;
        triangle.face = static_cast<int>(f);
        for (int k = 0; k < 3; ++k) {
          triangle.point[k] = global[t[k]];
          triangle.uv[k] = mesh.points[t[k]];
        }
        joined_.triangles.push_back(triangle);
      }
      for (const PlanarMesh::SegmentPiece& piece : mesh.pieces) {
        const auto segment = static_cast<std::size_t>(piece.segment);
        const std::size_t n = face.outline.size();
        const int label =
            segment < n ? pattern_.edges[face.edges[segment]].label : face.lines[segment - n].label;
        const int a = global[piece.a];
        const int b = global[piece.b];
        if (label != 0 && labelled.insert(std::minmax(a, b)).second) {
          joined_.labelled_edges.push_back({a, b, label});
        }
      }
      joined_.smallest_angle_deg = std::min(joined_.smallest_angle_deg, mesh.smallest_angle_deg());
    }
    return joined_;
  }

  // Faces that share more than one line (the two faces of a flat bag) may both have an inner edge
  // between the same two shared points, which would weld them together. Puts a point on such edges.
  bool part_welded_edges(const PatternMesh& mesh) {
    std::map<std::pair<int, int>, std::vector<std::pair<int, Vector2d>>> uses;  // face, mid point
    for (const auto& t : mesh.triangles) {
      for (int k = 0; k < 3; ++k) {
        const int next = (k + 1) % 3;
        uses[std::minmax(t.point[k], t.point[next])].emplace_back(t.face,
                                                                  0.5 * (t.uv[k] + t.uv[next]));
      }
    }
    bool found = false;
    for (const auto& [ends, users] : uses) {
      if (users.size() <= 2) continue;
      found = true;
      std::set<int> done;
      for (const auto& [face, middle] : users) {
        if (done.insert(face).second) extra_[face].push_back(middle);
      }
    }
    return found;
  }

  const Pattern& pattern_;
  double size_m_;
  std::vector<std::vector<double>> splits_;   // per edge: shares from corner a, rising
  std::vector<std::vector<Vector2d>> extra_;  // per face: further points
  std::vector<PlanarMesh> meshes_;            // per face
  std::vector<double> same_;                  // per edge: shares nearer than this are one point
  PatternMesh joined_;
  std::map<std::pair<int, int>, int> named_;  // (edge, split) or (-1, corner) to point
};

}  // namespace

PatternMesh mesh_pattern(const Pattern& pattern, double size_m) {
  return MatchedMesher(pattern, size_m).run();
}

}  // namespace totebench::scenes
