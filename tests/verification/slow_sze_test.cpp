// VERIFICATION  Sze_PinchedCylinder, beyond the fold
// Reference   CalculiX 2.20 in solids of second order (ccx_solids.hpp), held to; Sze, Liu and Lo
//             (2004), section 3.6, S4R on 48 x 48 (read in a transcription in the MBDyn
//             repository), shown
// Inputs      as in sze_test.cpp: R = 100, L = 200, h = 1, E = 30e3, nu = 0.3, rigid diaphragms; an
//             eighth; the force in steps of 0.05, 0.1, 0.15, 0.2, 0.3, 0.5, 0.7 and 1 of 12000
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "book.hpp"
#include "ccx_run.hpp"
#include "ccx_solids.hpp"
#include "shell_case.hpp"

namespace totebench::verification {
namespace {

constexpr double kForce = 12000;
constexpr PinchedCylinder kCylinder = {100, 100, 1, 30e3, 0.3};
constexpr PinchPoint kPublished[] = {{0.1 * kForce, 23.164, -2.391},
                                     {0.2 * kForce, 56.373, 10.448},
                                     {0.3 * kForce, 65.498, 17.979},
                                     {0.5 * kForce, 73.790, 25.381},
                                     {1.0 * kForce, 83.102, 34.272}};
constexpr double kBulge = 10.448;  // published at 0.2: what smaller bulges are measured against
const char* const kTable = "Sze, Liu and Lo, FE Anal. Des. 40 (2004) 1551-1569, section 3.6";

struct Ours {
  int triangles = 0;
  std::map<double, PinchPoint> at;  // by share of the force
};

// Solved once a size.
const Ours& ours_on(double size) {
  static std::map<double, Ours> all;
  const auto [place, is_new] = all.try_emplace(size);
  Ours& ours = place->second;
  if (!is_new) return ours;
  scenes::Scene scene =
      on_diaphragms(cylinder_eighth(kCylinder.radius, kCylinder.half_length,
                                    {kCylinder.e, kCylinder.nu, kCylinder.thickness, 0}, size));
  add_point_force(scene, {0, 0, kCylinder.radius}, {0, 0, -kForce / 4});
  add_probe(scene, {0, 0, kCylinder.radius});
  add_probe(scene, {0, kCylinder.radius, 0});
  Solved solved;
  solved.sheet = built(scene);
  solved.state = solver::start_state(solved.sheet.model);
  ours.triangles = solved.triangles();
  for (const double share : {0.05, 0.1, 0.15, 0.2, 0.3, 0.5, 0.7, 1.0}) {
    solve_on(solved, share, {0, 0, -kForce / 4 * share});
    if (testing::Test::HasFatalFailure()) break;
    ours.at[share] = {share * kForce, -solved.displacement(0).z(), solved.displacement(1).y()};
  }
  return ours;
}

std::string at_share(double share) {
  return fmt::format("pinched cylinder at {} of the force, ", share);
}

// Ours        settled: 6 220 and 11 952 triangles differ by 0.2 % or less everywhere
// Tolerance   2 % for the dent at the full force. Between 0.1 and 0.2 of it the dent folds over;
//             from there on the published curve is that of its mesh (see WhatTheMeshDoes)
TEST(SlowSze, CylinderPinchedToTheFullForce) {
  const Source held = {"shells", kTable,
                       "the reference is itself a finite-element result on 48 x 48", Quoted::kYes};
  const Source shown = {"shells", kTable,
                        "the reference is one mesh of first-order elements, on which the folds of "
                        "the dent are too stiff; solids of second order agree with us",
                        Quoted::kYes};
  for (const PinchPoint& p : kPublished) {
    const double share = p.force / kForce;
    Refinement dent(share == 1 ? held : shown, at_share(share) + "-W at A", p.dent);
    Refinement bulge(shown, at_share(share) + "U at B", p.bulge);
    bulge.measured_against(std::max(std::abs(p.bulge), kBulge));
    for (const double size : {3.6, 2.5, 1.8}) {
      const Ours& ours = ours_on(size);
      if (HasFatalFailure()) return;
      dent.add(size, ours.triangles, ours.at.at(share).dent);
      bulge.add(size, ours.triangles, ours.at.at(share).bulge);
    }
    if (share == 1) {
      dent.expect_within(0.02);
    } else {
      dent.show();
    }
    bulge.show();
  }
}

constexpr double kDeepest = 85;  // somewhat beyond the full force

// Expected    solids of second order on 40 x 40
// Ours        dents within 0.3 %, bulges within 0.7 %
// Tolerance   1 % (dent) and 2 % (bulge; of that at 0.2 of the force where it is near zero): on
//             56 x 56, followed to 0.3 of the force, the solids give dents up to 0.4 % and bulges
//             up to 1.6 % larger; and shear and thickness strain, which thin-shell theory leaves
//             out
TEST(SlowSze, BesideSolids) {
  if (!ccx_is_there()) GTEST_SKIP() << "CalculiX (ccx) is not installed here, or this is CI";
  const Source source = {"calculix", "CalculiX 2.20, 40 x 40 solids of second order, no shells",
                         "on 56 x 56 the solids give dents up to 0.4 % and bulges up to 1.6 % "
                         "larger; shear and thickness strain, which thin-shell theory leaves out"};
  const std::vector<PinchPoint> curve = pinched_by_ccx(
      "pinched_second_40", kCylinder, Solid::kSecondOrder, 40, kDeepest, {0.02, 0.025});
  for (const PinchPoint& p : kPublished) {
    const double share = p.force / kForce;
    const PinchPoint theirs = at_force(curve, p.force);
    Refinement dent(source, at_share(share) + "-W at A", theirs.dent);
    Refinement bulge(source, at_share(share) + "U at B", theirs.bulge);
    bulge.measured_against(std::max(std::abs(theirs.bulge), kBulge));
    for (const double size : {3.6, 2.5}) {
      const Ours& ours = ours_on(size);
      if (HasFatalFailure()) return;
      dent.add(size, ours.triangles, ours.at.at(share).dent);
      bulge.add(size, ours.triangles, ours.at.at(share).bulge);
    }
    dent.expect_within(0.01);
    bulge.expect_within(0.02);
  }
}

// What the published curve is: that of first-order elements on its mesh. Solids of first order on
// 40 x 40 follow it; those of second order, which know the same mechanics and supports, do not and
// have settled. So it is not the supports, nor shear and strain across the thickness, which are in
// the solids and not in us. Nor the law at large strain (bending strains of 0.1 at the folds,
// membrane strains of 0.05 at the diaphragm): on the first-order mesh a neo-Hookean law instead
// (CalculiX with *PLASTIC that never yields) moves the dent by -0.2 % at 0.2 and by +0.5 % at 0.5
// of the force, the bulge by -1.8 and +0.5 %. With four-node shells of its own the transcription
// has a dent of 56.1 on 40 x 40 and 56.8 on 48 x 48 at 0.2 of the force.
TEST(SlowSze, WhatTheMeshDoes) {
  if (!ccx_is_there()) GTEST_SKIP() << "CalculiX (ccx) is not installed here, or this is CI";
  const auto cell = [](const PinchPoint& p) {
    return fmt::format("{:.2f}, {:.2f}", p.dent, p.bulge);
  };
  const Ours& ours = ours_on(3.6);
  if (HasFatalFailure()) return;
  const std::vector<PinchPoint> curve =
      pinched_by_ccx("pinched_first_40", kCylinder, Solid::kFirstOrder, 40, kDeepest, {0.01, 0.02});
  record_line("pinched",
              {"share of the force", "published, 48 x 48 first order",
               "solids, 40 x 40 first order", fmt::format("ours, {} triangles", ours.triangles)});
  for (const PinchPoint& published : kPublished) {
    const double share = published.force / kForce;
    const PinchPoint theirs = at_force(curve, published.force);
    const PinchPoint& at = ours.at.at(share);
    record_line("pinched", {fmt::format("{}", share), cell(published), cell(theirs), cell(at)});
    EXPECT_NEAR(theirs.dent, published.dent, 0.01 * published.dent) << share;
    EXPECT_LT(std::abs(theirs.dent - published.dent), 0.5 * std::abs(at.dent - published.dent));
    EXPECT_LT(std::abs(theirs.bulge - published.bulge), 0.5 * std::abs(at.bulge - published.bulge));
  }
}

}  // namespace
}  // namespace totebench::verification
