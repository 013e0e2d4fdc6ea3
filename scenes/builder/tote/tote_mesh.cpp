#include "scenes/builder/tote/tote_mesh.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <stdexcept>

#include "scenes/builder/mesh/pattern_mesh.hpp"
#include "scenes/builder/mesh/symmetric_mesh.hpp"
#include "totebench/scenes/attachment_patterns.hpp"
#include "totebench/scenes/base_shape.hpp"
#include "totebench/solver/refine.hpp"

namespace totebench::scenes {
namespace {

using Eigen::Vector2d;
using Eigen::Vector3d;

// Free straps: elements this many times longer than the strap is wide at most, and a half turn over
// a peg in so many, for second-order triangles to follow it to a few thousandths of its radius.
constexpr double kStrapAspect = 1.6;
constexpr double kTransition =
    0.7;  // of the width: from an unevenly divided end to the first column
constexpr int kPegElements = 4;
constexpr int kFewestLegElements = 3;

// Beside a loose sheet, on each side: cloth and seams take up as much (estimate). One that touched
// the walls all round where it starts could not move at all.
constexpr double kLeastPlay_m = 1e-3;
// A stitch this near to the edge of a strap's end is on it (rounding of its place).
constexpr double kOnStrap_m = 1e-7;

// ToteMesh::locate among the triangles that are `chosen`.
template <class Chosen>
std::optional<solver::SurfacePoint> locate_among(const ToteMesh& tote, const Vector2d& uv,
                                                 double slack_m, const Chosen& chosen) {
  std::optional<solver::SurfacePoint> best;
  double best_outside = slack_m;
  for (int i = 0; i < tote.mesh.n_triangles(); ++i) {
    if (!chosen(i)) continue;
    const Vector2d a = tote.rest_corner(i, 0);
    const Vector2d e1 = tote.rest_corner(i, 1) - a;
    const Vector2d e2 = tote.rest_corner(i, 2) - a;
    const Vector2d p = uv - a;
    const double twice_area = e1.x() * e2.y() - e1.y() * e2.x();
    double xi = (p.x() * e2.y() - p.y() * e2.x()) / twice_area;
    double eta = (e1.x() * p.y() - e1.y() * p.x()) / twice_area;
    const double outside = -std::min({xi, eta, 1 - xi - eta, 0.0}) * std::sqrt(twice_area);
    if (outside > best_outside || (best && outside >= best_outside)) continue;
    best_outside = outside;
    xi = std::max(xi, 0.0);
    eta = std::max(eta, 0.0);
    const double over = std::max(xi + eta, 1.0);
    best = solver::SurfacePoint{i, xi / over, eta / over};
    if (outside == 0) break;
  }
  return best;
}

// Collects nodes and triangles. Mid-edge nodes are made once per pair of corners.
class MeshCollector {
 public:
  int add_node(const Vector3d& x) {
    nodes_.push_back(x);
    return static_cast<int>(nodes_.size()) - 1;
  }

  int mid_node(int a, int b, const Vector3d& x) {
    const auto [entry, is_new] = mid_.try_emplace(std::minmax(a, b), 0);
    if (is_new) entry->second = add_node(x);
    return entry->second;
  }

  void know_mid_node(int a, int b, int mid) { mid_[std::minmax(a, b)] = mid; }

  // `place` gives start positions from rest coordinates, for mid nodes not known yet.
  template <class Place>
  int add_triangle(const std::array<int, 3>& corner, const std::array<Vector2d, 3>& uv, int region,
                   int surface, double warp_angle_rad, const Place& place) {
    solver::Triangle triangle;
    triangle.region = region;
    solver::Matrix36d rest = solver::Matrix36d::Zero();
    for (int k = 0; k < 3; ++k) {
      const int next = (k + 1) % 3;
      const Vector2d middle = 0.5 * (uv[k] + uv[next]);
      triangle.node[k] = corner[k];
      triangle.node[3 + k] = mid_node(corner[k], corner[next], place(middle));
      rest.col(k).head<2>() = uv[k];
      rest.col(3 + k).head<2>() = middle;
    }
    tote.mesh.triangles.push_back(triangle);
    tote.mesh.rest.push_back(rest);
    tote.mesh.warp.emplace_back(std::cos(warp_angle_rad), std::sin(warp_angle_rad), 0.0);
    tote.surface.push_back(surface);
    return tote.mesh.n_triangles() - 1;
  }

  [[nodiscard]] Vector3d node(int i) const { return nodes_[i]; }

