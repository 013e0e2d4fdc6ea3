// Does an edge pass through a flat part?
#pragma once

#include <Eigen/Core>

namespace totebench::solver {

// Columns: the ends of the edge, then the corners of the part. True where the edge goes through
// the part's inside; touching its border or lying in its plane is left open.
[[nodiscard]] bool edge_passes_through(const Eigen::Matrix<double, 3, 5>& points);

}  // namespace totebench::solver
