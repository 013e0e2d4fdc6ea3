// Where the faces of a bag that lies flat when empty start: a little open, so that neither face
// starts inside the other.
#pragma once

#include <Eigen/Core>
#include <functional>

namespace totebench::scenes {

struct FlatOutline {
  double half_width_m = 0;
  double height_m = 0;
  double corner_radius_m = 0;  // of the lower corners
  // Half the width of the face at height v.
  [[nodiscard]] double half_width_at(double v) const;
};

using Placement = std::function<Eigen::Vector3d(const Eigen::Vector2d&)>;

// Bulges by amplitude (1 - (u / half width)^2) sin(pi v / (2 height)), towards +y for the front.
[[nodiscard]] Placement bulged_face(const FlatOutline& outline, double amplitude_m, bool front);

// Front and back as the halves of an ellipse of the width's own girth, whose ratio of axes falls
// from `ratio` at the opening to 0 at the bottom. u stays a length along the ellipse.
[[nodiscard]] Placement opened_face(const FlatOutline& outline, double ratio, bool front);

}  // namespace totebench::scenes
