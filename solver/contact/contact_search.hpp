// Which points and parts, and which edges, of a surface are near each other or would meet on the
// way of a step. Results do not depend on the number of threads.
#pragma once

#include <cstdint>
#include <vector>

#include "solver/contact/box_tree.hpp"
#include "solver/contact/surface.hpp"

namespace totebench::solver {

struct NearPair {
  std::uint64_t key = 0;  // names the pair; the same in every search
  ContactPair pair;
  double beyond_m = 0;  // distance less the pair's gap
};

// Pairs are near up to a margin beyond their gap, but none that is this share or more as far beyond
// it as at the start: those are neighbours within a sheet that lies as it did.
inline constexpr double kApartShare = 0.75;
struct NearPairs {
  std::vector<NearPair> pairs;  // by rising key
  double next_m = 0;            // the least beyond_m of all others, or the margin if that is less
};

class ContactSearch {
 public:
  // The model must outlive it. Throws std::invalid_argument as ContactSurface does.
  explicit ContactSearch(const Model& model);

  [[nodiscard]] const ContactSurface& surface() const { return surface_; }
  void leave_out_free_bodies(bool left_out) {
    surface_.leave_out_free_bodies(left_out);
    listed_at_.resize(3, 0);
  }

  // x: places of the surface's points, 3 x n_points, m; here and below.
  [[nodiscard]] NearPairs near(const Eigen::Matrix3Xd& x, double margin_m);

  // A share of `step` (3 x n_points, m), at most `most`, over which no pair meets
  // (collision_free_share); pairs whose gaps the step does not reach are not looked at.
  [[nodiscard]] double free_share(const Eigen::Matrix3Xd& x, const Eigen::Matrix3Xd& step,
                                  double most);

  // Pairs of an edge and a part that it passes through: indices of triangles of the mesh (a body
  // counts as one more, after them), each pair once, by rising index. Surfaces that start apart and
  // move by free shares have none.
  [[nodiscard]] std::vector<std::pair<int, int>> crossings(const Eigen::Matrix3Xd& x);

 private:
  // Boxes around features at x and x + sweep, each wider by half its gap and half the margin.
  template <typename Features>
  [[nodiscard]] std::vector<Box> boxes(const Features& features, const Eigen::Matrix3Xd& x,
                                       const Eigen::Matrix3Xd* sweep, double margin_m) const;
  // Pairs of features by index (a point and a part, or two edges), with their distances at some
  // positions and, where it was asked for, at the start of the model.
  struct Candidates {
    PairKind kind;
    IndexPairs pairs;
    std::vector<double> distance_m;
    std::vector<double> start_m;  // unknown = NaN
  };
  // Fills `found_` with those whose boxes overlap and that may touch.
  void find_pairs(const Eigen::Matrix3Xd& x, const Eigen::Matrix3Xd* sweep, double margin_m);
  [[nodiscard]] std::array<int, 4> nodes(PairKind kind, const std::pair<int, int>& pair) const;

  // All pairs within reach_m_ of their widest gaps at x become the list.
  void list(const Eigen::Matrix3Xd& x);
  [[nodiscard]] bool is_listed(const Eigen::Matrix3Xd& x) const {
    return listed_at_.cols() == x.cols();
  }
  // Are all pairs that come within `margin_m` of their gaps in the list while no node goes further
  // than this (m, per node) from where it was listed?
  [[nodiscard]] bool lists_all(const Eigen::VectorXd& travel_m, double margin_m) const;
  // From where the nodes were listed, less what all have in common.
  [[nodiscard]] Eigen::VectorXd travel(const Eigen::Matrix3Xd& x) const;

  ContactSurface surface_;
  double least_gap_m_;
  BoxTree parts_;  // fitted anew at every search
  BoxTree edges_;
  std::array<Candidates, 2> found_;  // last: point and part, edge and edge

  // The list is made when the boxes have to be searched, and serves until the nodes have travelled
  // too far: most steps are far shorter than a part is wide.
  double reach_m_;
  std::array<Candidates, 2> listed_;
  Eigen::Matrix3Xd listed_at_;
};

}  // namespace totebench::solver
