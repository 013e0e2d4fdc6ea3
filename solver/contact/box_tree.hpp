// A tree of axis-aligned boxes: which of many boxes overlap. Its shape is made once; when the boxes
// move, they are only fitted anew.
#pragma once

#include <Eigen/Geometry>
#include <algorithm>
#include <utility>
#include <vector>

namespace totebench::solver {

using Box = Eigen::AlignedBox3d;

class BoxTree {
 public:
  // Boxes near each other come to lie in one branch.
  explicit BoxTree(const std::vector<Box>& boxes);
  // As many boxes as before, in the same order.
  void fit(const std::vector<Box>& boxes);

  // Calls visit(i) for each box that overlaps `box`, touching included, in a fixed order.
  // Leaves out those at place `after` or before it in the tree; see place().
  template <typename Visit>
  void overlapping(const Box& box, Visit&& visit, int after = -1) const {
    std::size_t k = 0;
    while (k < nodes_.size()) {
      const Node& node = nodes_[k];
      if (node.last <= after || !node.box.intersects(box)) {
        k = node.next;
        continue;
      }
      if (node.item >= 0) visit(node.item);
      ++k;
    }
  }
  // Of a box among all, from left to right.
  [[nodiscard]] int place(int item) const { return place_[item]; }
  [[nodiscard]] int n_boxes() const { return static_cast<int>(place_.size()); }

 private:
  struct Node {
    Box box;
    int item = -1;         // of a leaf
    int last = 0;          // place of the last leaf below it
    std::size_t next = 0;  // the node to go to when nothing below overlaps
  };
  void build(const std::vector<Box>& boxes, std::vector<int>& items, std::size_t begin,
             std::size_t end);
  std::vector<Node> nodes_;  // a parent, its left branch, its right branch
  std::vector<int> place_;
};

using IndexPairs = std::vector<std::pair<int, int>>;

// Pairs (i, j) with boxes[i] over a box j of `tree`; or, within one tree's own boxes, each pair
// once. The same order for any number of threads. keep(i, j) says which are wanted.
template <typename Keep>
[[nodiscard]] IndexPairs overlaps(const std::vector<Box>& boxes, const BoxTree& tree, bool own,
                                  Keep&& keep) {
  constexpr std::size_t kChunk = 64;
  std::vector<IndexPairs> found((boxes.size() + kChunk - 1) / kChunk);
#pragma omp parallel for schedule(dynamic)
  for (std::size_t c = 0; c < found.size(); ++c) {
    const std::size_t end = std::min(boxes.size(), (c + 1) * kChunk);
    for (std::size_t k = c * kChunk; k < end; ++k) {
      const int i = static_cast<int>(k);
      const auto visit = [&](int j) {
        if (keep(i, j)) found[c].emplace_back(i, j);
      };
      tree.overlapping(boxes[k], visit, own ? tree.place(i) : -1);
    }
  }
  IndexPairs all;
  for (const IndexPairs& part : found) all.insert(all.end(), part.begin(), part.end());
  return all;
}

}  // namespace totebench::solver
