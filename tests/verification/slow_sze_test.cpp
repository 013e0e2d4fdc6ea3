// VERIFICATION  Sze_PinchedCylinder, beyond the fold
// Reference   Sze, Liu and Lo (2004), section 3.6, S4R on 48 x 48 (read in a transcription in the
//             MBDyn repository)
// Inputs      as in sze_test.cpp: R = 100, L = 200, h = 1, E = 30e3, nu = 0.3, rigid diaphragms; an
//             eighth; the force in steps of 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, 0.7 and 1 of 12000
// Expected    the published curve
// Ours        settled: 6 220 and 11 952 triangles differ by 0.2 % or less everywhere
// Tolerance   2 % for the dent at the full force. Between 0.1 and 0.2 of it the dent folds over;
//             from there on the reference lies below us by 1 to 3 % (dent) and 4 to 16 % (bulge at
//             the side), which no mesh of ours takes away: shown only
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <iterator>
#include <string>
#include <vector>

#include "shell_case.hpp"

namespace totebench::verification {
namespace {

TEST(SlowSze, CylinderPinchedToTheFullForce) {
  const std::string table = "Sze, Liu and Lo, FE Anal. Des. 40 (2004) 1551-1569, section 3.6";
  const Source held = {"shells", table,
                       "the reference is itself a finite-element result on 48 x 48"};
  const Source shown = {
      "shells", table,
      "ours have settled, to 0.2 %; the reference is one mesh of first-order elements, "
      "on which the dent folds in jumps, and what sets them apart is not known"};
  struct Point {
    double share;
    double dent;   // -W at A, published
    double bulge;  // U at B
  };
  const Point points[] = {{0.1, 23.164, -2.391},
                          {0.2, 56.373, 10.448},
                          {0.3, 65.498, 17.979},
                          {0.5, 73.790, 25.381},
                          {1.0, 83.102, 34.272}};
  std::vector<Refinement> dents, bulges;
  for (const Point& p : points) {
    const std::string what = fmt::format("pinched cylinder at {} of the force, ", p.share);
    dents.emplace_back(p.share == 1 ? held : shown, what + "-W at A", p.dent);
    bulges.emplace_back(shown, what + "U at B", p.bulge);
  }
  for (const double size : {3.6, 2.5, 1.8}) {
    Scene scene = on_diaphragms(cylinder_eighth(100, 100, {30e3, 0.3, 1, 0}, size));
    add_point_force(scene, {0, 0, 100}, {0, 0, -3000});
    add_probe(scene, {0, 0, 100});
    add_probe(scene, {0, 100, 0});
    Solved solved;
    solved.sheet = built(scene);
    solved.state = start_state(solved.sheet.model);
    for (const double share : {0.05, 0.1, 0.15, 0.2, 0.3, 0.5, 0.7, 1.0}) {
      solve_on(solved, share, {0, 0, -3000 * share});
      if (HasFatalFailure()) return;
      for (std::size_t i = 0; i < std::size(points); ++i) {
        if (points[i].share != share) continue;
        dents[i].add(size, solved.triangles(), -solved.displacement(0).z());
        bulges[i].add(size, solved.triangles(), solved.displacement(1).y());
      }
    }
  }
  for (std::size_t i = 0; i + 1 < std::size(points); ++i) dents[i].show();
  dents.back().expect_within(0.02);
  bulges[0].measured_against(10.448).show();
  for (std::size_t i = 1; i < std::size(points); ++i) bulges[i].show();
}

}  // namespace
}  // namespace totebench::verification