  ToteMesh finish() {
    tote.mesh.position.resize(3, static_cast<Eigen::Index>(nodes_.size()));
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      tote.mesh.position.col(static_cast<Eigen::Index>(i)) = nodes_[i];
    }
    return std::move(tote);
  }

  ToteMesh tote;

 private:
  std::vector<Vector3d> nodes_;
  std::map<std::pair<int, int>, int> mid_;
};

int wall_region(const Scene& scene, const Pattern& pattern, const PatternFace& face,
                const Vector2d& uv) {
  if (uv.y() < pattern.base_strip_m) return kRegionBase;
  if (pattern.below_opening(face, uv) < scene.bag.hem_m) return kRegionHem;
  return face.lower || uv.y() < pattern.crosswise_m ? kRegionLower : kRegionUpper;
}

void add_panels(const Scene& scene, const Pattern& pattern, const PatternMesh& panels,
                MeshCollector& out) {
  for (const Vector3d& x : panels.points) out.add_node(x);
  for (std::size_t f = 0; f < pattern.faces.size(); ++f) {
    const PatternFace& face = pattern.faces[f];
    out.tote.surfaces.push_back({face.wall ? ToteSurface::Kind::kWall : ToteSurface::Kind::kBase,
                                 static_cast<int>(f), face.part});
  }
  for (const PatternMesh::FaceTriangle& t : panels.triangles) {
    const PatternFace& face = pattern.faces[t.face];
    const Vector2d centre = (t.uv[0] + t.uv[1] + t.uv[2]) / 3;
    out.add_triangle(t.point, t.uv,
                     face.wall ? wall_region(scene, pattern, face, centre) : kRegionBase, t.face,
                     face.warp_angle_rad, face.place);
  }
  for (const PatternMesh::Edge& edge : panels.labelled_edges) {
    out.tote.mesh.labelled_edges.push_back({edge.a, edge.b, edge.label});
  }
}

// Nodes of a ribbon across it at one s, by rising t.
struct Column {
  double s = 0;
  std::vector<double> t;
  std::vector<int> node;
};

class RibbonMesher {
 public:
  RibbonMesher(const Scene& scene, const Ribbon& ribbon, int surface, double size_m,
               MeshCollector& out)
      : scene_(scene), ribbon_(ribbon), surface_(surface), size_m_(size_m), out_(out) {}

  void run() {
    const Column first = lay_end(ribbon_.ends[0]);
    const Column last = lay_end(ribbon_.ends[1]);
    if (!ribbon_.laid_aside) lay_between(first, last);
    std::array<solver::SurfacePoint, 2> feet;
    for (std::size_t k = 0; k < feet.size(); ++k) {
      const StrapFootprint& foot = ribbon_.ends[k].footprints.front();
      feet[k] =
          out_.tote
              .locate(ToteSurface::Kind::kWall, foot.face, {foot.u_centre, ribbon_.bag_height_m})
              .value();
    }
    out_.tote.strap_feet.push_back(feet);
  }

 private:
  // The free and the held part, from one end to the other.
  void lay_between(Column first, const Column& last) {
    // The panel's seams may divide a strap's end unevenly; beyond it the ribbon has its own even
    // columns, after a first one near enough for good triangles between the two.
    const int n_across = std::max(1, static_cast<int>(std::lround(ribbon_.width_m / size_m_)));
    std::vector<double> places = column_places();
    const double near = kTransition * ribbon_.width_m;
    const auto divided = [n_across](const Column& c) {
      return static_cast<int>(c.t.size()) != n_across + 1;
    };
    if (divided(first) && places.front() - first.s > 1.5 * near) {
      places.insert(places.begin(), first.s + near);
    }
    if (divided(last) && last.s - places.back() > 1.5 * near) places.push_back(last.s - near);
    for (const double s : places) {
      Column column;
      column.s = s;
      for (int i = 0; i <= n_across; ++i) {
        column.t.push_back(ribbon_.width_m * (static_cast<double>(i) / n_across - 0.5));
      }
      for (const double t : column.t) column.node.push_back(out_.add_node(ribbon_.place({s, t})));
      if (ribbon_.is_end_of_hold(s)) label_hold(column);
      bridge(first, column);
      first = column;
    }
    bridge(first, last);
    const double middle = 0.5 * ribbon_.length_m;
    out_.tote.strap_midpoints.push_back(
        out_.tote
            .locate(ToteSurface::Kind::kRibbon, out_.tote.surfaces[surface_].index, {middle, 0.0})
            .value());
  }

