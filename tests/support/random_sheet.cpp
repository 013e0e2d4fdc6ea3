#include <algorithm>
#include <cmath>
#include <string>

#include "scenes/format/resolve.hpp"
#include "tests/support/random_draw.hpp"
#include "tests/support/random_scenes.hpp"

namespace totebench::test {
namespace {

using namespace scenes;
using Eigen::Vector3d;

constexpr double kDegree = M_PI / 180;

class SheetMaker {
 public:
  SheetMaker(unsigned seed, Draw draw) : random_(seed), edge_(draw == Draw::kEdge) {}

  Scene make(unsigned seed) {
    scene_.kind = SceneKind::kSheet;
    scene_.name = "random sheet " + std::to_string(seed);
    scene_.units = random_.one_of<std::string>({"in", "cm", "si"});
    geometry();
    section();
    mesh();
    supports();
    loads();
    if (edge_ || random_.one_in(2)) probes();
    move();
    return scene_;
  }

 private:
  void geometry() {
    SheetGeometry& g = scene_.sheet.geometry;
    g.shape = random_.kind<SheetShape>(6);
    g.length_m = random_.between(0.05, 0.6);
    g.width_m = random_.between(0.02, 0.3);
    g.radius_m = random_.between(0.05, 0.3);
    g.inner_radius_m = g.radius_m * random_.between(0.2, 0.8);
    g.from_angle_rad = random_.one_of({0.0, -30.0, 10.0}) * kDegree;
    g.to_angle_rad = random_.one_of({60.0, 90.0, 170.0}) * kDegree;
    g.from_latitude_rad = random_.one_of({0.0, -20.0, 20.0}) * kDegree;
    g.to_latitude_rad = random_.one_of({45.0, 70.0, 80.0}) * kDegree;
    if (edge_ && random_.one_in(5)) g.width_m = g.length_m * random_.one_of({1e-2, 1e-3, 1e-6});
    if (edge_ && random_.one_in(5)) {
      g.inner_radius_m = g.radius_m * random_.one_of({1.0, 1 + 1e-9, 1 - 1e-9, 0.98, 1.1});
    }
    if (edge_ && random_.one_in(5)) g.to_angle_rad = random_.one_of({360.0, -90.0, 0.0}) * kDegree;
    if (edge_ && random_.one_in(5)) g.to_latitude_rad = random_.one_of({89.0, 90.0, 0.0}) * kDegree;
    g.width_m = std::max(g.width_m, 1e-5);
    g.inner_radius_m = std::max(g.inner_radius_m, 1e-5);
    forget_unused();
  }

  [[nodiscard]] bool flat_rectangle() const {
    const SheetShape shape = scene_.sheet.geometry.shape;
    return shape == SheetShape::kStrip || shape == SheetShape::kRectangle;
  }

  // What has no meaning for a shape is not written in its file, so it is not in the scene either.
  void forget_unused() {
    SheetGeometry& g = scene_.sheet.geometry;
    SheetGeometry kept;
    kept.shape = g.shape;
    if (flat_rectangle()) {
      kept.length_m = g.length_m;
      kept.width_m = g.width_m;
    } else {
      kept.radius_m = g.radius_m;
      if (g.shape == SheetShape::kAnnulus) kept.inner_radius_m = g.inner_radius_m;
      if (g.shape == SheetShape::kCylinder) kept.length_m = g.length_m;
      if (g.shape != SheetShape::kDisc) {
        kept.from_angle_rad = g.from_angle_rad;
        kept.to_angle_rad = g.to_angle_rad;
      }
      if (g.shape == SheetShape::kSphere) {
        kept.from_latitude_rad = g.from_latitude_rad;
        kept.to_latitude_rad = g.to_latitude_rad;
      }
    }
    g = kept;
  }

  void section() {
    if (random_.one_in(2)) {
      scene_.sheet.plain = PlainSection{1e9, random_.one_of({0.0, 0.3, 0.5}), 1e-3, 0.3};
      if (edge_ && random_.one_in(6)) scene_.sheet.plain->areal_mass_kg_per_m2 = 0;
    } else {
      scene_.sheet.layers = {{"cotton_duck_10oz"}, {"fusible_woven_light"}};
    }
    if (edge_ && random_.one_in(12)) scene_.sheet.layers = {{"denim_12oz"}};
    scene_.sheet.warp_angle_rad = random_.one_of({0.0, 0.5});
  }

