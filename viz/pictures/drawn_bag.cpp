#include "totebench/viz/drawn_bag.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <numbers>

#include "totebench/viz/fields.hpp"
#include "viz/pictures/drafting.hpp"

namespace totebench::viz {

View bag_view() {
  constexpr double kTurn_rad = 202 * std::numbers::pi / 180;  // the front is on the side of +y
  constexpr double kLift_rad = 6 * std::numbers::pi / 180;
  return view_from(kTurn_rad, kLift_rad);
}

DrawnParts::DrawnParts(const solver::ShellMesh& mesh) {
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    const int region = mesh.triangles[t].region;
    (scenes::is_strap(region)             ? straps
     : region == scenes::kRegionBaseSheet ? sheet
                                          : cloth)
        .push_back(t);
  }
}

Eigen::Matrix3Xd with_straps_lifted(const scenes::Tote& tote, const Eigen::Matrix3Xd& x,
                                    const std::vector<int>& straps) {
  const solver::ShellMesh& mesh = tote.model.mesh;
  std::vector<double> side(tote.triangle_part.size(), 0.0);  // +1: the strap's normal is outwards
  for (const solver::Stitch& stitch : tote.model.stitches) {
    if (!scenes::is_strap(mesh.triangles[stitch.a.triangle].region)) continue;
    side[tote.part[stitch.a.triangle]] +=
        solver::normal_of(mesh, x, stitch.a).dot(solver::normal_of(mesh, x, stitch.b));
  }
  Eigen::Matrix3Xd lifted = x;
  std::vector<bool> moved(static_cast<std::size_t>(mesh.n_nodes()), false);
  for (const int t : straps) {
    const double lift = std::max(2e-3, tote.thickness_m[t]) * (side[tote.part[t]] < 0 ? -1 : 1);
    for (int c = 0; c < 6; ++c) {
      static const double kPlace[6][2] = {{0, 0}, {1, 0}, {0, 1}, {0.5, 0}, {0.5, 0.5}, {0, 0.5}};
      const int node = mesh.triangles[t].node[c];
      if (moved[node]) continue;
      moved[node] = true;
      lifted.col(node) += lift * solver::normal_of(mesh, x, {t, kPlace[c][0], kPlace[c][1]});
    }
  }
  return lifted;
}

void Box::add(const Eigen::Vector2d& p) {
  low = low.cwiseMin(p);
  high = high.cwiseMax(p);
}
void Box::add(const Eigen::Matrix3Xd& points, const View& view) {
  for (Eigen::Index i = 0; i < points.cols(); ++i) add(view.flat(points.col(i)));
}

void DrawnBag::move(const Eigen::Vector3d& by) {
  for (DrawnSurface* surface : {&cloth, &straps, &sheet, &things}) {
    if (surface->points.cols() > 0) surface->points.colwise() += by;
  }
  for (Eigen::Matrix3Xd& line : outlines) line.colwise() += by;
}

Box DrawnBag::box(const View& view) const {
  Box all;
  for (const DrawnSurface* surface : {&cloth, &straps, &sheet}) all.add(surface->points, view);
  return all;
}

DrawnBag draw_bag(const scenes::Tote& tote, const DrawnParts& parts, const Eigen::Matrix3Xd& x,
                  const CornerValues* value) {
  const solver::ShellMesh& mesh = tote.model.mesh;
  const Eigen::Matrix3Xd lifted = with_straps_lifted(tote, x, parts.straps);
  DrawnBag bag;
  bag.cloth = tessellate(mesh, x, parts.cloth, tote.part, value);
  bag.straps = tessellate(mesh, lifted, parts.straps, tote.part);
  bag.sheet = tessellate(mesh, x, parts.sheet, tote.part);
  bag.cloth.colour = kClothColour;
  bag.straps.colour = kStrapColour;
  bag.sheet.colour = kSheetColour;
  bag.outlines = panel_outlines(mesh, x, parts.cloth, tote.part);
  for (const auto& line : panel_outlines(mesh, lifted, parts.straps, tote.part)) {
    bag.outlines.push_back(line);
  }
  return bag;
}

