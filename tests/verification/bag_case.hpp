// A small tote for what must hold for any bag, hung on two meshes.
#pragma once

#include <gtest/gtest.h>

#include <vector>

#include "sheet_case.hpp"
#include "tests/unit/builder_samples.hpp"

namespace totebench::verification {

// The builder's shopping bag, small enough to be quick.
inline scenes::Scene small_tote() {
  scenes::Scene scene = samples::boxed();
  scene.bag.width_m = 0.24;
  scene.bag.height_m = 0.22;
  scene.bag.depth_m = 0.09;
  scene.bag.hem_m = 0;
  scenes::Strap& strap = scene.straps.front();
  strap.length_m = 0.50;
  strap.spacing_m = 0.11;
  strap.overlap_m = 0.050;
  strap.attachment.pattern = scenes::AttachmentPattern::kBox;
  strap.attachment.top_offset_m = 0.010;
  scene.contents.mass_kg = 2.0;
  scene.mesh.size_m = 0.05;
  return scene;
}

struct Hung {
  scenes::Tote tote;
  solver::State state;
};

inline void to_equilibrium(Hung& hung, double factor, const solver::SolveOptions& options = {}) {
  const solver::SolveReport report =
      solver::find_equilibrium(hung.tote.model, factor, hung.state, options);
  ASSERT_EQ(report.status, solver::SolveStatus::kConverged)
      << factor << ": " << static_cast<int>(report.failure);
  EXPECT_LT(report.balance_relative, 1e-6);
}

// The coarsest mesh from flat, then the same bag on a finer one.
inline std::vector<Hung> hung_on_two_meshes(const scenes::Scene& scene) {
  std::vector<Hung> hung;
  hung.push_back({scenes::build_tote(scene, samples::library(), 0), {}});
  hung[0].state = solver::start_state(hung[0].tote.model);
  for (const double factor : {0.0, 1.0}) {
    to_equilibrium(hung[0], factor);
    if (testing::Test::HasFatalFailure()) return hung;
  }
  hung.push_back({scenes::build_tote(scene, samples::library(), 1), {}});
  hung[1].state = solver::prolong(hung[0].tote.model, hung[0].state, hung[1].tote.model);
  solver::SolveOptions options;
  options.full_steps = true;
  to_equilibrium(hung[1], 1, options);
  return hung;
}

}  // namespace totebench::verification
