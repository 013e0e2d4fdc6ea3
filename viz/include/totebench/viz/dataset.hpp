// What goes into a result file, described without any file library. Array names carry units.
#pragma once

#include <Eigen/Core>
#include <array>
#include <string>
#include <utility>
#include <vector>

namespace totebench::viz {

// One array: a column per point or cell.
struct NamedArray {
  std::string name;
  Eigen::MatrixXd values;                    // components x count
  std::vector<std::string> component_names;  // one a row, or empty
};

// Second-order triangles with data, for a .vtu file.
struct SurfaceData {
  Eigen::Matrix3Xd points;  // m
  std::vector<std::array<int, 6>>
      triangles;  // node order of totebench/solver/mesh.hpp, which is VTK's
  std::vector<NamedArray> point_arrays;
  std::vector<NamedArray> cell_arrays;
  // Names by number for cell arrays that are labels, kept in the file as field data.
  std::vector<std::pair<std::string, std::vector<std::string>>> label_names;
};

// Loose points with data, for a .vtp file.
struct PointCloudData {
  Eigen::Matrix3Xd points;  // m
  std::vector<NamedArray> arrays;
  std::vector<std::pair<std::string, std::vector<std::string>>> label_names;
};

}  // namespace totebench::viz
