// Rest shapes of coupons: a flat parameter plane (u, v), in metres at about true size, and the map
// from it to the true surface. Meshing happens in the plane; nodes are then put on the surface.
//
//   strip, rectangle  (x, y, 0), 0 <= x <= length, 0 <= y <= width
//                     sides y0, x1, y1, x0;  normal +z
//   disc              (x, y, 0) about the origin;  side outer;  normal +z
//   annulus           (r cos a, r sin a, 0);  sides from, outer, to, inner;  normal +z
//   cylinder          (x, R sin a, R cos a), axis x, a = 0 on top
//                     sides from, x1, to, x0;  normal outwards
//   sphere            (R cos b cos a, R cos b sin a, R sin b), a about z, b the latitude
//                     sides inner (from_latitude), to, outer (to_latitude), from;  normal outwards
//
// A sector of a full turn is slit: its `from` and `to` sides lie on each other but are not joined.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "totebench/scenes/scene.hpp"

namespace totebench::scenes {

class SheetChart {
 public:
  // Throws std::invalid_argument with a sentence a person can act on when the sizes are impossible
  // or the shape is a file (see sheet_file.hpp).
  explicit SheetChart(const SheetGeometry& geometry);

  [[nodiscard]] const std::vector<std::string>& side_names() const { return side_names_; }
  [[nodiscard]] bool curved() const;      // the rest shape is not flat
  [[nodiscard]] double extent_m() const;  // diagonal of the parameter plane

  // Equilateral ones of edges `size_m`, or as long as the sheet is narrow, that cover it.
  [[nodiscard]] double triangles(double size_m) const;

  [[nodiscard]] Eigen::Vector3d place(const Eigen::Vector2d& uv) const;
  // Unit tangent from which warp angles are measured: along x on flat shapes, along u on curved.
  [[nodiscard]] Eigen::Vector3d tangent(const Eigen::Vector2d& uv) const;
  [[nodiscard]] Eigen::Vector3d normal(const Eigen::Vector2d& uv) const;

  // The parameters of a point of the surface; empty when the point is not on it. On a slit, the
  // point of the `to` side.
  [[nodiscard]] std::optional<Eigen::Vector2d> parameters_of(const Eigen::Vector3d& point) const;

  // Side nearest to a point of the parameter plane, how far it is, and the point on it.
  struct OnSide {
    int side = 0;  // index into side_names()
    double distance_m = 0;
    Eigen::Vector2d foot = Eigen::Vector2d::Zero();
  };
  [[nodiscard]] OnSide nearest_side(const Eigen::Vector2d& uv) const;

  // The border as a closed counter-clockwise polygon with steps of at most `size_m`; every one of
  // `fixed` that lies on the border is one of its corners.
  [[nodiscard]] std::vector<Eigen::Vector2d> outline(
      double size_m, const std::vector<Eigen::Vector2d>& fixed) const;

 private:
  [[nodiscard]] OnSide on_side(int side, const Eigen::Vector2d& uv) const;
  [[nodiscard]] Eigen::Vector2d border_point(int side, double t) const;  // 0 <= t <= 1
  [[nodiscard]] double border_parameter(int side, const Eigen::Vector2d& uv) const;
  [[nodiscard]] double side_length_m(int side) const;

  SheetGeometry geometry_;
  std::vector<std::string> side_names_;            // counter-clockwise, from the corner `low_`
  Eigen::Vector2d low_ = Eigen::Vector2d::Zero();  // corners of the parameter rectangle
  Eigen::Vector2d high_ = Eigen::Vector2d::Zero();
  double turn_radius_m_ = 0;  // v (annulus, cylinder) or u (sphere) is this times the angle
};

}  // namespace totebench::scenes
