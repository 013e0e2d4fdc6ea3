// The surface that contact is sought on: each second-order triangle as four flat parts on its six
// nodes, and the skins of the bodies. Its points are the nodes, then the skins' points, body by
// body. Nodes move along straight lines in a step, so what the parts meet on the way is exact.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "solver/contact/barrier.hpp"
#include "totebench/solver/model.hpp"

namespace totebench::solver {

// What a point, an edge or a flat part takes from the triangles it belongs to.
struct ContactFeature {
  double area_m2 = 0;        // a third of the parts at a point or an edge; the whole of a part
  double thickness_m = 0;    // mean by area
  std::uint32_t groups = 0;  // of Contact, one bit each
  int body = -1;             // that it belongs to; -1: to the sheets
};

struct ContactPoint : ContactFeature {
  int node = 0;
};
struct ContactEdge : ContactFeature {
  std::array<int, 2> node{};
  double length_sq = 0;  // at rest, m2
  int triangle = 0;      // one that it belongs to; of a body: n_triangles and its number
};
struct ContactPart : ContactFeature {
  std::array<int, 3> node{};
  int triangle = 0;
};

// A point and a part, or two edges, that may touch. Nodes in the order of PairPoints.
struct ContactPair {
  PairKind kind = PairKind::kPointTriangle;
  std::array<int, 4> node{};
  Barrier barrier;
  double start_m = 0;  // distance where the model starts
};

// The gap of a pair is no more than this share of its distance at the start.
inline constexpr double kStartShare = 0.75;
// Columns of x (3 x n_points) at the points of a pair.
[[nodiscard]] PairPoints points_of(const std::array<int, 4>& node,
                                   const Eigen::Ref<const Eigen::Matrix3Xd>& x);

class ContactSurface {
 public:
  // The model must outlive it. Throws std::invalid_argument when the model's contact is impossible.
  explicit ContactSurface(const Model& model);

  [[nodiscard]] const std::vector<ContactPoint>& points() const { return points_; }
  [[nodiscard]] const std::vector<ContactEdge>& edges() const { return edges_; }
  [[nodiscard]] const std::vector<ContactPart>& parts() const { return parts_; }

  // Where its points are, 3 x n_points, m.
  [[nodiscard]] Eigen::Matrix3Xd places(const Eigen::Ref<const Eigen::Matrix3Xd>& x,
                                        const std::vector<BodyPose>& bodies) const;
  [[nodiscard]] const Eigen::Matrix3Xd& start() const { return start_; }
  struct SkinPoint {
    int body = 0;
    Eigen::Vector3d on_body = Eigen::Vector3d::Zero();
  };
  // Null for a node.
  [[nodiscard]] const SkinPoint* on_skin(int point) const {
    return point < n_nodes_ ? nullptr : &skin_points_[static_cast<std::size_t>(point - n_nodes_)];
  }

  // Do they share no point and no body, and are they not held together?
  [[nodiscard]] bool point_may_touch(int point, int part) const;
  [[nodiscard]] bool edges_may_touch(int a, int b) const;
  [[nodiscard]] bool edge_may_cross(int edge, int part) const;

  // Of a pair of features by index: a point and a part, or two edges.
  [[nodiscard]] std::array<int, 4> nodes(PairKind kind, int first, int second) const;
  // The mean thickness, m: its gap is no wider.
  [[nodiscard]] double widest_gap_m(PairKind kind, int first, int second) const;
  // Distance where the model starts, m; without end where a body is in it, which is no neighbour.
  [[nodiscard]] double start_m(PairKind kind, int first, int second) const;
  // With the barrier of the pair: weight * stiffness * gap, the weight being half the area of the
  // point, or a quarter of the mean of the edges. The gap is the mean thickness, but no more than
  // kStartShare of the pair's distance at the start: neighbours within a fine sheet start without
  // force, and get some only where it folds.
  [[nodiscard]] ContactPair pair(PairKind kind, int first, int second, double start_m) const;
  [[nodiscard]] ContactPair pair(PairKind kind, int first, int second) const {
    return pair(kind, first, second, start_m(kind, first, second));
  }
  [[nodiscard]] double largest_gap_m() const { return largest_gap_m_; }

  // Bodies that are free touch nothing while they are left out.
  void leave_out_free_bodies(bool left_out) { free_bodies_left_out_ = left_out; }

 private:
  void add_skins();
  [[nodiscard]] bool groups_may_touch(std::uint32_t a, std::uint32_t b) const;
  [[nodiscard]] bool bodies_may_touch(int a, int b) const;

  const Model& model_;
  int n_nodes_;
  std::vector<SkinPoint> skin_points_;
  Eigen::Matrix3Xd start_;
  std::vector<ContactPoint> points_;
  std::vector<ContactEdge> edges_;
  std::vector<ContactPart> parts_;
  std::array<std::uint32_t, 32> touched_by_{};  // per group: those that it may touch
  double largest_gap_m_ = 0;
  bool free_bodies_left_out_ = false;
};

}  // namespace totebench::solver
