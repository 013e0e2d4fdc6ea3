// Continuous collision detection against closed forms and against sampling, and the tree of boxes
// against all pairs.
#include <gtest/gtest.h>

#include "solver/contact/box_tree.hpp"
#include "solver/contact/collision_free_share.hpp"
#include "tests/unit/contact_samples.hpp"

namespace totebench {
namespace {

using solver::Box;
using solver::BoxTree;
using solver::collision_free_share;
using solver::IndexPairs;
using solver::PairKind;
using solver::PairPoints;

PairPoints point_over_triangle(double x, double y, double z) {
  PairPoints points;
  points << x, 0, 1, 0,  //
      y, 0, 0, 1,        //
      z, 0, 0, 0;
  return points;
}

PairPoints step_of_first(const Eigen::Vector3d& step) {
  PairPoints all = PairPoints::Zero();
  all.col(0) = step;
  return all;
}

TEST(ContactDetection, PointFallingOnATriangleKeepsATenth) {
  // It meets the triangle at 1/4 of its fall, and is to keep a tenth of the way to there.
  const PairPoints points = point_over_triangle(0.2, 0.3, 0.5);
  const double share =
      collision_free_share(PairKind::kPointTriangle, points, step_of_first({0, 0, -2}), 1);
  EXPECT_LE(share, 0.9 * 0.25 + 1e-14);
  EXPECT_GE(share, 0.8 * 0.25);
  // Slanting, and the triangle moving too: 0.5 - 0.4 t on the way, 0.1 t + 0.9 t closing.
  PairPoints step = step_of_first({0.1, 0.1, -0.9});
  step.rightCols<3>().row(2).setConstant(0.1);
  const double slanting = collision_free_share(PairKind::kPointTriangle, points, step, 1);
  EXPECT_LE(slanting, 0.9 * 0.5 + 1e-14);
  EXPECT_GE(slanting, 0.8 * 0.5);
}

TEST(ContactDetection, CrossingEdgesKeepATenth) {
  PairPoints points;
  points << -1, 1, 0, 0,  //
      0, 0, -1, 1,        //
      0, 0, 0.2, 0.2;
  PairPoints step = PairPoints::Zero();
  step.rightCols<2>().row(2).setConstant(-1);  // meets at 1/5
  const double share = collision_free_share(PairKind::kEdgeEdge, points, step, 1);
  EXPECT_LE(share, 0.9 * 0.2 + 1e-14);
  EXPECT_GE(share, 0.8 * 0.2);
}

TEST(ContactDetection, NoHitTakesTheWholeStep) {
  const PairPoints points = point_over_triangle(0.2, 0.3, 0.5);
  const auto share = [&](const PairPoints& step, double most = 1) {
    return collision_free_share(PairKind::kPointTriangle, points, step, most);
  };
  EXPECT_EQ(share(step_of_first({0, 0, 3})), 1);          // away
  EXPECT_EQ(share(step_of_first({4, 0, 0})), 1);          // along
  EXPECT_EQ(share(step_of_first({0, 0, -0.45})), 1);      // not there yet
  EXPECT_EQ(share(step_of_first({4, 0, -2})), 1);         // past its edge
  EXPECT_EQ(share(PairPoints::Zero()), 1);                // at rest
  EXPECT_EQ(share(step_of_first({0, 0, -2}), 0.2), 0.2);  // the share asked for ends before
  PairPoints together = PairPoints::Zero();
  together.row(2).setConstant(-100);
  EXPECT_EQ(share(together), 1);
}

TEST(ContactDetection, GrazingIsNotAHit) {
  // Passes the edge from (0,0) to (1,0) at a fifth and at a thousandth of its distance now.
  const PairPoints points = point_over_triangle(0.5, -1, 0);
  const auto passing = [&](double y) {
    return collision_free_share(PairKind::kPointTriangle, points, step_of_first({0.4, 1 - y, 0}),
                                1);
  };
  EXPECT_EQ(passing(0.21), 1);
  EXPECT_LT(passing(1e-3), 1);  // nearer than what is kept
  EXPECT_GT(passing(1e-3), 0.8);
  EXPECT_LT(collision_free_share(PairKind::kPointTriangle, points, step_of_first({0, 1, 0}), 1), 1);
}

TEST(ContactDetection, TouchingPairsDoNotMove) {
  EXPECT_EQ(collision_free_share(PairKind::kPointTriangle, point_over_triangle(0.2, 0.2, 0),
                                 step_of_first({0, 0, -1}), 1),
            0);
}

TEST(ContactDetection, NoRandomPairComesNearerThanItsKeptGap) {
  std::mt19937 random(11);
  int hits = 0;
  for (int n = 0; n < 10000; ++n) {
    const PairKind kind = n % 2 == 0 ? PairKind::kPointTriangle : PairKind::kEdgeEdge;
    const PairPoints points = test::random_points(random, 1);
    const PairPoints step = test::random_points(random, n % 3 == 0 ? 10 : 1);
    const double kept = solver::kKeptGap * solver::pair_distance(kind, points);
    const double share = collision_free_share(kind, points, step, 1);
    ASSERT_GE(share, 0);
    ASSERT_LE(share, 1);
    for (int i = 0; i <= 100; ++i) {
      ASSERT_GE(solver::pair_distance(kind, points + i / 100.0 * share * step), kept * (1 - 1e-9))
          << n;
    }
    if (share == 1) continue;
    ++hits;
    // Where it stops, little is left.
    ASSERT_LE(solver::pair_distance(kind, points + share * step), 2 * kept * (1 + 1e-9)) << n;
  }
  EXPECT_GT(hits, 1000);
  EXPECT_LT(hits, 9000);
}

std::vector<Box> random_boxes(std::mt19937& random, int n, double size) {
  std::uniform_real_distribution<double> place(0, 1);
  std::vector<Box> boxes;
  for (int i = 0; i < n; ++i) {
    const Eigen::Vector3d low(place(random), place(random), 0.1 * place(random));
    const Eigen::Vector3d extent(place(random), place(random), place(random));
    boxes.emplace_back(low, low + size * extent);
  }
  return boxes;
}

TEST(ContactBoxTree, FindsTheOverlapsOfAllPairs) {
  std::mt19937 random(5);
  const auto any = [](int, int) { return true; };
  for (const int n : {0, 1, 2, 3, 100, 700}) {
    std::vector<Box> boxes = random_boxes(random, n, 0.05);
    BoxTree tree(boxes);
    EXPECT_EQ(tree.n_boxes(), n);
    for (int round = 0; round < 2; ++round) {
      const std::vector<Box> others = random_boxes(random, 200, 0.05);
      IndexPairs wanted;
      IndexPairs own;
      for (int i = 0; i < static_cast<int>(others.size()); ++i) {
        for (int j = 0; j < n; ++j) {
          if (others[i].intersects(boxes[j])) wanted.emplace_back(i, j);
        }
      }
      for (int i = 0; i < n; ++i) {
        for (int j = i + 1; j < n; ++j) {
          if (boxes[i].intersects(boxes[j])) own.emplace_back(i, j);
        }
      }
      IndexPairs found = solver::overlaps(others, tree, false, any);
      std::sort(found.begin(), found.end());
      EXPECT_EQ(found, wanted);
      IndexPairs found_own = solver::overlaps(boxes, tree, true, any);
      for (auto& [i, j] : found_own) {
        if (i > j) std::swap(i, j);
      }
      std::sort(found_own.begin(), found_own.end());
      EXPECT_EQ(found_own, own);
      // Boxes elsewhere, in the same tree.
      boxes = random_boxes(random, n, 0.1);
      tree.fit(boxes);
    }
  }
}

TEST(ContactBoxTree, LeavesOutUnwantedPairs) {
  std::mt19937 random(6);
  const std::vector<Box> boxes = random_boxes(random, 300, 0.1);
  const BoxTree tree(boxes);
  const auto odd = [](int i, int j) { return (i + j) % 2 == 1; };
  const IndexPairs found = solver::overlaps(boxes, tree, true, odd);
  EXPECT_FALSE(found.empty());
  for (const auto& [i, j] : found) EXPECT_TRUE(odd(i, j));
}

}  // namespace
}  // namespace totebench
