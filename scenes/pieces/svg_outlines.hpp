// What is drawn in an SVG file (Scalable Vector Graphics 2, W3C), as polygons: path, rect, circle,
// ellipse, polygon, polyline and line, with the transforms of their groups. Text, images, styles
// and what only defines other things are passed over.
#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace totebench::scenes {

struct DrawnShape {
  std::string id;
  std::vector<Eigen::Vector2d> points;  // in the drawing's user units, y down
  bool closed = false;
};

struct SvgDrawing {
  std::vector<DrawnShape> shapes;
  // Length of a user unit in metres, where width and viewBox say so in mm, cm or in. Pixels and
  // points are no measure: programs disagree on what they are.
  std::optional<double> unit_m;
};

// Whether this build reads drawings: the page has no files.
[[nodiscard]] bool reads_drawings();

// Curves become chords off them by at most 2e-5 of their length. Throws std::invalid_argument with
// what is wrong and where.
[[nodiscard]] SvgDrawing read_svg(std::string_view text);

}  // namespace totebench::scenes
