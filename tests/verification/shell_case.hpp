// Parts of cylinders and spheres. On a plane of symmetry the displacement across it and the slope
// are held.
#pragma once

#include "sheet_case.hpp"

namespace totebench::verification {

// x over half the length, the angle from 0 (top) to `to_angle`; planes of symmetry at x = 0 and on
// top.
inline scenes::Scene cylinder_part(double radius, double half_length, double to_angle,
                                   const scenes::PlainSection& section, double size) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scenes::SheetGeometry& g = scene.sheet.geometry;
  g.shape = scenes::SheetShape::kCylinder;
  g.radius_m = radius;
  g.length_m = half_length;
  g.from_angle_rad = 0;
  g.to_angle_rad = to_angle;
  scene.sheet.plain = section;
  scene.mesh.size_m = size;
  hold_edge(scene, "from", {false, true, false}, true);
  hold_edge(scene, "x0", {true, false, false}, true);
  return scene;
}

inline scenes::Scene cylinder_eighth(double radius, double half_length,
                                     const scenes::PlainSection& section, double size) {
  scenes::Scene scene = cylinder_part(radius, half_length, kPi / 2, section, size);
  hold_edge(scene, "to", {false, false, true}, true);
  return scene;
}

// The far end held round, but free to move along the axis.
inline scenes::Scene on_diaphragms(scenes::Scene eighth) {
  hold_edge(eighth, "x1", {false, true, true});
  return eighth;
}

// An eighth of a cylinder pressed in at its top by a quarter of the whole force; probe 0 is there.
inline Solved pinched(scenes::Scene eighth, double radius, double quarter_N) {
  add_point_force(eighth, {0, 0, radius}, {0, 0, -quarter_N});
  add_probe(eighth, {0, 0, radius});
  return solve(eighth, {0, 0, -quarter_N});
}

inline constexpr scenes::PlainSection kHemisphere{6.825e7, 0.3, 0.04, 0};

// A quarter of the hemisphere with a hole of 18 deg, radius 10: a radial force outwards on the x
// axis and the same inwards on the y axis. Probes 0 and 1 are there.
inline scenes::Scene hemisphere_with_a_hole(double size, double force) {
  scenes::Scene scene;
  scene.kind = scenes::SceneKind::kSheet;
  scenes::SheetGeometry& g = scene.sheet.geometry;
  g.shape = scenes::SheetShape::kSphere;
  g.radius_m = 10;
  g.to_angle_rad = kPi / 2;
  g.to_latitude_rad = 72 * kPi / 180;
  scene.sheet.plain = kHemisphere;
  scene.mesh.size_m = size;
  hold_edge(scene, "from", {false, true, false}, true);
  hold_edge(scene, "to", {true, false, false}, true);
  hold_point(scene, {10, 0, 0}, {false, false, true});
  add_point_force(scene, {10, 0, 0}, {force, 0, 0});
  add_point_force(scene, {0, 10, 0}, {0, -force, 0});
  add_probe(scene, {10, 0, 0});
  add_probe(scene, {0, 10, 0});
  return scene;
}

}  // namespace totebench::verification
