#include "solver/contact/box_tree.hpp"

#include <algorithm>
#include <numeric>

namespace totebench::solver {

BoxTree::BoxTree(const std::vector<Box>& boxes) : place_(boxes.size()) {
  std::vector<int> items(boxes.size());
  std::iota(items.begin(), items.end(), 0);
  nodes_.reserve(2 * boxes.size());
  if (!boxes.empty()) build(boxes, items, 0, items.size());
  fit(boxes);
}

void BoxTree::build(const std::vector<Box>& boxes, std::vector<int>& items, std::size_t begin,
                    std::size_t end) {
  const std::size_t self = nodes_.size();
  nodes_.emplace_back();
  nodes_[self].last = static_cast<int>(end) - 1;
  if (end - begin == 1) {
    nodes_[self].item = items[begin];
    place_[items[begin]] = static_cast<int>(begin);
  } else {
    Box centres;
    for (std::size_t i = begin; i < end; ++i) centres.extend(boxes[items[i]].center());
    Eigen::Index axis = 0;
    centres.sizes().maxCoeff(&axis);
    const std::size_t middle = begin + (end - begin) / 2;
    const auto at = [&](std::size_t i) { return items.begin() + static_cast<std::ptrdiff_t>(i); };
    std::nth_element(at(begin), at(middle), at(end), [&](int a, int b) {
      const double ca = boxes[a].center()[axis];
      const double cb = boxes[b].center()[axis];
      return ca != cb ? ca < cb : a < b;
    });
    build(boxes, items, begin, middle);
    build(boxes, items, middle, end);
  }
  nodes_[self].next = nodes_.size();
}

void BoxTree::fit(const std::vector<Box>& boxes) {
  for (std::size_t k = nodes_.size(); k-- > 0;) {
    Node& node = nodes_[k];
    node.box = node.item >= 0 ? boxes[node.item]
                              : nodes_[k + 1].box.merged(nodes_[nodes_[k + 1].next].box);
  }
}

}  // namespace totebench::solver
