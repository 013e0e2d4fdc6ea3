// Curved shells: the obstacle course of linear problems. Symmetric parts are modelled.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>

#include "book_picture.hpp"
#include "shell_case.hpp"

namespace totebench::verification {
namespace {

const char* const kMacNeal = "MacNeal and Harder, FE Anal. Des. 1 (1985) 3-20";

// VERIFICATION  ScordelisLo_Roof
// Reference   Scordelis-Lo roof in MacNeal and Harder (1985): drop of the free edge's middle 0.3024
//             (a shell with shear; another code's tables have 0.3020 and 0.3014 for two kinds of
//             diaphragm)
// Inputs      R = 25, L = 50, t = 0.25, E = 4.32e8, nu = 0, half angle 40 deg, 90 per unit area;
//             here a thousandth of it, as the problem is linear
// Expected    0.3024
// Tolerance   1 %: the sources differ by 0.3 % among themselves
// Not covered orthotropy, follower loads
TEST(ShellObstacles, ScordelisLoRoof) {
  const Source source = {"shells", std::string(kMacNeal) + ", Scordelis-Lo roof",
                         "the sources differ by 0.3 % among themselves; thin-shell codes tend to "
                         "0.3006 (from memory)",
                         Quoted::kYes};
  Refinement drop(source, "Scordelis-Lo roof, drop of the free edge", 0.3024);
  const double half = 40 * kPi / 180;
  const double share = 1e-3;
  for (const double size : {8.0, 4.0, 2.0}) {
    scenes::Scene scene = cylinder_part(25, 25, half, {4.32e8, 0, 0.25, 0}, size);
    hold_edge(scene, "x1", {false, true, true});
    add_area_force(scene, {0, 0, -90 * share});
    add_probe(scene, {0, 25 * std::sin(half), 25 * std::cos(half)});
    scenes::SheetModel sheet = built(scene);
    const Eigen::Vector3d applied = sheet.model.payload_force_N.rowwise().sum();
    EXPECT_NEAR(applied.z(), -90 * share * 25 * 25 * half, 1e-3 * share * 90 * 625 * half);
    const Solved solved = solve(std::move(sheet), applied);
    if (HasFatalFailure()) return;
    drop.add(size, solved.triangles(), -solved.displacement(0).z() / share);
  }
  drop.expect_within(0.01);
}

// VERIFICATION  PinchedCylinders_Linear
// Reference   on rigid diaphragms: 1.82488e-5 = 164.24 P/(E t) (as carried by two open programs);
//             with free ends: 0.1139 (from memory); inextensional bending, w = 0.0745 P R^3 / (D
//             L), gives 0.1086
// Inputs      diaphragms: R = 300, L = 600, t = 3, E = 3e6, nu = 0.3, P = 1, here
//             1000 (w is 0.6 % of t)
//             free ends: R = 4.953, L = 10.35, t = 0.094, E = 10.5e6, nu = 0.3125, P = 100, here a
//             hundredth of it
// Tolerance   1 % and 2 %: a point load's dimple wants a fine mesh
// Not covered shear across the thickness (it adds 0.1 % here)
TEST(ShellObstacles, PinchedCylinders) {
  const Source ends = {"shells", std::string(kMacNeal) + ", pinched cylinder on diaphragms",
                       "the dimple under a point load wants a fine mesh", Quoted::kYes};
  Refinement held(ends, "pinched cylinder on diaphragms, w (1e-5)", 1.82488);
  for (const double size : {50.0, 28.0, 14.0}) {
    const Solved solved =
        pinched(on_diaphragms(cylinder_eighth(300, 300, {3e6, 0.3, 3, 0}, size)), 300, 250);
    if (HasFatalFailure()) return;
    held.add(size, solved.triangles(), -1e2 * solved.displacement(0).z());
  }
  held.expect_within(0.02);

  const Source open = {"shells",
                       "the value shell elements are held to in the literature (from memory); "
                       "inextensional bending, "
                       "0.0745 P R^3/(D L), gives 0.1086",
                       "four digits remembered; the formula takes each ring for itself",
                       Quoted::kYes};
  const double rigidity = 10.5e6 * std::pow(0.094, 3) / (12 * (1 - 0.3125 * 0.3125));
  EXPECT_NEAR(0.0745 * 100 * std::pow(4.953, 3) / (rigidity * 10.35), 0.1086, 5e-5);
  Refinement free(open, "pinched cylinder, free ends, w", 0.1139);
  for (const double size : {1.5, 1.0, 0.7}) {
    const Solved solved =
        pinched(cylinder_eighth(4.953, 5.175, {10.5e6, 0.3125, 0.094, 0}, size), 4.953, 0.25);
    if (HasFatalFailure()) return;
    free.add(size, solved.triangles(), -1e2 * solved.displacement(0).z());
  }
  free.expect_within(0.01);
}

// A quarter of the hemisphere without a hole: an octant of the sphere, three-sided, n triangles a
// side. A model of the solver's own, as a chart of latitude and longitude has no pole.
solver::Model octant(int n, double radius, const solver::Section& section) {
  std::vector<Eigen::Vector3d> points;
  std::vector<std::array<int, 3>> corners;
  const auto at = [n](int i, int j) { return i * (n + 1) - i * (i - 1) / 2 + j; };
  for (int i = 0; i <= n; ++i) {
    for (int j = 0; j + i <= n; ++j) {
      points.push_back(radius * Eigen::Vector3d(n - i - j, i, j).normalized());
      if (i + j == n) continue;
      corners.push_back({at(i, j), at(i + 1, j), at(i, j + 1)});
      if (i + j + 1 < n) corners.push_back({at(i + 1, j), at(i + 1, j + 1), at(i, j + 1)});
    }
  }
  Eigen::Matrix3Xd position(3, static_cast<Eigen::Index>(points.size()));
  for (std::size_t i = 0; i < points.size(); ++i) {
    position.col(static_cast<Eigen::Index>(i)) = points[i];
  }
  solver::Model model;
  model.mesh = solver::second_order_mesh(position, corners);
  solver::ShellMesh& mesh = model.mesh;
  for (int i = 0; i < mesh.n_nodes(); ++i)
    mesh.position.col(i) *= radius / mesh.position.col(i).norm();
  mesh.warp.clear();
  for (int t = 0; t < mesh.n_triangles(); ++t) {
    for (int k = 0; k < 6; ++k) mesh.rest[t].col(k) = mesh.position.col(mesh.triangles[t].node[k]);
    mesh.warp.push_back(
        mesh.rest[t].leftCols<3>().rowwise().sum().cross(Eigen::Vector3d(1, -1, 0)).normalized());
    for (int k = 0; k < 3; ++k) {
      const int a = mesh.triangles[t].node[k];
      const int b = mesh.triangles[t].node[(k + 1) % 3];
      const auto on = [&](int axis) {
        return std::abs(mesh.position(axis, a)) + std::abs(mesh.position(axis, b)) < 1e-9 * radius;
      };
      if (on(0) || on(1)) {
        mesh.labelled_edges.push_back({a, b, 1});
      } else if (!on(2) && a < b) {
        mesh.labelled_edges.push_back({a, b, 2});
      }
    }
  }
  solver::EdgeRule symmetry;
  symmetry.label = 1;
  symmetry.clamped = true;
  solver::EdgeRule curved;
  curved.label = 2;
  curved.joint = solver::Joint::kAsPlaced;
  model.edge_rules = {symmetry, curved};
  model.sections = {section};
  for (int i = 0; i < mesh.n_nodes(); ++i) {
    for (int axis = 0; axis < 2; ++axis) {
      if (std::abs(mesh.position(axis, i)) < 1e-9 * radius) model.fixed.push_back({i, axis});
    }
  }
  model.fixed.push_back({0, 2});
  return model;
}

// VERIFICATION  PinchedHemisphere_Linear
// Reference   closed hemisphere 0.0924 (as carried by two open programs); with an 18 deg hole 0.093
//             to 0.0940 in the literature, thin-shell limit 0.0935 (from memory)
// Inputs      R = 10, t = 0.04, E = 6.825e7, nu = 0.3, alternating radial forces 2 at the equator,
//             here a tenth
// Tolerance   1 %: the scatter of the literature
TEST(ShellObstacles, PinchedHemispheres) {
  const double share = 0.1;
  // The mean of the two sides: the first terms of large displacement cancel.
  const auto mean = [](const Solved& solved) {
    return (solved.displacement(0).x() - solved.displacement(1).y()) / 2;
  };
  scenes::Scene flat = flat_sheet(1, 1, kHemisphere, 1);
  hold_edge(flat, "border");
  const solver::Section section = built(flat).model.sections[0];
  const Source closed = {"shells", "pinched hemisphere, 0.0924 (as carried by two open programs)",
                         "the digits of the source", Quoted::kYes};
  Refinement whole(closed, "pinched hemisphere, closed, u", 0.0924);
  for (const int n : {6, 10, 16}) {
    scenes::SheetModel sheet;
    sheet.model = octant(n, 10, section);
    sheet.model.payload_force_N = Eigen::Matrix3Xd::Zero(3, sheet.model.mesh.n_nodes());
    const int a = 0;                          // on the x axis
    const int b = (n + 1) * (n + 2) / 2 - 1;  // on the y axis
    sheet.model.payload_force_N(0, a) = share;
    sheet.model.payload_force_N(1, b) = -share;
    sheet.probe_nodes = {a, b};
    const Solved solved = solve(std::move(sheet), {share, -share, 0});
    if (HasFatalFailure()) return;
    whole.add(10 * kPi / 2 / n, solved.triangles(), mean(solved) / share);
  }
  whole.expect_within(0.01);

  const Source holed = {
      "shells", std::string(kMacNeal) + ": 0.0940; thin-shell limit 0.0935 (both from memory)",
      "the literature scatters from 0.0930 to 0.0940"};
  Refinement hole(holed, "pinched hemisphere with a hole, u", 0.0935);
  hole.published(0.0940);
  for (const double size : {3.0, 2.0, 1.2}) {
    const scenes::Scene scene = hemisphere_with_a_hole(size, share);
    const Solved solved = solve(scene, {share, -share, 0});
    if (HasFatalFailure()) return;
    hole.add(size, solved.triangles(), mean(solved) / share);
  }
  hole.expect_within(0.01);
}

// VERIFICATION  MacNealHarder_Beams
// Reference   straight cantilever: 3.0e-5, 0.1081, 0.4321 (beam theory, from memory). Curved beam,
//             shear in its plane: 0.08734, but plane elasticity (Timoshenko and Goodier, art. 33,
//             from memory: pi (a^2 + b^2) / (E t ((a^2 - b^2) + (a^2 + b^2) ln(b/a)))) gives
//             0.08852, as do refined solid elements (0.088519): we hold to the exact one
// Inputs      6 x 0.2 x 0.1, E = 1e7, nu = 0.3; radii 4.12 and 4.32, 90 deg, t = 0.1, nu = 0.25;
//             unit end forces, here a tenth (ten for the pull)
// Tolerance   1 %: beam theory leaves out the clamp's hold on the cross-section
// Not covered twist of these two and the curved beam out of its plane: their cross-section of 2 : 1
//             is not that of a thin sheet
TEST(ShellObstacles, MacNealHarderBeams) {
  const double share = 0.1;
  const Source straight = {"shells", std::string(kMacNeal) + ", straight beam (from memory)",
                           "beam theory leaves out the clamp's hold on the cross-section",
                           Quoted::kYes};
  Refinement pull(straight, "straight beam, extension (1e-5)", 3.0);
  Refinement in_plane(straight, "straight beam, shear in its plane", 0.1081);
  Refinement out_of_plane(straight, "straight beam, shear out of its plane", 0.4321);
  for (const double size : {0.4, 0.2, 0.1}) {
    const auto tip = [&](const Eigen::Vector3d& force) {
      scenes::Scene scene = flat_sheet(6, 0.2, {1e7, 0.3, 0.1, 0}, size);
      hold_edge(scene, "x0", {}, true);
      add_edge_force(scene, "x1", share * force / 0.2);
      add_probe(scene, {6, 0.1, 0});
      return solve(scene, share * force);
    };
    const Solved x = tip({100, 0, 0});
    const Solved y = tip({0, 1, 0});
    const Solved z = tip({0, 0, 1});
    if (HasFatalFailure()) return;
    pull.add(size, x.triangles(), 1e3 * x.displacement(0).x() / share);
    in_plane.add(size, y.triangles(), y.displacement(0).y() / share);
    out_of_plane.add(size, z.triangles(), z.displacement(0).z() / share);
  }
  pull.expect_within(0.01);
  in_plane.expect_within(0.01);
  out_of_plane.expect_within(0.01);

  const double a2 = 4.12 * 4.12;
  const double b2 = 4.32 * 4.32;
  const double exact =
      kPi * (a2 + b2) / (1e7 * 0.1 * ((a2 - b2) + (a2 + b2) * std::log(4.32 / 4.12)));
  const Source curved = {
      "shells",
      std::string(kMacNeal) +
          ", curved beam: 0.08734; plane elasticity "
          "(Timoshenko and Goodier, art. 33, from memory) disagrees, and is held to",
      "the exact solution lets the clamped end warp"};
  Refinement ring(curved, "curved beam, shear in its plane", exact);
  ring.published(0.08734);
  for (const double size : {0.4, 0.2, 0.1}) {
    scenes::Scene scene;
    scene.kind = scenes::SceneKind::kSheet;
    scenes::SheetGeometry& g = scene.sheet.geometry;
    g.shape = scenes::SheetShape::kAnnulus;
    g.inner_radius_m = 4.12;
    g.radius_m = 4.32;
    g.to_angle_rad = kPi / 2;
    scene.sheet.plain = scenes::PlainSection{1e7, 0.25, 0.1, 0};
    scene.mesh.size_m = size;
    hold_edge(scene, "from", {}, true);
    add_edge_force(scene, "to", {0, share / 0.2, 0});
    add_probe(scene, {0, 4.22, 0});
    const Solved solved = solve(scene, {0, share, 0});
    if (HasFatalFailure()) return;
    ring.add(size, solved.triangles(), solved.displacement(0).y() / share);
  }
  ring.expect_within(0.01);
}

// VERIFICATION  OrthotropicPlate
// Reference   Barbero, Introduction to Composite Materials Design, example 3.2: 17.43 mm (17.58 on
// a
//             14 x 14 mesh of another code); oracle: Navier's series of the same plate
// Inputs      4000 x 2000 x 10 mm, simply supported, E1 = 133860, E2 = 7706, G12 = 4306 MPa, nu12 =
//             0.301, fibres along x, 1.2e-4 MPa, here a hundredth; a model of the solver's own
//             section
// Tolerance   1 %
TEST(ShellObstacles, OrthotropicPlate) {
  const double a = 4000;
  const double b = 2000;
  const double h = 10;
  const double e1 = 133860;
  const double e2 = 7706;
  const double nu12 = 0.301;
  Eigen::Matrix3d q = Eigen::Matrix3d::Zero();
  const double det = 1 - nu12 * nu12 * e2 / e1;
  q << e1 / det, nu12 * e2 / det, 0, nu12 * e2 / det, e2 / det, 0, 0, 0, 4306;
  solver::Section section;
  section.A = q * 12 * std::pow(h, 3) / (12 * 200.0 * 200.0);  // only D matters here
  section.D = q * h * h * h / 12;
  double exact = 0;
  for (int m = 1; m < 100; m += 2) {
    for (int n = 1; n < 100; n += 2) {
      const double sign = ((m + n) / 2) % 2 == 1 ? 1 : -1;
      const double stiffness =
          section.D(0, 0) * std::pow(m / a, 4) + section.D(1, 1) * std::pow(n / b, 4) +
          2 * (section.D(0, 1) + 2 * section.D(2, 2)) * std::pow(m * n / (a * b), 2);
      exact += sign * 16 * 1.2e-4 / (m * n * std::pow(kPi, 6) * stiffness);
    }
  }
  const Source source = {"plates-orthotropic",
                         "Barbero, example 3.2: 17.43 mm; oracle: Navier's series",
                         "mesh error of a bag's mesh"};
  Refinement centre(source, "orthotropic plate, centre (mm)", exact);
  centre.published(17.43);
  const double share = 1e-2;
  for (const double size : {800.0, 400.0, 250.0}) {
    scenes::Scene scene = flat_sheet(a, b, {e1, 0, h, 0}, size);
    hold_edge(scene, "border", {false, false, true});
    hold_in_plane(scene);
    add_area_force(scene, {0, 0, -1.2e-4 * share});
    add_probe(scene, {a / 2, b / 2, 0});
    scenes::SheetModel sheet = built(scene);
    sheet.model.sections = {section};
    const Solved solved = solve(std::move(sheet), {0, 0, -1.2e-4 * share * a * b});
    if (HasFatalFailure()) return;
    if (size == 400) draw("plates-orthotropic", solved.sheet.model, solved.state, {-60, 25, 4e3});
    centre.add(size, solved.triangles(), -solved.displacement(0).z() / share);
  }
  centre.expect_within(0.01);
}

}  // namespace
}  // namespace totebench::verification
