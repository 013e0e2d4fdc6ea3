// A picture described without any drawing library: surfaces, lines, arrows and text placed in one
// space (metres), seen by one camera in parallel projection, so that everything in it has one
// scale. viz/vtk/draw.cpp paints it.
#pragma once

#include <Eigen/Core>
#include <array>
#include <cmath>
#include <string>
#include <vector>

namespace totebench::viz {

using Colour = Eigen::Vector3d;  // red, green, blue in 0..1

struct DrawnSurface {
  Eigen::Matrix3Xd points;                    // m
  std::vector<std::array<int, 3>> triangles;  // flat, indices into points
  std::vector<double> value;                  // per point, in the colour bar's unit; empty = plain
  Colour colour{0.8, 0.8, 0.8};
};

struct DrawnLines {
  std::vector<Eigen::Matrix3Xd> polylines;  // m
  Colour colour{0, 0, 0};
  double width_px = 1.5;
  bool on_top = false;  // drawn over everything (dimensions)
};

struct DrawnArrows {
  Eigen::Matrix3Xd from;    // m
  Eigen::Matrix3Xd vector;  // m, from tail to head
  Colour colour{0, 0, 0};
};

struct DrawnText {
  Eigen::Vector3d at = Eigen::Vector3d::Zero();  // m
  std::string text;
  int size_px = 22;
  int horizontal = 0;  // -1: `at` is the left end, 0: the centre, 1: the right end
  int vertical = 0;    // -1: `at` is the bottom, 0: the centre, 1: the top
  bool bold = false;
  Colour colour{0.13, 0.13, 0.15};
};

struct ColourBar {
  std::string title;
  double low = 0;
  double high = 1;
  bool more_above = false;  // some values lie above `high`
  // Where it stands in the picture, in view coordinates (m): its left lower corner and its size.
  Eigen::Vector2d corner_m = Eigen::Vector2d::Zero();
  Eigen::Vector2d size_m = Eigen::Vector2d::Zero();
  bool shown = false;
};

// The camera looks along `-towards_viewer`; view coordinates are (p . right, p . up).
struct View {
  Eigen::Vector3d right = Eigen::Vector3d::UnitX();
  Eigen::Vector3d up = Eigen::Vector3d::UnitZ();
  Eigen::Vector3d towards_viewer = -Eigen::Vector3d::UnitY();
  [[nodiscard]] Eigen::Vector2d flat(const Eigen::Vector3d& p) const {
    return {p.dot(right), p.dot(up)};
  }
  // The point of the plane through the origin that is seen at `flat`.
  [[nodiscard]] Eigen::Vector3d space(double u, double v) const { return u * right + v * up; }
};

struct Picture {
  View view;
  Eigen::Vector2d low_m = Eigen::Vector2d::Zero();   // what the picture covers,
  Eigen::Vector2d high_m = Eigen::Vector2d::Ones();  // in view coordinates
  int width_px = 1800;                               // the height follows from what it covers
  // What a narrow screen shows one below the other: from and to along the width, 0 to 1.
  std::vector<std::array<double, 2>> parts;
  std::vector<DrawnSurface> surfaces;
  std::vector<DrawnLines> lines;
  std::vector<DrawnArrows> arrows;
  std::vector<DrawnText> texts;
  ColourBar bar;
  [[nodiscard]] double metres_per_px() const { return (high_m.x() - low_m.x()) / width_px; }
  [[nodiscard]] int height_px() const {
    return static_cast<int>(std::lround((high_m.y() - low_m.y()) / metres_per_px()));
  }
};

// The camera seen from `turn_rad` to the right of -y and `lift_rad` above the horizon.
[[nodiscard]] View view_from(double turn_rad, double lift_rad);

// Colour at share 0..1 of the map used throughout: "viridis" by S. van der Walt and N. Smith
// (2015, CC0), perceptually uniform and legible with the common colour-vision deficiencies.
[[nodiscard]] Colour map_colour(double share);

}  // namespace totebench::viz