  std::string border() {
    switch (scene_.sheet.geometry.shape) {
      case SheetShape::kDisc:
        return random_.one_of<std::string>({"outer", "border"});
      case SheetShape::kAnnulus:
      case SheetShape::kSphere:
        return random_.one_of<std::string>({"outer", "inner", "from", "to", "border"});
      case SheetShape::kCylinder:
        return random_.one_of<std::string>({"x0", "x1", "from", "to", "border"});
      default:
        return random_.one_of<std::string>({"x0", "x1", "y0", "y1", "border"});
    }
  }

  // On the surface, inside, on the border or in a corner.
  Vector3d place() {
    const SheetGeometry& g = scene_.sheet.geometry;
    const double s = random_.one_of({0.0, 1e-4, 0.31, 0.5, 0.77, 1.0});
    const double t = random_.one_of({0.0, 1e-4, 0.23, 0.5, 0.69, 1.0});
    const double angle = g.from_angle_rad + t * (g.to_angle_rad - g.from_angle_rad);
    const double latitude = g.from_latitude_rad + s * (g.to_latitude_rad - g.from_latitude_rad);
    switch (g.shape) {
      case SheetShape::kDisc:
        return g.radius_m * s * Vector3d(std::cos(6 * t), std::sin(6 * t), 0);
      case SheetShape::kAnnulus:
        return (g.inner_radius_m + s * (g.radius_m - g.inner_radius_m)) *
               Vector3d(std::cos(angle), std::sin(angle), 0);
      case SheetShape::kCylinder:
        return {s * g.length_m, g.radius_m * std::sin(angle), g.radius_m * std::cos(angle)};
      case SheetShape::kSphere:
        return g.radius_m * Vector3d(std::cos(latitude) * std::cos(angle),
                                     std::cos(latitude) * std::sin(angle), std::sin(latitude));
      default:
        return {s * g.length_m, t * g.width_m, 0};
    }
  }

  // Some hundred triangles.
  void mesh() {
    const double area = std::max(sheet_area_m2(scene_.sheet.geometry), 1e-12);
    scene_.mesh.size_m = std::sqrt(area / 200) * random_.between(0.7, 2);
    if (edge_ && random_.one_in(6)) {
      scene_.mesh.size_m *= random_.one_of({1e-3, 0.3, 3.0, 100.0});
    }
  }

  void supports() {
    SheetSupport support;
    support.where = border();
    support.clamp = random_.one_in(2);
    scene_.sheet.supports = {support};
    if (edge_ && random_.one_in(5)) scene_.sheet.supports[0].fix[random_.whole(0, 2)] = false;
    if (!random_.one_in(3)) return;
    SheetSupport point;
    point.point_m = place();
    point.clamp = edge_ && random_.one_in(6);
    scene_.sheet.supports.push_back(point);
  }

  void loads() {
    const int n = random_.whole(1, 3);
    for (int i = 0; i < n; ++i) {
      SheetLoad load;
      load.kind = random_.kind<SheetLoad::Kind>(7);
      using Kind = SheetLoad::Kind;
      if (load.kind == Kind::kAreaForce || load.kind == Kind::kEdgeForce ||
          load.kind == Kind::kPointForce) {
        load.vector = {0.5, 0, -2};
      }
      if (load.kind == Kind::kPressure || load.kind == Kind::kEdgeMoment) load.magnitude = 10;
      if (load.kind == Kind::kEdgeForce || load.kind == Kind::kEdgeMoment) load.where = border();
      if (load.kind == Kind::kPointForce) load.point_m = place();
      if (load.kind == Kind::kFill) {
        load.magnitude = 0.5;
        load.bulk_density_kg_per_m3 = 1000;
      }
      scene_.sheet.loads.push_back(load);
    }
  }

  void probes() {
    const int n = random_.whole(1, 3);
    for (int i = 0; i < n; ++i) {
      scene_.sheet.probes.push_back({"p" + std::to_string(i), place()});
    }
    if (edge_ && random_.one_in(8)) scene_.sheet.probes.back().point_m.z() += 0.01;
  }

  void move() {
    if (!random_.one_in(3)) return;
    scene_.sheet.supports[0].move_m = random_.one_of({Vector3d(0, 0, 1e-3), Vector3d(1e-3, 0, 0)});
    if (edge_ && random_.one_in(3)) scene_.sheet.loads.clear();
  }

  Random random_;
  bool edge_;
  Scene scene_;
};

}  // namespace

Scene random_sheet(unsigned seed, Draw draw) { return SheetMaker(seed, draw).make(seed); }

}  // namespace totebench::test