  // Copies the panel's triangles under the end, so that strap and panel start as the same surface,
  // and stitches them together. Returns the nodes where the ribbon leaves the panel.
  Column lay_end(const RibbonEnd& end) {
    std::map<int, int> copy;  // panel node to ribbon node
    std::map<double, int> rim;
    const auto copy_of = [&](int node) {
      const auto [entry, is_new] = copy.try_emplace(node, 0);
      if (is_new) entry->second = out_.add_node(out_.node(node));
      return entry->second;
    };
    std::map<int, int> above;  // panel triangle to ribbon triangle
    const int n_panel = static_cast<int>(out_.tote.surface.size());
    for (int i = 0; i < n_panel; ++i) {
      const ToteSurface& surface = out_.tote.surfaces[out_.tote.surface[i]];
      if (surface.kind != ToteSurface::Kind::kWall) continue;
      for (const StrapFootprint& foot : end.footprints) {
        if (foot.face != surface.index || !under(foot, i)) continue;
        const solver::Triangle panel = out_.tote.mesh.triangles[i];
        std::array<int, 3> corner{};
        std::array<Vector2d, 3> st;
        for (int k = 0; k < 3; ++k) {
          corner[k] = copy_of(panel.node[k]);
          const Vector2d uv = out_.tote.rest_corner(i, k);
          st[k] = ribbon_.to_ribbon(end, foot, uv);
          if (std::abs(uv.y() - ribbon_.bag_height_m) < 1e-9) rim[st[k].y()] = corner[k];
        }
        for (int k = 0; k < 3; ++k) {
          out_.know_mid_node(corner[k], corner[(k + 1) % 3], copy_of(panel.node[3 + k]));
        }
        above[i] = out_.add_triangle(corner, st, kRegionStrap, surface_, 0.0,
                                     [](const Vector2d&) { return Vector3d(Vector3d::Zero()); });
      }
    }
    stitch(end, above);
    Column column;
    column.s = end.first ? ribbon_.overlap_m : ribbon_.length_m - ribbon_.overlap_m;
    for (const auto& [t, node] : rim) {
      // The halves of an end astride a seam meet at one node with the same t up to rounding.
      if (!column.node.empty() && column.node.back() == node) continue;
      column.t.push_back(t);
      column.node.push_back(node);
    }
    if (column.node.size() < 2) throw std::logic_error("a strap's end has no triangles beneath it");
    return column;
  }

  [[nodiscard]] bool under(const StrapFootprint& foot, int triangle) const {
    Vector2d centre = Vector2d::Zero();
    for (int k = 0; k < 3; ++k) centre += out_.tote.rest_corner(triangle, k) / 3;
    const double across = centre.x() - foot.u_centre;
    return across > foot.from && across < foot.to &&
           centre.y() > ribbon_.bag_height_m - ribbon_.overlap_m;
  }

  void stitch(const RibbonEnd& end, const std::map<int, int>& above) {
    const StitchRows rows = attachment_points(scene_.straps.front());
    const int index = static_cast<int>(out_.tote.attachments.size());
    out_.tote.attachments.push_back({end.name, rows.line_length_m});
    for (std::size_t i = 0; i < rows.points.size(); ++i) {
      ToteStitch stitch;
      stitch.attachment = index;
      stitch.row_m = rows.points[i].x();
      const auto panel = panel_point(end, above, on_ribbon(end, rows.points[i]));
      if (!panel) throw std::logic_error("a stitch lies on no panel");
      stitch.panel = *panel;
      stitch.ribbon = {above.at(panel->triangle), panel->xi, panel->eta};
      // Whatever of its grip lies beyond the strap holds nothing.
      double inside = 0;
      const auto arms = i < rows.arms.size() ? rows.arms[i] : std::vector<Vector2d>();
      for (const FootPoint& foot : footprint(arms, ribbon_.grip_m)) {
        const auto at = panel_point(end, above, on_ribbon(end, rows.points[i] + foot.offset_m));
        if (!at) continue;
        stitch.spread.push_back({{above.at(at->triangle), at->xi, at->eta}, *at, foot.share});
        inside += foot.share;
      }
      for (solver::StitchPoint& point : stitch.spread) point.share /= inside;
      out_.tote.stitches.push_back(stitch);
    }
  }

  // Ribbon coordinates of a place in the attachment (below its first row, across the strap).
  [[nodiscard]] Vector2d on_ribbon(const RibbonEnd& end, const Vector2d& place) const {
    const double from_end =
        ribbon_.overlap_m - scene_.straps.front().attachment.top_offset_m - place.x();
    return {end.first ? from_end : ribbon_.length_m - from_end, place.y()};
  }

