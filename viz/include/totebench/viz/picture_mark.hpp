// What is to be looked at twice in the picture of a bag.
#pragma once

#include <Eigen/Core>
#include <string>

namespace totebench::viz {

struct PictureMark {
  std::string words;     // told below the bag
  Eigen::Vector3d at_m;  // where on the loaded bag
};

}  // namespace totebench::viz
