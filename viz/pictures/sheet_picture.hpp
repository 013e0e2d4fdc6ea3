// The picture of a sheet: where it started as an outline, where it ended coloured by how far each
// point has moved, both in one place and at one scale, nothing exaggerated.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "totebench/solver/mesh.hpp"
#include "totebench/viz/picture.hpp"

namespace totebench::viz {

struct SheetView {
  const solver::ShellMesh& mesh;  // its positions are the start
  const Eigen::Matrix3Xd& loaded_x_m;
  const std::vector<int>& probe_nodes;
  const std::vector<std::string>& probe_names;
  std::string units;
  std::string title;
  bool converged = true;
  // Per probe where it was at each computed load step; empty = its start and its end are joined.
  std::vector<Eigen::Matrix3Xd> probe_ways_m = {};
};

[[nodiscard]] Picture sheet_picture(const SheetView& view);

}  // namespace totebench::viz