  // On the panel's triangles that lie under the strap's end, those of `above`.
  [[nodiscard]] std::optional<solver::SurfacePoint> panel_point(const RibbonEnd& end,
                                                                const std::map<int, int>& above,
                                                                const Vector2d& st) const {
    for (const StrapFootprint& foot : end.footprints) {
      const Vector2d uv = ribbon_.to_face(end, foot, st);
      const double across = uv.x() - foot.u_centre;
      if (across < foot.from - 1e-12 || across > foot.to + 1e-12) continue;
      const auto found = locate_among(out_.tote, uv, kOnStrap_m, [&](int triangle) {
        return above.count(triangle) > 0 &&
               out_.tote.surfaces[out_.tote.surface[triangle]].index == foot.face;
      });
      if (found) return found;
    }
    return std::nullopt;
  }

  void label_hold(const Column& column) {
    for (std::size_t i = 0; i + 1 < column.node.size(); ++i) {
      out_.tote.mesh.labelled_edges.push_back({column.node[i], column.node[i + 1], kEdgeHold});
    }
  }

  // s of the columns strictly between both ends.
  [[nodiscard]] std::vector<double> column_places() const {
    const double longest = std::min(size_m_, kStrapAspect * ribbon_.width_m);
    const double stops[4] = {ribbon_.overlap_m, ribbon_.held_from_m, ribbon_.held_to_m,
                             ribbon_.length_m - ribbon_.overlap_m};
    std::vector<double> places;
    for (int part = 0; part < 3; ++part) {
      const double length = stops[part + 1] - stops[part];
      int n = std::max(1, static_cast<int>(std::ceil(length / longest - 1e-9)));
      if (part != 1) n = std::max(n, kFewestLegElements);
      if (part == 1) {
        const bool peg = scene_.support.kind == SupportKind::kHook;
        n = std::max(n, peg ? kPegElements : 2);
        n += n % 2;  // a column in the very middle
      }
      for (int i = 1; i <= n; ++i) {
        if (part == 2 && i == n) break;
        places.push_back(i == n ? stops[part + 1] : stops[part] + length * i / n);
      }
    }
    return places;
  }

  // Triangles between two columns, always the shorter diagonal next.
  void bridge(const Column& a, const Column& b) {
    const double middle = 0.5 * (a.s + b.s);
    const bool held = middle > ribbon_.held_from_m && middle < ribbon_.held_to_m;
    const int region = held ? kRegionStrapHeld : kRegionStrap;
    // Equal diagonals lean the same way seen from either end of the ribbon.
    const bool lean = middle < 0.5 * ribbon_.length_m;
    std::size_t i = 0;
    std::size_t j = 0;
    while (i + 1 < a.t.size() || j + 1 < b.t.size()) {
      bool step_a = j + 1 >= b.t.size();
      if (!step_a && i + 1 < a.t.size()) {
        const double by_a = std::abs(a.t[i + 1] - b.t[j]);
        const double by_b = std::abs(b.t[j + 1] - a.t[i]);
        step_a = std::abs(by_a - by_b) < 1e-9 ? lean : by_a < by_b;
      }
      // d2 = normal x d1: (s, t) is right-handed, so counter-clockwise goes up in s first.
      std::array<int, 3> corner{a.node[i], b.node[j], step_a ? a.node[i + 1] : b.node[j + 1]};
      std::array<Vector2d, 3> st{Vector2d(a.s, a.t[i]), Vector2d(b.s, b.t[j]),
                                 step_a ? Vector2d(a.s, a.t[i + 1]) : Vector2d(b.s, b.t[j + 1])};
      out_.add_triangle(corner, st, region, surface_, 0.0,
                        [this](const Vector2d& p) { return ribbon_.place(p); });
      (step_a ? i : j) += 1;
    }
  }

