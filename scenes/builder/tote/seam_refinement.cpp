#include "scenes/builder/tote/seam_refinement.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <set>

#include "totebench/solver/refine.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector3d;

constexpr double kSameRow_m = 1e-9;
constexpr double kLeanShare =
    0.25;  // of the stitched width: a strap that leans less stands upright
constexpr double kLongestOverSize = 1.5;  // longest edge of a triangle of the size wanted
constexpr int kMostHalvings = 8;          // of halving: from metres to millimetres

struct Corner {
  Vector3d at;
  double size_m = 0;
  double growth = kSeamGrowth;
};
// Around one strap's end, or one seam's.
struct Focus {
  std::set<int> surfaces;  // of strap and panel
  std::vector<Corner> corners;
};

Vector3d start_of(const ToteMesh& tote, const solver::SurfacePoint& p) {
  return solver::position_of(tote.mesh, tote.mesh.position, p);
}

double across_strap(const ToteMesh& tote, const ToteStitch& stitch) {
  return (tote.mesh.rest[stitch.ribbon.triangle] *
          solver::shape(stitch.ribbon.xi, stitch.ribbon.eta))
      .y();
}

// Both ends of a row of an attachment's stitches, across the strap.
std::array<Vector3d, 2> ends_of_row(const ToteMesh& tote, const std::vector<const ToteStitch*>& all,
                                    double row_m) {
  std::array<Vector3d, 2> ends;
  double low = std::numeric_limits<double>::infinity();
  double high = -low;
  for (const ToteStitch* stitch : all) {
    if (std::abs(stitch->row_m - row_m) > kSameRow_m) continue;
    const double across = across_strap(tote, *stitch);
    if (across < low) {
      low = across;
      ends[0] = start_of(tote, stitch->panel);
    }
    if (across > high) {
      high = across;
      ends[1] = start_of(tote, stitch->panel);
    }
  }
  return ends;
}

// Where the hold begins: the held node of the ribbon nearest to a point.
Vector3d hold_near(const ToteMesh& tote, int ribbon_surface, const Vector3d& point) {
  Vector3d best = point;
  double nearest = std::numeric_limits<double>::infinity();
  for (int t = 0; t < tote.mesh.n_triangles(); ++t) {
    if (tote.surface[t] != ribbon_surface) continue;
    if (tote.mesh.triangles[t].region != kRegionStrapHeld) continue;
    for (const int node : tote.mesh.triangles[t].node) {
      const double distance = (tote.mesh.position.col(node) - point).norm();
      if (distance >= nearest) continue;
      nearest = distance;
      best = tote.mesh.position.col(node);
    }
  }
  return best;
}

Focus focus_of(const ToteMesh& tote, int attachment, double size_m) {
  Focus focus;
  std::vector<const ToteStitch*> stitches;
  double top = std::numeric_limits<double>::infinity();
  double bottom = -top;
  for (const ToteStitch& stitch : tote.stitches) {
    if (stitch.attachment != attachment) continue;
    stitches.push_back(&stitch);
    focus.surfaces.insert(tote.surface[stitch.ribbon.triangle]);
    focus.surfaces.insert(tote.surface[stitch.panel.triangle]);
    top = std::min(top, stitch.row_m);
    bottom = std::max(bottom, stitch.row_m);
  }
  if (stitches.empty()) return focus;
  const std::array<Vector3d, 2> upper = ends_of_row(tote, stitches, top);
  const Vector3d middle = 0.5 * (upper[0] + upper[1]);
  const Vector3d across = upper[1] - upper[0];
  const int ribbon = tote.surface[stitches.front()->ribbon.triangle];
  const double lean = (hold_near(tote, ribbon, middle) - middle).dot(across);
  const double upright = kLeanShare * across.squaredNorm();
  const double lead = kLeadCornerShare * size_m;
  const double other = kOtherCornerShare * size_m;
  focus.corners.push_back({upper[0], lean > -upright ? lead : other});
  focus.corners.push_back({upper[1], lean < upright ? lead : other});
  if (bottom - top > kSameRow_m) {
    for (const Vector3d& end : ends_of_row(tote, stitches, bottom)) {
      focus.corners.push_back({end, other});
    }
  }
  return focus;
}

// Seams that end on the outline of the base.
std::vector<Focus> seam_ends(const ToteMesh& tote, double size_m) {
  std::set<int> on_outline, on_seam;
  for (const solver::LabelledEdge& edge : tote.mesh.labelled_edges) {
    if (edge.label == kEdgeBaseOutline) on_outline.insert({edge.a, edge.b});
    if (edge.label == kEdgeSeam || edge.label == kEdgeBaseSeam) on_seam.insert({edge.a, edge.b});
  }
  std::vector<Focus> ends;
  for (const int node : on_seam) {
    if (on_outline.count(node) == 0) continue;
    Focus focus;
    focus.corners.push_back({tote.mesh.position.col(node), kSeamEndShare * size_m, kSeamEndGrowth});
    for (int t = 0; t < tote.mesh.n_triangles(); ++t) {
      const auto& corners = tote.mesh.triangles[t].node;
      if (std::find(corners.begin(), corners.end(), node) == corners.end()) continue;
      focus.surfaces.insert(tote.surface[t]);
    }
    ends.push_back(std::move(focus));
  }
  return ends;
}

// Strap and panel start on one another, so distances are those of the start.
bool too_large(const ToteMesh& tote, int triangle, const std::vector<Focus>& foci) {
  double longest = 0;
  for (int k = 0; k < 3; ++k) {
    longest = std::max(
        longest,
        (tote.mesh.rest[triangle].col(k) - tote.mesh.rest[triangle].col((k + 1) % 3)).norm());
  }
  const Vector3d centre = start_of(tote, {triangle, 1.0 / 3, 1.0 / 3});
  for (const Focus& focus : foci) {
    if (focus.surfaces.count(tote.surface[triangle]) == 0) continue;
    for (const Corner& corner : focus.corners) {
      const double wanted = corner.size_m + corner.growth * (centre - corner.at).norm();
      if (longest > kLongestOverSize * wanted) return true;
    }
  }
  return false;
}

}  // namespace

ToteMesh refine_seams(const ToteMesh& fine, double size_m, bool stiff_base) {
  std::vector<Focus> foci;
  if (stiff_base) foci = seam_ends(fine, size_m);
  for (std::size_t a = 0; a < fine.attachments.size(); ++a) {
    foci.push_back(focus_of(fine, static_cast<int>(a), size_m));
  }
  ToteMesh tote = fine;
  for (int round = 0; round < kMostHalvings; ++round) {
    std::vector<char> large(tote.mesh.triangles.size(), 0);
    for (int t = 0; t < tote.mesh.n_triangles(); ++t) large[t] = too_large(tote, t, foci) ? 1 : 0;
    if (std::find(large.begin(), large.end(), 1) == large.end()) break;
    ToteMesh finer = carried_over(tote, solver::refine(tote.mesh, large));
    if (!tote.mesh.child_of.empty()) {
      finer.mesh.child_of = solver::compose(tote.mesh.child_of, finer.mesh.child_of);
    }
    tote = std::move(finer);
  }
  return tote;
}

}  // namespace totebench::scenes