DrawnSurface draw_things(const scenes::Tote& tote, const std::vector<solver::BodyPose>& bodies) {
  DrawnSurface surface;
  surface.colour = kThingColour;
  std::vector<Eigen::Vector3d> points;
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    const solver::BodySkin& skin = tote.model.bodies[b].skin;
    const int first = static_cast<int>(points.size());
    for (Eigen::Index i = 0; i < skin.point_m.cols(); ++i) {
      points.push_back(bodies[b].at(skin.point_m.col(i)));
    }
    for (const auto& [i, j, k] : skin.face) {
      surface.triangles.push_back({first + i, first + j, first + k});
    }
  }
  if (points.empty()) return surface;
  surface.points = Eigen::Map<const Eigen::Matrix3Xd>(points.front().data(), 3,
                                                      static_cast<Eigen::Index>(points.size()));
  return surface;
}

namespace {

// A skin as it is drawn: faces of one smooth part share their nodes, so that no line stands
// between.
struct DrawnSkin {
  std::vector<std::array<int, 2>> node;  // half-way between these points of the skin
  std::vector<std::array<int, 6>> triangle;
  std::vector<int> part;  // per triangle, from 0
  int n_parts = 0;
};

// The parts of a box are its faces, of a cylinder its side and its ends; a ball is one.
DrawnSkin drawn_skin(const solver::BodySkin& skin) {
  using Round = solver::BodySkin::Round;
  DrawnSkin drawn;
  std::vector<Eigen::Vector3d> normals;  // one a part
  std::map<std::array<int, 3>, int> known;
  const auto node = [&](int part, int i, int j) {
    const auto [entry, is_new] =
        known.try_emplace({part, std::min(i, j), std::max(i, j)}, static_cast<int>(known.size()));
    if (is_new) drawn.node.push_back({i, j});
    return entry->second;
  };
  for (const auto& [i, j, k] : skin.face) {
    const Eigen::Vector3d a = skin.point_m.col(i);
    Eigen::Vector3d n = (skin.point_m.col(j) - a).cross(skin.point_m.col(k) - a).normalized();
    const bool end = std::abs(n.z()) > 1 - 1e-9;
    if (skin.round == Round::kBall || (skin.round == Round::kCylinder && !end)) n.setZero();
    std::size_t part = 0;
    while (part < normals.size() && (normals[part] - n).norm() > 1e-6) ++part;
    if (part == normals.size()) normals.push_back(n);
    const int p = static_cast<int>(part);
    drawn.triangle.push_back(
        {node(p, i, i), node(p, j, j), node(p, k, k), node(p, i, j), node(p, j, k), node(p, k, i)});
    drawn.part.push_back(p);
  }
  drawn.n_parts = static_cast<int>(normals.size());
  return drawn;
}

}  // namespace

MeshWithThings mesh_with_things(const scenes::Tote& tote) {
  MeshWithThings all{tote.model.mesh, tote.part, {}};
  int first = all.mesh.n_nodes();
  int part = static_cast<int>(tote.triangle_part.size());
  for (const solver::Body& body : tote.model.bodies) {
    const DrawnSkin skin = drawn_skin(body.skin);
    for (std::size_t t = 0; t < skin.triangle.size(); ++t) {
      solver::Triangle triangle;
      for (int c = 0; c < 6; ++c) triangle.node[c] = first + skin.triangle[t][c];
      all.things.push_back(static_cast<int>(all.mesh.triangles.size()));
      all.mesh.triangles.push_back(triangle);
      all.part_of.push_back(part + skin.part[t]);
    }
    first += static_cast<int>(skin.node.size());
    part += skin.n_parts;
  }
  all.mesh.position =
      places_with_things(tote, tote.model.mesh.position, solver::start_poses(tote.model));
  return all;
}

