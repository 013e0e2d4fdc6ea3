// The shell mesh of a whole tote: panels, strap ribbons and a loose base sheet, with enough record
// of where each triangle comes from to give it layers, loads and stitches later.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "scenes/builder/mesh/pattern_mesh.hpp"
#include "scenes/builder/straps/straps.hpp"
#include "scenes/patterns/pattern.hpp"
#include "totebench/scenes/build.hpp"

namespace totebench::scenes {

// A smooth sheet of the mesh with its own rest coordinates, kept in ShellMesh::rest as (u, v, 0):
// a face of the pattern, a ribbon (s, t), or the loose base sheet (u, v as on the base).
struct ToteSurface {
  enum class Kind { kWall, kBase, kRibbon, kBaseSheet };
  Kind kind = Kind::kWall;
  int index = 0;  // face or ribbon
  std::string part;
};

struct ToteStitch {
  solver::SurfacePoint ribbon;
  solver::SurfacePoint panel;
  std::vector<solver::StitchPoint> spread;  // over what it grips, ribbon to panel
  int attachment = 0;
  double row_m = 0;  // below the first row
};

struct ToteAttachment {
  std::string name;
  double line_length_m = 0;
};

// Rounded rectangle in base coordinates.
struct BaseOutline {
  double half_width_m = 0;
  double half_depth_m = 0;
  double corner_radius_m = 0;
  // Or lies no further than this outside it.
  [[nodiscard]] bool contains(const Eigen::Vector2d& uv, double slack_m) const;
};
// The base sheet of the scene (stitched or in a pocket); nothing when it has none.
[[nodiscard]] std::optional<BaseOutline> base_sheet_outline(const Scene& scene);

struct ToteMesh {
  solver::ShellMesh mesh;
  std::vector<ToteSurface> surfaces;
  std::vector<int> surface;  // per triangle
  std::vector<ToteStitch> stitches;
  std::vector<ToteAttachment> attachments;
  std::vector<std::array<solver::SurfacePoint, 2>> strap_feet;  // per ribbon, on the opening
  std::vector<solver::SurfacePoint> strap_midpoints;
  double smallest_angle_deg = 0;  // of the panels

  [[nodiscard]] Eigen::Vector2d rest_corner(int triangle, int k) const {
    return mesh.rest[triangle].col(k).head<2>();
  }
  // The triangle of surfaces of one kind (and index, when >= 0) that holds rest point uv; the
  // nearest one when uv lies outside of all by less than `slack_m`, else nothing.
  [[nodiscard]] std::optional<solver::SurfacePoint> locate(ToteSurface::Kind kind, int index,
                                                           const Eigen::Vector2d& uv,
                                                           double slack_m = 1e-9) const;
};

// The coarsest mesh: the pattern's own, `panels`, of edges of about `size_m`, and ribbons and a
// loose sheet as fine. `sheet_offset_m`: how far above the base a loose sheet starts.
[[nodiscard]] ToteMesh coarse_tote_mesh(const Scene& scene, const Pattern& pattern,
                                        const PatternMesh& panels,
                                        const std::vector<Ribbon>& ribbons, double size_m,
                                        double sheet_offset_m);

// The same tote on a mesh made from its own (ShellMesh::child_of): stitches and probes keep their
// places.
[[nodiscard]] ToteMesh carried_over(const ToteMesh& coarse, solver::ShellMesh fine);

}  // namespace totebench::scenes