  const Scene& scene_;
  const Ribbon& ribbon_;
  int surface_;
  double size_m_;
  MeshCollector& out_;
};

void add_base_sheet(const BaseOutline& outline, double offset_m, double size_m,
                    double warp_angle_rad, MeshCollector& out) {
  const double w = outline.half_width_m;
  const double d = outline.half_depth_m;
  const double r = outline.corner_radius_m;
  PlanarRegion region;
  const auto corner = [&](double u, double v, double from) {
    if (r <= 0) {
      region.points.emplace_back(u, v);
      return;
    }
    const Vector2d centre(u - std::copysign(r, u), v - std::copysign(r, v));
    // The sheet's area is the outline's to 0.3 % however large the corners.
    const double share = std::min(0.04, 0.002 * 4 * w * d / (M_PI * r * r));
    for (const Vector2d& p : arc_points(centre, r, from, from + M_PI / 2, share)) {
      if (region.points.empty() || (region.points.back() - p).norm() > 1e-9 * w) {
        region.points.push_back(p);
      }
    }
  };
  corner(w, -d, -M_PI / 2);
  corner(w, d, 0);
  corner(-w, d, M_PI / 2);
  corner(-w, -d, M_PI);
  if ((region.points.front() - region.points.back()).norm() < 1e-9 * w) region.points.pop_back();
  const int n = static_cast<int>(region.points.size());
  for (int i = 0; i < n; ++i) region.segments.push_back({i, (i + 1) % n});
  MeshingOptions options;
  options.size_m = size_m;
  const PlanarMesh mesh = mesh_symmetric_region(region, options);

  const int surface = static_cast<int>(out.tote.surfaces.size());
  out.tote.surfaces.push_back({ToteSurface::Kind::kBaseSheet, 0, "base sheet"});
  const auto place = [offset_m](const Vector2d& uv) { return Vector3d(uv.x(), -uv.y(), offset_m); };
  std::vector<int> node;
  for (const Vector2d& uv : mesh.points) node.push_back(out.add_node(place(uv)));
  for (const auto& t : mesh.triangles) {
    out.add_triangle({node[t[0]], node[t[1]], node[t[2]]},
                     {mesh.points[t[0]], mesh.points[t[1]], mesh.points[t[2]]}, kRegionBaseSheet,
                     surface, warp_angle_rad, place);
  }
}

}  // namespace

bool BaseOutline::contains(const Vector2d& uv, double slack_m) const {
  const double r = corner_radius_m;
  const Vector2d over = (uv.cwiseAbs() - Vector2d(half_width_m - r, half_depth_m - r)).cwiseMax(0);
  return r > 0 ? over.norm() <= r + slack_m : over.maxCoeff() <= slack_m;
}

std::optional<BaseOutline> base_sheet_outline(const Scene& scene) {
  if (scene.base.kind == BaseKind::kNone) return std::nullopt;
  const bool loose = scene.base.kind == BaseKind::kPocket;
  const double clearance = std::max(scene.base.clearance_m, loose ? kLeastPlay_m : 0.0);
  return BaseOutline{base_width_m(scene.bag) / 2 - clearance, scene.bag.depth_m / 2 - clearance,
                     scene.base.corner_radius_m};
}

std::optional<solver::SurfacePoint> ToteMesh::locate(ToteSurface::Kind kind, int index,
                                                     const Vector2d& uv, double slack_m) const {
  return locate_among(*this, uv, slack_m, [&](int triangle) {
    const ToteSurface& s = surfaces[surface[triangle]];
    return s.kind == kind && (index < 0 || s.index == index);
  });
}

ToteMesh coarse_tote_mesh(const Scene& scene, const Pattern& pattern, const PatternMesh& panels,
                          const std::vector<Ribbon>& ribbons, double size_m,
                          double sheet_offset_m) {
  MeshCollector out;
  add_panels(scene, pattern, panels, out);
  for (std::size_t r = 0; r < ribbons.size(); ++r) {
    const int surface = static_cast<int>(out.tote.surfaces.size());
    out.tote.surfaces.push_back({ToteSurface::Kind::kRibbon, static_cast<int>(r), ribbons[r].part});
    RibbonMesher(scene, ribbons[r], surface, size_m, out).run();
  }
  const auto sheet = base_sheet_outline(scene);
  if (sheet && scene.base.kind == BaseKind::kPocket) {
    add_base_sheet(*sheet, sheet_offset_m, size_m, scene.bag.base_warp_angle_rad, out);
  }
  out.tote.smallest_angle_deg = panels.smallest_angle_deg;
  return out.finish();
}

ToteMesh carried_over(const ToteMesh& coarse, solver::ShellMesh fine_mesh) {
  ToteMesh fine = coarse;
  fine.mesh = std::move(fine_mesh);
  fine.surface.clear();
  for (const solver::ChildOf& child : fine.mesh.child_of) {
    fine.surface.push_back(coarse.surface[child.parent]);
  }
  const solver::Descent down(fine.mesh);
  for (ToteStitch& stitch : fine.stitches) {
    stitch.ribbon = down(stitch.ribbon);
    stitch.panel = down(stitch.panel);
    for (solver::StitchPoint& point : stitch.spread) {
      point.a = down(point.a);
      point.b = down(point.b);
    }
  }
  for (auto& feet : fine.strap_feet) {
    for (solver::SurfacePoint& point : feet) point = down(point);
  }
  for (solver::SurfacePoint& point : fine.strap_midpoints) point = down(point);
  return fine;
}

}  // namespace totebench::scenes