Eigen::Matrix3Xd places_with_things(const scenes::Tote& tote, const Eigen::Matrix3Xd& x,
                                    const std::vector<solver::BodyPose>& bodies, double size) {
  std::vector<Eigen::Vector3d> places;
  for (std::size_t b = 0; b < bodies.size(); ++b) {
    const solver::Body& body = tote.model.bodies[b];
    const double of = body.fixed ? 1 : size;
    for (const auto& [i, j] : drawn_skin(body.skin).node) {
      places.push_back(
          bodies[b].at(0.5 * of * (body.skin.point_m.col(i) + body.skin.point_m.col(j))));
    }
  }
  Eigen::Matrix3Xd all(3, x.cols() + static_cast<Eigen::Index>(places.size()));
  all.leftCols(x.cols()) = x;
  for (std::size_t i = 0; i < places.size(); ++i) {
    all.col(x.cols() + static_cast<Eigen::Index>(i)) = places[i];
  }
  return all;
}

void add_bag(Picture& picture, const DrawnBag& bag) {
  picture.surfaces.push_back(bag.cloth);
  picture.surfaces.push_back(bag.straps);
  if (!bag.sheet.triangles.empty()) picture.surfaces.push_back(bag.sheet);
  if (!bag.things.triangles.empty()) picture.surfaces.push_back(bag.things);
  picture.lines.push_back({bag.outlines, kSeamColour, 1.6, false});
}

double bar_top(const scenes::Tote& tote, const CornerValues& values, const std::vector<int>& cloth,
               double& largest) {
  std::vector<std::pair<double, double>> by_value;  // (value, area)
  double whole = 0;
  for (const int t : cloth) {
    const double area = solver::rest_area(tote.model.mesh, t) / 3;
    for (const double value : values[t]) {
      largest = std::max(largest, value);
      if (tote.model.mesh.triangles[t].region == scenes::kRegionBase) continue;
      by_value.emplace_back(value, area);
      whole += area;
    }
  }
  std::sort(by_value.begin(), by_value.end());
  double below = 0;
  for (const auto& [value, area] : by_value) {
    below += area;
    if (below >= 0.98 * whole && value > 0) return value;
  }
  return largest > 0 ? largest : 1;
}

Cuts cut_both(const DrawnBag& empty, const DrawnBag& loaded, const Eigen::Vector3d& normal,
              const Eigen::Vector3d& along, double offset, const View& view) {
  const auto flat = [&](const DrawnSurface& surface) {
    std::vector<Eigen::Matrix3Xd> lines = cut(surface, normal, offset);
    for (Eigen::Matrix3Xd& line : lines) {
      for (Eigen::Index i = 0; i < line.cols(); ++i) {
        const Eigen::Vector3d p = line.col(i);
        line.col(i) = view.space(p.dot(along), p.z());
      }
    }
    return lines;
  };
  return {flat(empty.cloth), flat(loaded.cloth), flat(empty.sheet), flat(loaded.sheet),
          flat(loaded.things)};
}

Box Cuts::box(const View& view) const {
  Box box;
  for (const auto* lines : {&empty, &loaded, &empty_sheet, &loaded_sheet}) {
    for (const auto& line : *lines) box.add(line, view);
  }
  return box;
}

void Cuts::move(const Eigen::Vector3d& by) {
  for (auto* lines : {&empty, &loaded, &empty_sheet, &loaded_sheet, &things}) {
    for (Eigen::Matrix3Xd& line : *lines) line.colwise() += by;
  }
}

void add_cuts(Picture& picture, const Cuts& cuts) {
  const double mpp = picture.metres_per_px();
  picture.lines.push_back({dashed(cuts.empty, 9 * mpp, 6 * mpp), kSoftInk, 1.8, true});
  picture.lines.push_back({dashed(cuts.empty_sheet, 9 * mpp, 6 * mpp), kSheetColour, 2.5, true});
  picture.lines.push_back({cuts.things, kThingColour, 2.2, true});
  picture.lines.push_back({cuts.loaded, kInk, 2.6, true});
  picture.lines.push_back({cuts.loaded_sheet, kSheetColour, 4, true});
}

CornerValues shown_membrane_force(const scenes::Tote& tote, const solver::ShellFields& fields,
                                  double per_SI) {
  CornerValues value =
      smooth_to_corners(tote.model.mesh, largest_membrane_force(fields), tote.part);
  for (auto& corner : value) {
    for (double& v : corner) v *= per_SI;
  }
  return value;
}

}  // namespace totebench::viz
