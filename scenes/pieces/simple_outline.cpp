#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_2_algorithms.h>

#include "scenes/pieces/drawing.hpp"

namespace totebench::scenes {

bool is_simple(const std::vector<Eigen::Vector2d>& outline) {
  using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
  std::vector<Kernel::Point_2> points;
  points.reserve(outline.size());
  for (const Eigen::Vector2d& p : outline) points.emplace_back(p.x(), p.y());
  return CGAL::is_simple_2(points.begin(), points.end(), Kernel());
}

}  // namespace totebench::scenes
