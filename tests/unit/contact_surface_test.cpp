// The surface that contact is sought on: areas, thickness, who may touch whom, and from where.
#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "solver/contact/surface.hpp"

namespace totebench {
namespace {

using solver::ContactPair;
using solver::ContactSurface;
using solver::PairKind;

// Two square sheets of 1 m, of two triangles each, `apart` above each other.
solver::Model two_sheets(double apart) {
  Eigen::Matrix3Xd p(3, 8);
  p << 0, 1, 1, 0, 0, 1, 1, 0,  //
      0, 0, 1, 1, 0, 0, 1, 1,   //
      0, 0, 0, 0, apart, apart, apart, apart;
  solver::Model model;
  model.mesh = solver::second_order_mesh(p, {{0, 1, 2}, {0, 2, 3}, {4, 5, 6}, {4, 6, 7}});
  model.sections.resize(1);
  model.contact.thickness_m = {1e-3, 1e-3, 3e-3, 3e-3};
  return model;
}

TEST(ContactSurface, PointsEdgesAndPartsShareOutTheArea) {
  const solver::Model model = two_sheets(1);
  const ContactSurface surface(model);
  EXPECT_EQ(surface.points().size(), 18U);
  EXPECT_EQ(surface.parts().size(), 16U);
  EXPECT_EQ(surface.edges().size(),
            32U);  // of each sheet: 2 x 5 halves, and 3 within each triangle
  const auto total = [](const auto& features) {
    double sum = 0;
    for (const auto& f : features) sum += f.area_m2;
    return sum;
  };
  EXPECT_NEAR(total(surface.points()), 2, 1e-14);
  EXPECT_NEAR(total(surface.edges()), 2, 1e-14);
  EXPECT_NEAR(total(surface.parts()), 2, 1e-14);
  for (const auto& edge : surface.edges()) {
    const Eigen::Vector3d along =
        model.mesh.position.col(edge.node[1]) - model.mesh.position.col(edge.node[0]);
    EXPECT_NEAR(edge.length_sq, along.squaredNorm(), 1e-15);
  }
}

TEST(ContactSurface, AreasAreThoseAtRest) {
  solver::Model model = two_sheets(1);
  model.mesh.position *= 3;
  const ContactSurface surface(model);
  EXPECT_NEAR(surface.parts().front().area_m2, 0.125, 1e-15);
}

TEST(ContactSurface, BarrierOfAPair) {
  const solver::Model model = two_sheets(1);
  const ContactSurface surface(model);
  const auto point_at = [&](int node) {
    for (std::size_t i = 0; i < surface.points().size(); ++i) {
      if (surface.points()[i].node == node) return static_cast<int>(i);
    }
    return -1;
  };
  // Node 1 belongs to one part of 1/8 m2; the parts of triangle 2 are the ninth and on.
  const ContactPair pair = surface.pair(PairKind::kPointTriangle, point_at(1), 8);
  EXPECT_EQ(pair.node[0], 1);
  EXPECT_DOUBLE_EQ(pair.barrier.gap_m, 2e-3);
  EXPECT_DOUBLE_EQ(pair.barrier.stiffness_J, 0.5 * 0.125 / 3 * 1000 * 2e-3);
  EXPECT_EQ(pair.barrier.parallel_m4, 0);

  const int n = static_cast<int>(surface.edges().size());
  const auto& first = surface.edges().front();
  const auto& last = surface.edges().back();
  const ContactPair edges = surface.pair(PairKind::kEdgeEdge, 0, n - 1);
  EXPECT_EQ(edges.node, (std::array{first.node[0], first.node[1], last.node[0], last.node[1]}));
  EXPECT_DOUBLE_EQ(edges.barrier.gap_m, 2e-3);
  EXPECT_DOUBLE_EQ(edges.barrier.stiffness_J,
                   0.25 * 0.5 * (first.area_m2 + last.area_m2) * 1000 * 2e-3);
  EXPECT_DOUBLE_EQ(edges.barrier.parallel_m4, 1e-3 * first.length_sq * last.length_sq);
}

TEST(ContactSurface, GapIsNoSmallerThanTheLeastNorWiderThanTheStart) {
  solver::Model thin = two_sheets(1);
  thin.contact.thickness_m.assign(4, 1e-4);
  EXPECT_DOUBLE_EQ(ContactSurface(thin).pair(PairKind::kPointTriangle, 0, 8).barrier.gap_m, 0.3e-3);
  const solver::Model near = two_sheets(1e-3);
  EXPECT_DOUBLE_EQ(ContactSurface(near).pair(PairKind::kPointTriangle, 0, 8).barrier.gap_m,
                   0.75e-3);
  // The wide gap of 2 mm is not met by sheets that start 1 mm apart: they start without force.
  EXPECT_DOUBLE_EQ(ContactSurface(near).largest_gap_m(), 3e-3);
}

TEST(ContactSurface, WhatSharesANodeOrLiesTogetherDoesNotTouch) {
  solver::Model model = two_sheets(1);
  const auto touching = [&] {
    const ContactSurface surface(model);
    int within = 0;
    int between = 0;
    const auto count = [&](bool may, bool lower_a, bool lower_b) {
      (lower_a == lower_b ? within : between) += may ? 1 : 0;
    };
    const auto lower = [&](int node) { return model.mesh.position(2, node) < 0.5; };
    for (int i = 0; i < static_cast<int>(surface.points().size()); ++i) {
      for (int j = 0; j < static_cast<int>(surface.parts().size()); ++j) {
        count(surface.point_may_touch(i, j), lower(surface.points()[i].node),
              lower(surface.parts()[j].node[0]));
        const auto& corners = surface.parts()[j].node;
        if (std::find(corners.begin(), corners.end(), surface.points()[i].node) != corners.end()) {
          EXPECT_FALSE(surface.point_may_touch(i, j));
        }
      }
    }
    const int n = static_cast<int>(surface.edges().size());
    for (int i = 0; i < n; ++i) {
      EXPECT_FALSE(surface.edges_may_touch(i, i));
      for (int j = 0; j < n; ++j) {
        count(surface.edges_may_touch(i, j), lower(surface.edges()[i].node[0]),
              lower(surface.edges()[j].node[0]));
      }
    }
    return std::pair(within, between);
  };
  // All points (18) by the parts of the other sheet (8), edges (16) by edges both ways.
  const auto all = touching();
  EXPECT_EQ(all.second, 18 * 8 + 2 * 16 * 16);
  EXPECT_GT(all.first, 0);
  model.contact.group = {0, 0, 5, 31};
  EXPECT_EQ(touching(), all);
  // One triangle below against one above: features that another triangle shares still count.
  model.contact.together = {{0, 5}};
  const auto some = touching();
  EXPECT_EQ(some.first, all.first);
  EXPECT_LT(some.second, all.second);
  EXPECT_GT(some.second, all.second / 2);
  model.contact.together = {{5, 0}, {31, 0}};
  EXPECT_EQ(touching(), std::pair(all.first, 0));
  model.contact.together = {{5, 0}, {31, 0}, {0, 0}, {5, 5}, {5, 31}, {31, 31}};
  EXPECT_EQ(touching(), std::pair(0, 0));
}

TEST(ContactSurface, RejectsWhatIsImpossible) {
  const auto message = [](auto&& change) {
    solver::Model model = two_sheets(1);
    change(model.contact);
    try {
      const ContactSurface surface(model);
    } catch (const std::invalid_argument& error) {
      return std::string(error.what());
    }
    return std::string();
  };
  EXPECT_EQ(message([](auto&) {}), "");
  EXPECT_EQ(message([](auto& c) { c.thickness_m.pop_back(); }),
            "contact: one thickness and one group a triangle are needed");
  EXPECT_EQ(message([](auto& c) { c.group = {0}; }),
            "contact: one thickness and one group a triangle are needed");
  EXPECT_EQ(message([](auto& c) { c.thickness_m[1] = NAN; }),
            "contact: every thickness must be above zero");
  EXPECT_EQ(message([](auto& c) { c.stiffness_Pa = 0; }),
            "contact: least gap and stiffness must be above zero");
  EXPECT_EQ(message([](auto& c) {
              c.group = {0, 0, 0, 32};
            }),
            "contact: groups are numbered from 0 to 31");
  EXPECT_EQ(message([](auto& c) {
              c.together = {{-1, 0}};
            }),
            "contact: groups are numbered from 0 to 31");
}

}  // namespace
}  // namespace totebench
