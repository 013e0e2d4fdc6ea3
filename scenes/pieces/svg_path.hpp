// The path language of SVG 2 (section 9.3), and its transforms (CSS Transforms 1, section 6).
#pragma once

#include <Eigen/Geometry>
#include <string_view>
#include <vector>

namespace totebench::scenes {

struct SubPath {
  std::vector<Eigen::Vector2d> points;
  bool closed = false;
};

// Points of every subpath of a "d" attribute. Throws std::invalid_argument naming the place.
[[nodiscard]] std::vector<SubPath> path_points(std::string_view d);

// A "transform" attribute. Throws std::invalid_argument when it is not one.
[[nodiscard]] Eigen::Affine2d svg_transform(std::string_view text);

// Numbers with commas or blanks between them, as in "points".
[[nodiscard]] std::vector<double> svg_numbers(std::string_view text);

// Appends an arc about `centre` with the half axes `radii`, the first of them turned by `tilt`,
// from angle `from` to `to` (rad), without its first point.
void append_arc(const Eigen::Vector2d& centre, const Eigen::Vector2d& radii, double tilt,
                double from, double to, std::vector<Eigen::Vector2d>& points);

}  // namespace totebench::scenes
