// Curved shells: the nonlinear problems of Sze, Liu and Lo. Symmetric parts are modelled.
#include <gtest/gtest.h>

#include <cmath>

#include "book_picture.hpp"
#include "shell_case.hpp"

namespace totebench::verification {
namespace {

const char* const kSze = "Sze, Liu and Lo, FE Anal. Des. 40 (2004) 1551-1569";

// VERIFICATION  Sze_Hemisphere, Sze_PullOut, Sze_PinchedCylinder
// Reference   Sze, Liu and Lo (2004), sections 3.4 (table from memory), 3.5 and 3.6 (read in a
//             transcription in the MBDyn repository); S4R results on 16 x 16, 24 x 36, 48 x 48
// Inputs      3.4: R = 10, h = 0.04, hole of 18 deg, E = 6.825e7, nu = 0.3, P up to 400
//             3.5: R = 4.953, L = 10.35, h = 0.094, E = 10.5e6, nu = 0.3125, P up to 40000
//             3.6: R = 100, L = 200, h = 1, E = 30e3, nu = 0.3, P = 600 of 12000, rigid diaphragms
// Expected    at the full force, and on the way, as below
// Ours        on finer meshes than here (1280 and 592 triangles) 3.4 tends to V 4.072, -U 8.143,
// and
//             5.859 at half the force; 3.5 to 2.751, 4.554, 3.283
// Tolerance   2 %: the references are themselves finite-element results
TEST(Sze2004, Hemisphere_WithAHole) {
  const Source source = {"shells", std::string(kSze) + ", section 3.4 (table from memory)",
                         "the reference is itself a finite-element result", Quoted::kYes};
  Refinement out(source, "hemisphere, large forces, V", 4.067);
  Refinement in(source, "hemisphere, large forces, -U", 8.178);
  Refinement half(source, "hemisphere at half the force, -U", 5.902);
  for (const double size : {3.0, 2.0, 1.2}) {
    const scenes::Scene scene = hemisphere_with_a_hole(size, -200);
    Solved solved;
    solved.sheet = built(scene);
    solved.state = solver::start_state(solved.sheet.model);
    for (const double factor : {0.5, 1.0}) {
      solve_on(solved, factor, factor * Eigen::Vector3d(-200, 200, 0));
      if (HasFatalFailure()) return;
      if (factor < 1) half.add(size, solved.triangles(), -solved.displacement(0).x());
    }
    if (size == 2.0) draw("shells", solved.sheet.model, solved.state, {35, 25, 1});
    out.add(size, solved.triangles(), solved.displacement(1).y());
    in.add(size, solved.triangles(), -solved.displacement(0).x());
  }
  half.expect_within(0.02);
  out.expect_within(0.02);
  in.expect_within(0.02);
}

TEST(Sze2004, Cylinder_PulledOut) {
  const Source source = {"shells", std::string(kSze) + ", section 3.5",
                         "the reference is itself a finite-element result", Quoted::kYes};
  Refinement top(source, "pull-out of a cylinder, W at A", 2.768);
  Refinement side(source, "pull-out of a cylinder, -U at B", 4.551);
  Refinement end(source, "pull-out of a cylinder, -U at C", 3.269);
  Refinement before(source, "pull-out at 0.4 of the force, W at A", 2.376);
  for (const double size : {1.3, 0.9, 0.6}) {
    scenes::Scene scene = cylinder_eighth(4.953, 5.175, {10.5e6, 0.3125, 0.094, 0}, size);
    add_point_force(scene, {0, 0, 4.953}, {0, 0, 10000});
    add_probe(scene, {0, 0, 4.953});
    add_probe(scene, {0, 4.953, 0});
    add_probe(scene, {5.175, 4.953, 0});
    Solved solved;
    solved.sheet = built(scene);
    solved.state = solver::start_state(solved.sheet.model);
    for (const double factor : {0.4, 1.0}) {
      solve_on(solved, factor, {0, 0, factor * 10000});
      if (HasFatalFailure()) return;
      if (factor == 0.4) before.add(size, solved.triangles(), solved.displacement(0).z());
    }
    top.add(size, solved.triangles(), solved.displacement(0).z());
    side.add(size, solved.triangles(), -solved.displacement(1).y());
    end.add(size, solved.triangles(), -solved.displacement(2).y());
  }
  before.expect_within(0.02);
  top.expect_within(0.02);
  side.expect_within(0.02);
  end.expect_within(0.02);
}

// At a twentieth of the force only: beyond it the dent folds, and settles on meshes too fine for a
// suite that runs every time. slow_sze_test.cpp follows it to the full force.
TEST(Sze2004, Cylinder_PinchedOnDiaphragms) {
  const Source source = {"shells", std::string(kSze) + ", section 3.6",
                         "the reference is itself a finite-element result on 48 x 48",
                         Quoted::kYes};
  Refinement dent(source, "pinched cylinder at 0.05 of the force, -W at A", 9.561);
  for (const double size : {20.0, 14.0, 7.0}) {
    const Solved solved =
        pinched(on_diaphragms(cylinder_eighth(100, 100, {30e3, 0.3, 1, 0}, size)), 100, 150);
    if (HasFatalFailure()) return;
    dent.add(size, solved.triangles(), -solved.displacement(0).z());
  }
  dent.expect_within(0.02);
}

}  // namespace
}  // namespace totebench::verification
