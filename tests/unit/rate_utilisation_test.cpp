// How much of each strength is used up under pulls that are known without solving.
#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "builder_samples.hpp"
#include "totebench/scenes/utilisation.hpp"

namespace totebench {
namespace {

using Eigen::Matrix3d;
using Eigen::Vector3d;

scenes::Utilisation of_mode(const std::vector<scenes::Utilisation>& list, const char* mode) {
  const auto found = std::find_if(list.begin(), list.end(),
                                  [&](const scenes::Utilisation& u) { return u.mode == mode; });
  EXPECT_NE(found, list.end()) << mode;
  return found == list.end() ? scenes::Utilisation() : *found;
}

// The same pull of 500 N/m in every direction everywhere. Any line carries it, so a seam does, once
// and not from both of its sides: of 8280 N/m (1.5 x 13.8 N at 2.5 mm), and of the 4000 N/m at
// which its yarns slide. The duck breaks first along the weft, at 19400 N/m, beside needle holes at
// 95 % of that.
TEST(Utilisations, UnderAnEvenPullByHand) {
  const scenes::Scene scene = samples::boxed();
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 0);
  solver::ShellFields fields;
  for (int t = 0; t < tote.model.mesh.n_triangles(); ++t) {
    fields.membrane_force.push_back(Vector3d(500, 500, 0) * Eigen::RowVector3d::Ones());
    fields.membrane_strain.push_back(Matrix3d::Zero());
    fields.bending_moment.push_back(Matrix3d::Zero());
    fields.curvature.push_back(Matrix3d::Zero());
  }
  const auto list = scenes::utilisations(scene, tote, solver::start_state(tote.model), fields);
  EXPECT_NEAR(of_mode(list, "body_seam").demand, 500, 1e-6);
  EXPECT_NEAR(of_mode(list, "body_seam").ratio, 500 / 8280.0, 1e-9);
  EXPECT_NEAR(of_mode(list, "seam_slippage").ratio, 500 / 4000.0, 1e-9);
  EXPECT_NEAR(of_mode(list, "cloth").ratio, 500 / 19400.0, 1e-9);
  EXPECT_NEAR(of_mode(list, "cloth_at_strap").ratio, 500 / (0.95 * 19400), 1e-9);
}

// The bag 0.2 mm lower than its straps: every stitch opens by that, and is pulled by k = 100 kN/m
// times 0.2 mm = 20 N along the cloth. Of its thread's 1.5 x 21.9 N; of the cloth's
// 0.95 x 19400 x 3 mm where it lies below the hem (12 + 36 mm is deeper than 30 mm); and all of a
// strap's end of 0.8 x 2668.9 N x 36 / 38.1.
TEST(Utilisations, OfStitchesPulledAlikeByHand) {
  const scenes::Scene scene = samples::boxed();
  const scenes::Tote tote = scenes::build_tote(scene, samples::library(), 0);
  solver::State state = solver::start_state(tote.model);
  std::set<int> bag;
  for (const solver::Triangle& t : tote.model.mesh.triangles) {
    if (!scenes::is_strap(t.region)) bag.insert(t.node.begin(), t.node.end());
  }
  for (const int n : bag) state.x(2, n) -= 0.2e-3;
  const auto list = scenes::utilisations(scene, tote, state);
  EXPECT_NEAR(of_mode(list, "strap_fastening").ratio, 20 / (1.5 * 21.9), 1e-6);
  EXPECT_NEAR(of_mode(list, "tear_out").ratio, 20 / (0.95 * 19400 * 0.003), 1e-6);
  const double stitches = static_cast<double>(tote.attachments.front().stitches.size());
  EXPECT_NEAR(of_mode(list, "strap").demand, 20 * stitches, 1e-3);
  EXPECT_NEAR(of_mode(list, "strap").capacity, 0.8 * 2668.9 * 36 / 38.1, 0.1);
}

}  // namespace
}  // namespace totebench
